"""Sizes that are not what was asked for: in words, the foot before the leg, and ways that make none worse."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from ..construction.constructions import TUBES
from ..construction.sections.base import Tube
from ..fit.targets import fit_of
from ..gauge.decision import MATTERS
from ..plan.document import Plan, Sizes
from ..request.plan_request import PlanRequest
from ..units import Unit, parse_length, show_length, show_number
from .candidate_text import LEG_TOLERANCE, LENGTH_TOLERANCE_CM
from .ways.way import Way


@dataclass(frozen=True)
class Misfit:
    """A size in cm beside the one asked for: round the leg or the foot, or `along` the foot.

    `comes` says whether it is still ahead of the needles.
    """

    part: Tube
    along: bool
    is_cm: float
    asked_cm: float
    comes: bool

    def in_words(self, unit: Unit) -> str:
        """How far off it is, as a reader would calculate it from the two lengths: "2.6 cm too wide"."""
        too = ("long", "short") if self.along else ("wide", "narrow")
        off = abs(_as_shown(self.is_cm, unit) - _as_shown(self.asked_cm, unit))
        return f"{show_length(off, unit)} too {too[self.is_cm < self.asked_cm]}"

    def sum(self, unit: Unit) -> str:
        """How that comes about."""
        more, less = sorted((self.is_cm, self.asked_cm), reverse=True)
        return f"{show_length(more, unit)} less {show_length(less, unit)}: the {self.part} is {self.in_words(unit)}."


def misfits(plan: Plan, done: int, sizes: Sizes) -> Iterator[Misfit]:
    """The sizes that are farther off than is felt, after `done` rounds."""
    fit = fit_of(plan.request)
    comes = {tube: done < plan.span(part.key).stop for tube, part in TUBES.items()}
    around, along, leg = sizes.foot_circumference_cm, sizes.foot_length_cm, sizes.leg_cm
    if abs(around / fit.foot_target - 1) > MATTERS["stitches"]:
        yield Misfit("foot", False, around, fit.foot_target, comes["foot"])
    if abs(along - fit.length_target) > LENGTH_TOLERANCE_CM:
        yield Misfit("foot", True, along, fit.length_target, done < plan.count)
    if abs(leg / fit.leg_target - 1) > LEG_TOLERANCE:
        yield Misfit("leg", False, leg, fit.leg_target, comes["leg"])


def _as_shown(cm: float, unit: Unit) -> float:
    """A length in cm, rounded as it is shown in a unit."""
    return parse_length(show_number(cm, unit), unit)


def keeping_the_length(ways: Sequence[Way], request: PlanRequest, unchanged: Sizes) -> list[Way]:
    """The ways, with none recommended that misses the foot's length by a round more than `unchanged` sizes do.

    Another one is recommended in its place, the nearest to the length asked for; where there is none it is left as it
    is. `request` has the measured gauge.
    """
    fit = fit_of(request)

    def missed(sizes: Sizes) -> float:
        return abs(sizes.foot_length_cm - fit.length_target)

    def off(way: Way) -> float:
        return missed(way.sizes or way.plan.sizes)

    allowed = missed(unchanged) + fit.fabric.height(1)
    if all(off(way) <= allowed for way in ways if way.recommended):
        return list(ways)
    best = min((way for way in ways if off(way) <= allowed), key=off, default=None)
    return [replace(way, recommended=way is best) for way in ways]
