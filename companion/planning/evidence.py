"""One gauge from everything that speaks of it: ball band, swatch, and every check on the knitting.

Each is an observation with an error of its own. They are combined by inverse variance, so that the surest counts
most; where checks disagree by more than their errors explain, the error grows with the disagreement (R. T. Birge,
Physical Review 40, 1932, 207). Gauge that clearly drifts is told apart, and then its recent value counts.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from .check import Check
from .document import Value
from .observed import (
    GIVE_OR_TAKE,
    SOURCE_NAMES,
    Assumed,
    Evidence,
    Seen,
    What,
    listed,
    on_needle,
    per_10cm,
    seen_in,
    spread_of,
)
from .weighted import joined, line, wandering

DRIFTS = 3.0
"""Deviations that a trend over the rounds must have to be one (ours)."""

SET_ASIDE = 2.0
"""Deviations beyond which what was assumed is not of this fabric, and is set aside (ours)."""


UNEVEN = 0.03
"""How much spots may differ before it is said: one deviation, as a part of the gauge, three times the usual (ours)."""

WANDERS = 0.01
"""How far a gauge wanders in 100 rounds: one deviation, as a part of it, growing with the root of the rounds (ours).

Hands change from week to week, so an old check says less of the rounds to come than a new one.
"""


class Estimate(Value):
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
    seen: tuple[Seen, ...]
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


class Gauges(Value):
    """The estimates of stitches and rounds, on the needle now in use."""

    stitches: Estimate
    rounds: Estimate


def gauges_of(evidence: Sequence[Evidence], needle_mm: float | None = None) -> Gauges:
    """Stitches and rounds from all the evidence, for the needle in use. One assumption has to be among it."""
    stitches = estimate(evidence, "stitches", needle_mm)
    return Gauges(stitches=stitches, rounds=estimate(evidence, "rounds", needle_mm, reckoned_from=stitches))


def estimate(
    evidence: Sequence[Evidence],
    what: What,
    needle_mm: float | None = None,
    reckoned_from: Estimate | None = None,
) -> Estimate:
    """One estimate from all the evidence.

    Rounds that were never assumed are reckoned from the estimate of the stitches. Raises ValueError where nothing
    speaks of the gauge at all.
    """
    known = (reckoned_from.per_10cm, reckoned_from.deviation) if reckoned_from else None
    checks = [item for item in evidence if isinstance(item, Check)]
    spread = spread_of([item.spots(what) for item in checks])
    told, found = (
        [
            on_needle(seen, item.needle_mm, needle_mm)
            for item in evidence
            if isinstance(item, kind)
            for seen in seen_in(item, what, spread, known)
        ]
        for kind in (Assumed, Check)
    )
    if not found and not told:
        raise ValueError("no evidence speaks of the gauge")
    if not found:
        value, deviation = _mean(told)
        return Estimate(per_10cm=value, deviation=deviation, seen=tuple(told), why=told[0].why)
    trend = _trend(found)
    if trend:
        value, deviation = trend
        told = [seen.model_copy(update={"counts": False}) for seen in told]
    else:
        value, deviation = _as_of_now(found)
        off = [abs(seen.per_10cm - value) > SET_ASIDE * math.hypot(seen.deviation, deviation) for seen in told]
        told = [seen.model_copy(update={"counts": not far}) for seen, far in zip(told, off, strict=True)]
        value, deviation = joined([(value, deviation), *[_pair(seen) for seen in told if seen.counts]])
    result = f"{per_10cm(value)}, give or take {GIVE_OR_TAKE * deviation:.1f}"
    return Estimate(
        per_10cm=value,
        deviation=deviation,
        drifting=bool(trend),
        uneven=spread > UNEVEN,
        counted=True,
        seen=(*told, *found),
        why=_drifting(what, found, result) if trend else _together(told, found, result),
    )


def _pair(seen: Seen) -> tuple[float, float]:
    return seen.per_10cm, seen.deviation


def _mean(told: Sequence[Seen]) -> tuple[float, float]:
    """The mean of what was assumed, less sure where it disagrees by more than its errors."""
    return _scaled(*wandering([(0, *_pair(one)) for one in told], 0.0), len(told))


def _as_of_now(found: Sequence[Seen]) -> tuple[float, float]:
    """What the checks say of the gauge at the newest of them: less the older they are, as hands change.

    Less sure where they disagree by more than their errors.
    """
    points = [(one.round or 0, *_pair(one)) for one in found]
    return _scaled(*wandering(points, WANDERS * points[0][1] / 10), len(found))


def _scaled(value: float, deviation: float, misfit: float, count: int) -> tuple[float, float]:
    return value, deviation * math.sqrt(max(1.0, misfit / max(1, count - 1)))


def _trend(found: Sequence[Seen]) -> tuple[float, float] | None:
    """The value of a clear trend at the newest check, and its deviation; None where there is none.

    Weighted least squares of a line; the error of its value at a round is that of the line's two parameters.
    """
    dated = [(one.round, *_pair(one)) for one in found if one.round is not None]
    trend = line(dated)
    if trend is None or abs(trend.slope) * math.sqrt(trend.across) <= DRIFTS:
        return None
    ahead = max(at for at, _, _ in dated) - trend.middle
    return trend.level + trend.slope * ahead, math.sqrt(1 / trend.total + ahead**2 / trend.across)


def _drifting(what: What, found: Sequence[Seen], result: str) -> str:
    first, last = (end(found, key=lambda one: one.round or 0) for end in (min, max))
    turned = "tighter" if last.per_10cm > first.per_10cm else "looser"
    return f"The {what} get {turned} as you go on, so the newest count: {result}."


def _together(told: Sequence[Seen], found: Sequence[Seen], result: str) -> str:
    names = [SOURCE_NAMES[one.kind] for one in told if one.counts]
    names.append(f"{len(found)} checks" if len(found) > 1 else "the check")
    most = "the surest and newest" if len({one.round for one in found}) > 1 else "the surest"
    how = f", {most} counting most" if len(found) + sum(one.counts for one in told) > 1 else ""
    aside = [SOURCE_NAMES[one.kind] for one in told if not one.counts]
    left = f" {listed(aside).capitalize()} is too far off to be of this fabric, and left out." if aside else ""
    return f"From {listed(names)}{how}: {result}.{left}"
