"""Observations of a gauge, one at a time: ball band, swatch, counted spots, a length by tape."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import Literal, TypeAlias

from ..fit.targets import fit_of
from ..frozen_model import FrozenModel
from ..request.plan_request import ROUNDS_PER_STITCH, Basis, PlanRequest
from ..units import CM_PER_INCH, both_units, in_tenths
from .check import Check, Ratio, Spot, Stretch
from .statistics import Observation

What: TypeAlias = Literal["stitches", "rounds"]
Kind: TypeAlias = Literal["ball band", "swatch", "measured", "kind", "stitches", "check", "tape"]

Source: TypeAlias = Basis | Literal["kind"]
"""Where an assumed gauge comes from; that of a stitch pattern may be known by its kind alone."""

SOURCE_ERROR: dict[Source, float] = {"ball band": 0.07, "swatch": 0.03, "measured": 0.02, "kind": 0.07}
"""How far each kind of source usually is from what will be knitted: one deviation, as a part of the gauge.

These are ours: a ball band speaks of other hands and needles, a swatch of other rows on other days, and what was
measured on an earlier piece of other days.
"""

SOURCE_NAMES: dict[str, str] = {
    "ball band": "the ball band",
    "swatch": "the swatch",
    "measured": "an earlier piece",
    "kind": "the pattern's kind",
    "stitches": "the stitches",
}

COUNTING_ERROR = 0.29
"""One deviation of a count that is read to the nearest whole, in stitches: half a stitch either way, 1 / sqrt(12)."""

TAPE_ERROR_CM = 0.25
"""One deviation of a length that is taken by tape on soft fabric (ours)."""

RATIO_ERROR = 0.05
"""One deviation of rounds only calculated from the stitches, as a part of them (ours: 1.25 to 1.45 is usual)."""

FABRIC_SPREAD = 0.01
"""How much the gauge of even knitting differs from spot to spot: one deviation, as a part of it (ours).

Two or three spots that happen to agree do not make a fabric evener than that.
"""

SPREAD_WORTH = 4
"""The usual spread counts as much as this many spots, and a fabric's own spread takes over with more (ours)."""

NEEDLE_STEP_MM = 0.25
"""Needles of sock sizes are sold in these steps (common practice)."""

STEP_MOVES, STEP_ERROR = 0.05, 0.02
"""What one needle step moves the gauge by, and one deviation of it, as parts of it: common practice.

The yarn industry's weight classes move by 4 to 6 % a step at sock sizes. A check has to confirm it.
"""

GIVE_OR_TAKE = 2.0
"""Deviations within which the true gauge may well lie: about one estimate in twenty falls outside by chance."""

INCHES_4 = 4 * CM_PER_INCH / 10
"""Four inches in units of 10 cm, the lengths that gauge is counted over (common practice)."""


KEPT = 1024
"""Counts whose sums are kept: the estimates of one recalculation look at the same ones over and over."""


class AssumedPattern(FrozenModel):
    """What the sock was planned with of a stitch pattern: over 10 cm, for each of plain knitting, and if `counted`."""

    stitches_per_10cm: float
    rounds_per_10cm: float
    stitches_ratio: float
    rounds_ratio: float
    counted: bool

    def alone(self, plain: Assumed) -> Assumed:
        """The gauge that was assumed of the pattern, beside that of plain knitting."""
        return Assumed(
            basis=plain.basis if self.counted else "kind",
            stitches_per_10cm=self.stitches_per_10cm,
            rounds_per_10cm=self.rounds_per_10cm,
            needle_mm=plain.needle_mm,
        )


class Assumed(FrozenModel):
    """The gauge that the sock was planned with, and where it came from. Rounds may be unknown.

    `pattern` is that of the stitch pattern of its leg.
    """

    basis: Source
    stitches_per_10cm: float
    rounds_per_10cm: float | None = None
    needle_mm: float | None = None
    pattern: AssumedPattern | None = None


Evidence: TypeAlias = Assumed | Check


class GaugeObservation(FrozenModel):
    """One observation of the gauge over 10 cm, with the sum behind it. `round` is when; None for an assumption."""

    kind: Kind
    round: int | None
    per_10cm: float
    deviation: float
    counts: bool = True
    why: str

    @property
    def give_or_take(self) -> float:
        """How far off it may well be, per 10 cm."""
        return GIVE_OR_TAKE * self.deviation


def assumed(request: PlanRequest) -> Assumed:
    """What a request assumes, as evidence."""
    gauge = request.gauge
    return Assumed(
        basis=gauge.basis,
        stitches_per_10cm=gauge.stitches_per_10cm,
        rounds_per_10cm=gauge.rounds_per_10cm,
        needle_mm=request.needles.size_mm,
        pattern=_assumed_pattern(request),
    )


