"""The result of a check as its page says it: each number with the sum behind it. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from markupsafe import Markup

from ...drawings.fabric_preview import FabricPreview, fabric_preview
from ...drawings.gauge_band import Band, band_svg
from ...planning import Plan
from ...planning.gauge.estimate import Estimate
from ...planning.gauge.observations import INCHES_4, SOURCE_NAMES, What, range_per_10cm
from ...planning.recalculation.answer import WayAnswer, answer_of, gauge_shown
from ...planning.recalculation.fabric_to_count import over_shown
from ...planning.recalculation.figures import PlanFigures
from ...planning.recalculation.misfits import misfits
from ...planning.recalculation.recalculate import Recalculation
from ...planning.recalculation.sums import SizeSums, ripped_sum, size_sums
from ...planning.units import Unit, in_tenths, show_length
from ...words import day_words
from ..lengths import SINCE_WORDS, lengths_as_checks
from ..logbook import Entry
from ..remarks import Length
from ..state import SockPosition
from .check_result import CheckResult
from .checks import KeptCheck
from .counted_on import fabric_counted


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
    seen: Sequence[str]
    plot: Markup
    marks: Sequence[str]


@dataclass(frozen=True)
class OptionShown:
    """A way to go on in a few lines, how its pattern looks, and the sums behind its numbers."""

    way: WayAnswer
    preview: FabricPreview | None
    sizes: SizeSums
    off: Sequence[tuple[str, str]]
    ripped: str | None
    yarn: Sequence[tuple[str, str]]


@dataclass(frozen=True)
class CountAgain:
    """The short form for counting again: at how many places, over which lengths, as its fields have them."""

    places: int
    over: Mapping[What, str]


def shown(result: CheckResult, unit: Unit) -> dict[str, Any]:
    """Everything that the page says, in the knitter's unit."""
    position = result.position
    found, faults = result.found_or_fault()
    answer = answer_of(found, position.plan, position.done, unit) if found else None
    recommended = _option(result, answer.recommended, unit) if answer and answer.recommended else None
    others = [_option(result, way, unit) for way in answer.others] if answer else []
    return {
        "pair_title": result.pair.title,
        "sock": position.sock,
        "round": position.done,
        "place": position.in_words(),
        "unit": unit,
        "basis": result.basis,
        "faults": faults,
        "result": found,
        "answer": answer,
        "recommended": recommended,
        "others": others,
        "sized": recommended or next((one for one in others if one.way.option.key == "leave"), None),
        "again": _again(found, unit) if found else None,
        "gauges": _gauges(found, unit) if found else [],
        "kept": [*_checks(result, unit), *_lengths(result, unit)],
    }


def _again(found: Recalculation, unit: Unit) -> CountAgain | None:
    measure = found.measure
    if measure is None or measure.after_round is not None:
        return None
    over: dict[What, float] = {"stitches": measure.stitches_over_cm, "rounds": measure.rounds_over_cm}
    return CountAgain(
        places=max(measure.stitch_spots, measure.round_spots),
        over={what: over_shown(cm, unit) for what, cm in over.items()},
    )


def _checks(result: CheckResult, unit: Unit) -> Iterator[dict[str, Any]]:
    for one in result.checks:
        counted, plan = _counted(one.check.model_dump(), unit), result.pair.plan(one.sock)
        fabric = fabric_counted(one.check, plan, one.round)
        yield _kept(one, plan, counted, counts=one.id not in result.miscounts, fabric=fabric)


def _lengths(result: CheckResult, unit: Unit) -> Iterator[dict[str, Any]]:
    for entry in result.lengths:
        length = Length.model_validate(entry.data)
        counted = f"{show_length(length.cm, unit)} long from {SINCE_WORDS[length.since]}"
        plan = result.pair.plan(entry.sock)
        yield _kept(entry, plan, [counted], counts=bool(lengths_as_checks(plan, [entry])))


def _kept(one: KeptCheck | Entry, plan: Plan, counted: list[str], *, counts: bool, fabric: str = "") -> dict[str, Any]:
    """A line of what was counted and measured, and the fabric that it was counted on where a sock has two."""
    return {
        "id": one.id,
        "day": day_words(datetime.fromisoformat(one.at)),
        "place": ", ".join(filter(None, [SockPosition(one.sock, plan, one.round).behind(), fabric])),
        "counted": counted,
        "counts": counts,
    }


def _gauges(found: Recalculation, unit: Unit) -> list[GaugeShown]:
    planned = dict(found.planned.both())
    estimates: dict[What, Estimate] = {"stitches": found.gauges.stitches, "rounds": found.gauges.rounds}
    factor, over = (1.0, "10 cm") if unit == "cm" else (INCHES_4, "4 in")
    return [
        GaugeShown(
            what=what,
            number=gauge_shown(estimate.per_10cm, unit),
            give=in_tenths(estimate.give_or_take * factor),
            over=over,
            counted=estimate.counted,
            drifting=estimate.drifting,
            why=f"{estimate.why.removesuffix('.')}.",
            within=f"So they lie between {range_per_10cm(estimate.low, estimate.high)}; planned are "
            f"{gauge_shown(planned[what], unit)}.",
            seen=[f"{seen.why}." for seen in estimate.seen],
            plot=band_svg(Band(what, estimate, planned[what], factor, over)),
            marks=_marks(estimate),
        )
        for what, estimate in estimates.items()
    ]


def _marks(estimate: Estimate) -> list[str]:
    """What the marks in the plot mean."""
    kinds = {seen.kind for seen in estimate.seen}
    sources = [SOURCE_NAMES[kind] for kind in SOURCE_NAMES if kind in kinds and kind != "stitches"]
    return [
        *([f"a square is {' or '.join(sources)}"] if sources else []),
        *(["a dot is a check"] if "check" in kinds else []),
        *(["a triangle is a length by tape"] if "tape" in kinds else []),
    ]


def _option(result: CheckResult, way: WayAnswer, unit: Unit) -> OptionShown:
    position, option = result.position, way.option
    return OptionShown(
        way=way,
        # On another needle every stitch stays.
        preview=None if option.key == "needle" else fabric_preview(position.plan, option.plan, option.done),
        sizes=size_sums(option.plan, option.sizes, option.ranges),
        off=[
            (f"{one.part.capitalize()} {one.in_words(unit)}", one.sum(unit))
            for one in misfits(position.plan, position.done, option.sizes)
        ],
        ripped=ripped_sum(position.plan, position.done, option) if option.rounds_ripped else None,
        yarn=[
            (f"{figure.what}: {figure.value}", figure.sum())
            for figure in PlanFigures(option.plan, option.sizes).yarns()
        ],
    )


def _counted(check: dict[str, Any], unit: Unit) -> list[str]:
    """What a check says, spot by spot."""
    return [
        f"{spot['count']:g} {what} over {show_length(spot['over_cm'], unit)}"
        for what in ("stitches", "rounds")
        for spot in check[what]
    ]
