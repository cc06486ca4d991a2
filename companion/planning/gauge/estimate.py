"""One gauge from all observations of it: ball band, swatch, and every check on the knitting.

Each is an observation with an error of its own. They are combined by inverse variance, so that the surest counts
most; where checks disagree by more than their errors explain, the error grows with the disagreement (R. T. Birge,
Physical Review 40, 1932, 207). Gauge that clearly drifts is treated apart, and then its recent value counts.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from ..frozen_model import FrozenModel
from ..units import in_tenths
from .check import Check
from .observations import (
    GIVE_OR_TAKE,
    SOURCE_NAMES,
    Assumed,
    Evidence,
    GaugeObservation,
    What,
    listed,
    on_needle,
    per_10cm,
    seen_in,
    spread_of,
)
from .statistics import joined, line, wandering
from .steps import WANDERS, believed

DRIFTS = 3.0
"""Deviations that a trend over the rounds must have to be one (ours)."""

DISBELIEVED = 2.0
"""Deviations beyond which what was assumed is not of this fabric, and is set aside (ours)."""


UNEVEN = 0.03
"""How much spots may differ before it is said: one deviation, as a part of the gauge, three times the usual (ours)."""


class Estimate(FrozenModel):
    """What all the evidence says of stitches or rounds over 10 cm.

    `deviation` is one deviation; the true gauge may well lie between `low` and `high`. `drifting` says that the
    gauge changes as the knitting goes on and that the number is the recent one, `uneven` that the spots of a check
    differ from one another by more than even knitting does.
    """

    per_10cm: float
    deviation: float
    drifting: bool = False
    uneven: bool = False
    counted: bool = False
    seen: tuple[GaugeObservation, ...]
    why: str

    @property
    def give_or_take(self) -> float:
        """How far off the true gauge may well be, per 10 cm."""
        return GIVE_OR_TAKE * self.deviation

    @property
    def low(self) -> float:
        """The loosest that the gauge may well be."""
        return self.per_10cm - self.give_or_take

    @property
    def high(self) -> float:
        """The tightest that the gauge may well be."""
        return self.per_10cm + self.give_or_take

    @property
    def error(self) -> float:
        """One deviation as a part of the gauge."""
        return self.deviation / self.per_10cm


class Gauges(FrozenModel):
    """The estimates of stitches and rounds, on the needle now in use."""

    stitches: Estimate
    rounds: Estimate

    def both(self) -> tuple[tuple[What, Estimate], ...]:
        """Each kind with its estimate."""
        return ("stitches", self.stitches), ("rounds", self.rounds)


class When(NamedTuple):
    """What an estimate is for: the needle in use, and a round of the pair; None for that of the newest check."""

    needle_mm: float | None = None
    round: int | None = None


NEWEST = When()
"""The newest check, all on one needle."""


def gauges_of(evidence: Sequence[Evidence], needle_mm: float | None = None) -> Gauges:
    """Stitches and rounds from all the evidence, for the needle in use. One assumption has to be among it."""
    checks = [item for item in evidence if isinstance(item, Check)]
    counts = believed(checks, needle_mm)
    aside = [item for item in checks if not any(item is one for one in counts)]
    return gauges_from(evidence, counts, When(needle_mm), aside)


def gauges_from(
    evidence: Sequence[Evidence], counts: Sequence[Check], when: When, aside: Sequence[Check] = ()
) -> Gauges:
    """The same from what was assumed in the evidence, and from the checks that count."""
    used: list[Evidence] = [*(item for item in evidence if isinstance(item, Assumed)), *counts]
    stitches = estimate(used, "stitches", when, aside=aside)
    rounds = estimate(used, "rounds", when, calculated_from=stitches, aside=aside)
    return Gauges(stitches=stitches, rounds=rounds)


def estimate(
    evidence: Sequence[Evidence],
    what: What,
    when: When = NEWEST,
    calculated_from: Estimate | None = None,
    aside: Sequence[Check] = (),
) -> Estimate:
    """One estimate from all the evidence; what is set `aside` is seen, but does not count.

    Rounds that were never assumed are calculated from the estimate of the stitches. Raises ValueError where nothing
    speaks of the gauge at all.
    """
    known = (calculated_from.per_10cm, calculated_from.deviation) if calculated_from else None
    checks = _one_for_each_place([item for item in evidence if isinstance(item, Check)])
    spread = spread_of([item.spots(what) for item in checks])
    prior = _seen([item for item in evidence if isinstance(item, Assumed)], what, spread, known, when.needle_mm)
    found = _seen(checks, what, spread, known, when.needle_mm)
    if not found and not prior:
        raise ValueError("no evidence speaks of the gauge")
    if not found:
        value, deviation = _mean(prior)
        return Estimate(per_10cm=value, deviation=deviation, seen=tuple(prior), why=prior[0].why)
    trend = _trend(found, when.round)
    if trend:
        value, deviation = trend
        prior = [_without_weight(seen) for seen in prior]
    else:
        value, deviation = _as_of(found, when.round)
        prior = _set_far_ones_aside(prior, value, deviation)
        value, deviation = joined([(value, deviation), *[_pair(seen) for seen in prior if seen.counts]])
    result = f"{per_10cm(value)}, give or take {in_tenths(GIVE_OR_TAKE * deviation)}"
    return Estimate(
        per_10cm=value,
        deviation=deviation,
        drifting=bool(trend),
        uneven=spread > UNEVEN,
        counted=True,
        seen=(*prior, *map(_without_weight, _seen(aside, what, spread, None, when.needle_mm)), *found),
        why=_drifting(what, found, result) if trend else _together(prior, found, result),
    )


def _one_for_each_place(checks: Sequence[Check]) -> list[Check]:
    """The checks, those after the same round on the same needle and fabric as one with the spots of all of them."""
    places: dict[object, Check] = {}
    for number, check in enumerate(checks):
        place = number if check.round is None else (check.round, check.needle_mm, check.ratio)
        earlier = places.get(place)
        places[place] = _together_at(earlier, check) if earlier else check
    return list(places.values())


def _together_at(one: Check, other: Check) -> Check:
    kinds = ("stitches", "rounds", "tape")
    return other.model_copy(update={kind: getattr(one, kind) + getattr(other, kind) for kind in kinds})


def _seen(
    items: Sequence[Evidence], what: What, spread: float, known: tuple[float, float] | None, needle_mm: float | None
) -> list[GaugeObservation]:
    """What items of the evidence say, each on the needle in use."""
    return [on_needle(seen, item.needle_mm, needle_mm) for item in items for seen in seen_in(item, what, spread, known)]


def _set_far_ones_aside(prior: Sequence[GaugeObservation], value: float, deviation: float) -> list[GaugeObservation]:
    """What was assumed, of which what is too far from what was counted does not count."""
    off = [abs(seen.per_10cm - value) > DISBELIEVED * math.hypot(seen.deviation, deviation) for seen in prior]
    return [seen.model_copy(update={"counts": not far}) for seen, far in zip(prior, off, strict=True)]


def _without_weight(seen: GaugeObservation) -> GaugeObservation:
    return seen.model_copy(update={"counts": False})


def _pair(seen: GaugeObservation) -> tuple[float, float]:
    return seen.per_10cm, seen.deviation


def _mean(prior: Sequence[GaugeObservation]) -> tuple[float, float]:
    """The mean of what was assumed, less sure where it disagrees by more than its errors."""
    return _scaled(*wandering([(0, *_pair(one)) for one in prior], 0.0), len(prior))


def _as_of(found: Sequence[GaugeObservation], at: int | None) -> tuple[float, float]:
    """What the checks say of the gauge at a round, or at the newest of them: less the further from it they are.

    Less sure where they disagree by more than their errors. What was counted before and after a round is combined:
    the fixed-interval smoother of D. C. Fraser and J. E. Potter, IEEE Trans. Automatic Control 14 (1969) 387.
    """
    points = [(float(one.round or 0), *_pair(one)) for one in found]
    strays = WANDERS * points[0][1] / 10
    earlier = [point for point in points if at is None or point[0] <= at]
    later = [(-where, value, deviation) for where, value, deviation in points if at is not None and where > at]
    sides = [wandering(side, strays) for side in (earlier, later) if side]
    if len(sides) == 1:
        return _scaled(*sides[0], len(found))
    value, deviation, misfit = sides[1]
    gap = -max(where for where, _, _ in later) - (at or 0)
    sides[1] = value, math.hypot(deviation, strays * math.sqrt(gap)), misfit
    return _scaled(*joined([side[:2] for side in sides]), sum(side[2] for side in sides), len(found) - 1)


def _scaled(value: float, deviation: float, misfit: float, count: int) -> tuple[float, float]:
    return value, deviation * math.sqrt(max(1.0, misfit / max(1, count - 1)))


def _trend(found: Sequence[GaugeObservation], at: int | None) -> tuple[float, float] | None:
    """The value of a clear trend at a round or at the newest check, and its deviation; None where there is none.

    Weighted least squares of a line; the error of its value at a round is that of the line's two parameters.
    """
    dated = [(one.round, *_pair(one)) for one in found if one.round is not None]
    trend = line(dated)
    if trend is None or abs(trend.slope) * math.sqrt(trend.across) <= DRIFTS:
        return None
    ahead = (max(where for where, _, _ in dated) if at is None else at) - trend.middle
    return trend.level + trend.slope * ahead, math.sqrt(1 / trend.total + ahead**2 / trend.across)


def _drifting(what: What, found: Sequence[GaugeObservation], result: str) -> str:
    first, last = (end(found, key=lambda one: one.round or 0) for end in (min, max))
    turned = "tighter" if last.per_10cm > first.per_10cm else "looser"
    return f"The {what} get {turned} as you go on, so the newest count: {result}."


def _together(prior: Sequence[GaugeObservation], found: Sequence[GaugeObservation], result: str) -> str:
    names = [SOURCE_NAMES[one.kind] for one in prior if one.counts]
    names.append(f"{len(found)} checks" if len(found) > 1 else "the check")
    most = "the surest and newest" if len({one.round for one in found}) > 1 else "the surest"
    how = f", {most} counting most" if len(found) + sum(one.counts for one in prior) > 1 else ""
    aside = [SOURCE_NAMES[one.kind] for one in prior if not one.counts]
    left = f" {listed(aside).capitalize()} is too far off to be of this fabric, and left out." if aside else ""
    return f"From {listed(names)}{how}: {result}.{left}"