def _assumed_pattern(request: PlanRequest) -> AssumedPattern | None:
    pattern, leg = request.leg.stitch_pattern, fit_of(request).leg
    if pattern is None:
        return None
    return AssumedPattern(
        stitches_per_10cm=leg.fabric.stitches * 10,
        rounds_per_10cm=leg.fabric.rounds * 10,
        stitches_ratio=leg.fabric.stitches / leg.plain.stitches,
        rounds_ratio=leg.fabric.rounds / leg.plain.rounds,
        counted=pattern.is_counted,
    )


def steps_between(from_mm: float, to_mm: float) -> float:
    """Needle steps from one size to another."""
    return (to_mm - from_mm) / NEEDLE_STEP_MM


def on_needle(seen: GaugeObservation, was_mm: float | None, is_mm: float | None) -> GaugeObservation:
    """The same on the needle in use: a larger one makes larger stitches, and so fewer over 10 cm."""
    if seen.kind == "stitches" or _steps(was_mm, is_mm) == 0:
        return seen
    value, deviation = _moved((seen.per_10cm, seen.deviation), was_mm, is_mm)
    why = f"{seen.why}; on the needle in use now about {per_10cm(value)}"
    return seen.model_copy(update={"per_10cm": value, "deviation": deviation, "why": why})


def _steps(was_mm: float | None, is_mm: float | None) -> float:
    return 0.0 if was_mm is None or is_mm is None else steps_between(was_mm, is_mm)


def _moved(seen: Observation, was_mm: float | None, is_mm: float | None) -> Observation:
    steps = _steps(was_mm, is_mm)
    value = seen[0] * (1 + STEP_MOVES) ** -steps
    return value, value * math.hypot(seen[1] / seen[0], STEP_ERROR * steps)


def values_in(check: Check, what: What, spread: float, needle_mm: float | None) -> list[Observation]:
    """What a check says, in numbers alone, for the needle in use."""
    found = [_counted(check.spots(what), spread)] if check.spots(what) else []
    if what == "rounds":
        found += [_taped(stretch, spread) for stretch in check.tape]
    moved = [_moved(one, check.needle_mm, needle_mm) for one in found]
    of_each = _of_each(check, what)
    return [_of_the_other(one, of_each, check.ratio) for one in moved] if check.ratio and of_each else moved


def _of_each(check: Check, what: What) -> float | None:
    """What the fabric counted on has for each stitch or round of the one to speak of, where that is another."""
    found: float | None = getattr(check.ratio, what, None)
    return found


def _of_the_other(seen: Observation, of_each: float, ratio: Ratio) -> Observation:
    """What was seen of one fabric as it speaks of another."""
    value = seen[0] / of_each
    return value, value * math.hypot(seen[1] / seen[0], ratio.error)


def seen_in(item: Evidence, what: What, spread: float, stitches: tuple[float, float] | None) -> list[GaugeObservation]:
    """What one piece of evidence says: a check's spots are one observation, and each length by tape another."""
    if isinstance(item, Assumed):
        return _assumption(item, what, stitches)
    spots = item.spots(what)
    seen = [_of_spots(spots, item.round, what, spread)] if spots else []
    if what == "rounds":
        seen += [_of_stretch(item, stretch, spread) for stretch in item.tape]
    of_each = _of_each(item, what)
    return [_seen_of_the_other(one, of_each, item.ratio) for one in seen] if item.ratio and of_each else seen


def _seen_of_the_other(seen: GaugeObservation, of_each: float, ratio: Ratio) -> GaugeObservation:
    value, deviation = _of_the_other((seen.per_10cm, seen.deviation), of_each, ratio)
    why = f"{seen.why}; {ratio.other} then has about {per_10cm(value)}"
    return seen.model_copy(update={"per_10cm": value, "deviation": deviation, "why": why})


def _assumption(item: Assumed, what: What, stitches: tuple[float, float] | None) -> list[GaugeObservation]:
    value = item.stitches_per_10cm if what == "stitches" else item.rounds_per_10cm
    if value is not None:
        error = SOURCE_ERROR[item.basis]
        within = f"give or take {in_tenths(GIVE_OR_TAKE * error * value)}"
        why = f"{SOURCE_NAMES[item.basis].capitalize()} says {per_10cm(value)}, {within}"
        return [GaugeObservation(kind=item.basis, round=None, per_10cm=value, deviation=error * value, why=why)]
    if stitches is None:
        return []
    known, deviation = stitches
    value = known * ROUNDS_PER_STITCH
    error = math.hypot(RATIO_ERROR, deviation / known)
    why = f"{in_tenths(known)} stitches times {ROUNDS_PER_STITCH:g} are {per_10cm(value)}: rounds not counted yet"
    return [GaugeObservation(kind="stitches", round=None, per_10cm=value, deviation=error * value, why=why)]


