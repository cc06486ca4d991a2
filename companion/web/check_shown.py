"""The page of a recalculation: each number with the sum behind it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from markupsafe import Markup

from ..kept_checks import KeptCheck
from ..lengths import SINCE_WORDS, lengths_as_checks
from ..logbook import Entry
from ..planning.evidence import Estimate
from ..planning.facts import Numbers
from ..planning.fit import fit_of
from ..planning.observed import INCHES_4, SOURCE_NAMES, What, per_10cm, range_per_10cm
from ..planning.options import Option
from ..planning.recalculation import Recalculation
from ..planning.sums import SizeSums, ripped_sum, size_sums
from ..planning.units import Unit, show_length
from ..remarks import Length
from .check_result import CheckResult
from .days import day_words
from .gauge_band import Band, band_svg


@dataclass(frozen=True)
class GaugeShown:
    """Stitches or rounds: the number over the knitter's length, the plot, and the sum behind it."""

    what: What
    number: str
    give: str
    over: str
    counted: bool
    drifting: bool
    why: str
    within: str
    told: Sequence[str]
    plot: Markup
    marks: Sequence[str]


@dataclass(frozen=True)
class OptionShown:
    """A way to go on with the sums behind its numbers; `minutes` for what is knitted again, None without a pace."""

    option: Option
    sizes: SizeSums
    ripped: str | None
    minutes: str | None
    yarn: Sequence[tuple[str, str]]


def shown(result: CheckResult, unit: Unit) -> dict[str, Any]:
    """Everything that the page says, in the knitter's unit."""
    place = result.place
    found, faults = result.found_or_fault()
    return {
        "pair_title": result.pair.pair.title,
        "sock": place.sock,
        "round": place.done,
        "place": place.in_words(),
        "unit": unit,
        "basis": result.basis,
        "faults": faults,
        "result": found,
        "gauges": _gauges(result, found, unit) if found else [],
        "unchanged": size_sums(place.plan, found.if_unchanged, found.ranges) if found else None,
        "options": [_option(result, one) for one in _in_order(found)] if found else [],
        "kept": [*_checks(result, unit), *_lengths(result, unit)],
    }


def _checks(result: CheckResult, unit: Unit) -> Iterator[dict[str, Any]]:
    for one in result.checks:
        counted = _counted(one.check.model_dump(), unit)
        yield _kept(one, counted, left_out=one.left_out, counts=one.id not in result.miscounts)


def _lengths(result: CheckResult, unit: Unit) -> Iterator[dict[str, Any]]:
    for entry, left_out in result.lengths:
        length = Length.model_validate(entry.data)
        counted = f"{show_length(length.cm, unit)} long from {SINCE_WORDS[length.since]}"
        counts = bool(lengths_as_checks(result.pair.plan(entry.sock), [entry]))
        yield _kept(entry, [counted], left_out=left_out, counts=counts)


def _kept(one: KeptCheck | Entry, counted: list[str], *, left_out: bool, counts: bool) -> dict[str, Any]:
    """A line of what was counted and measured."""
    return {
        "id": one.id,
        "day": day_words(datetime.fromisoformat(one.at)),
        "place": f"Sock {one.sock}, round {one.round}",
        "counted": counted,
        "counts": counts,
        "left_out": left_out,
    }


def _in_order(found: Recalculation) -> list[Option]:
    """The options, the recommended one first."""
    return sorted(found.options, key=lambda one: not one.recommended)


def _gauges(result: CheckResult, found: Recalculation, unit: Unit) -> list[GaugeShown]:
    fabric = fit_of(result.place.plan.request).fabric
    planned: dict[What, float] = {"stitches": fabric.stitches * 10, "rounds": fabric.rounds * 10}
    estimates: dict[What, Estimate] = {"stitches": found.gauges.stitches, "rounds": found.gauges.rounds}
    factor, over = (1.0, "10 cm") if unit == "cm" else (INCHES_4, "4 in")
    return [
        GaugeShown(
            what=what,
            number=f"{estimate.per_10cm * factor:.1f}",
            give=f"{estimate.give_or_take * factor:.1f}",
            over=over,
            counted=estimate.counted,
            drifting=estimate.drifting,
            why=f"{estimate.why.removesuffix('.')}.",
            within=f"So they lie between {range_per_10cm(estimate.low, estimate.high)}; planned are "
            f"{per_10cm(planned[what])}.",
            told=[f"{seen.why}." for seen in estimate.seen],
            plot=band_svg(Band(what, estimate, planned[what], factor, over)),
            marks=_marks(estimate),
        )
        for what, estimate in estimates.items()
    ]


def _marks(estimate: Estimate) -> list[str]:
    """What the marks in the plot mean."""
    kinds = {seen.kind for seen in estimate.seen}
    told = [SOURCE_NAMES[kind] for kind in SOURCE_NAMES if kind in kinds and kind != "stitches"]
    return [
        *([f"a square is {' or '.join(told)}"] if told else []),
        *(["a dot is a check"] if "check" in kinds else []),
        *(["a triangle is a length by tape"] if "tape" in kinds else []),
    ]


def _option(result: CheckResult, option: Option) -> OptionShown:
    place = result.place
    return OptionShown(
        option=option,
        sizes=size_sums(option.plan, option.sizes, option.ranges),
        ripped=ripped_sum(place.plan, place.done, option) if option.rounds_ripped else None,
        minutes=None if option.seconds is None else _time(option.seconds),
        yarn=[(f"{fact.what}: {fact.value}", fact.sum()) for fact in Numbers(option.plan, option.sizes).yarns()],
    )


def _time(seconds: float) -> str:
    """About how long: to five minutes, and from an hour on to a quarter of one."""
    minutes = max(1, round(seconds / 60))
    if minutes < 60:
        return f"about {minutes if minutes < 10 else 5 * round(minutes / 5)} min"
    quarters = round(minutes / 15)
    return f"about {quarters // 4} h{['', ' 15 min', ' 30 min', ' 45 min'][quarters % 4]}"


def _counted(check: dict[str, Any], unit: Unit) -> list[str]:
    """What a check says, spot by spot."""
    return [
        f"{spot['count']:g} {what} over {show_length(spot['over_cm'], unit)}"
        for what in ("stitches", "rounds")
        for spot in check[what]
    ]