def spread_of(groups: Sequence[Sequence[Spot]]) -> float:
    """How much the fabric differs from spot to spot, as a part of its gauge; never less than is usual."""
    squares, freedom = SPREAD_WORTH * FABRIC_SPREAD**2, SPREAD_WORTH
    for spots in groups:
        if len(spots) > 1:
            each = [spot.count / spot.over_cm for spot in spots]
            mean = sum(each) / len(each)
            counting = sum((COUNTING_ERROR / spot.count) ** 2 for spot in spots) / len(spots)
            squares += sum((value / mean - 1) ** 2 for value in each) - (len(spots) - 1) * counting
            freedom += len(spots) - 1
    return max(FABRIC_SPREAD, math.sqrt(max(0.0, squares / freedom)))


@lru_cache(KEPT)
def _counted(spots: Sequence[Spot], spread: float) -> Observation:
    length = sum(spot.over_cm for spot in spots)
    value = sum(spot.count for spot in spots) / length * 10
    counting = COUNTING_ERROR * math.sqrt(_independent(spots, spread)) / length * 10
    uneven = spread * value * math.sqrt(sum(spot.over_cm**2 for spot in spots)) / length
    return value, math.hypot(counting, uneven)


@lru_cache(KEPT)
def _of_spots(spots: Sequence[Spot], at: int | None, what: What, spread: float) -> GaugeObservation:
    value, deviation = _counted(spots, spread)
    first, *others = spots
    counted = [f"{first.count:g} {what} over {both_units(first.over_cm)}"]
    counted += [f"{spot.count:g} over {both_units(spot.over_cm)}" for spot in others]
    verb = "are" if others else "is"
    why = f"{listed(counted)} {verb} {per_10cm(value)}, give or take {in_tenths(GIVE_OR_TAKE * deviation)}"
    return GaugeObservation(kind="check", round=at, per_10cm=value, deviation=deviation, why=why)


def _independent(spots: Sequence[Spot], spread: float) -> float:
    """The number of spots, more where counts over one length hardly differ: their rounding then goes the same way.

    Two counts that differ by a normal deviation s have rounding errors with a correlation of about exp(-(2 pi s)^2),
    the first term of the Fourier series of the rounding error.
    """
    alike = sum(first.over_cm == second.over_cm for first in spots for second in spots) - len(spots)
    mean = sum(spot.count for spot in spots) / len(spots)
    return len(spots) + alike * math.exp(-((2 * math.pi * spread * mean) ** 2))


def _taped(stretch: Stretch, spread: float) -> Observation:
    value = stretch.rounds / stretch.length_cm * 10
    return value, value * math.hypot(TAPE_ERROR_CM / stretch.length_cm, spread)


def _of_stretch(item: Check, stretch: Stretch, spread: float) -> GaugeObservation:
    value, deviation = _taped(stretch, spread)
    why = (
        f"{stretch.rounds} rounds of the {stretch.section} are {both_units(stretch.length_cm)} long: "
        f"{per_10cm(value)}, give or take {in_tenths(GIVE_OR_TAKE * deviation)}"
    )
    return GaugeObservation(kind="tape", round=item.round, per_10cm=value, deviation=deviation, why=why)


def per_10cm(value: float) -> str:
    """A gauge in a sentence that is read in either unit: "30.2 over 10 cm (30.7 over 4 in)"."""
    return f"{in_tenths(value)} over 10 cm ({in_tenths(value * INCHES_4)} over 4 in)"


def range_per_10cm(low: float, high: float) -> str:
    """Two gauges in a sentence that is read in either unit: "29.5 and 30.5 over 10 cm (30 and 31 over 4 in)"."""
    metric, inches = ((in_tenths(low * over), in_tenths(high * over)) for over in (1, INCHES_4))
    return f"{' and '.join(metric)} over 10 cm ({' and '.join(inches)} over 4 in)"


HERE_ROUNDS = 20
"""Rounds within which counts are of one place: about 4 cm, the least that is worth counting on (ours)."""


def spots_here(evidence: Sequence[Evidence]) -> dict[What, int]:
    """Spots of each kind at the place of the newest check; one without a round is of any place."""
    checks = [item for item in evidence if isinstance(item, Check)]
    newest = max((item.round for item in checks if item.round is not None), default=0)
    here = [item for item in checks if item.round is None or newest - item.round <= HERE_ROUNDS]
    return {"stitches": sum(len(item.stitches) for item in here), "rounds": sum(len(item.rounds) for item in here)}


def listed(parts: Sequence[str]) -> str:
    """Things in a sentence: "a, b and c"."""
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}"
