"""A way to go on with its price: sizes and how sure they are, what is ripped, time, yarn."""

from __future__ import annotations

import math

from ..construction.sections.leg import LEG
from ..fit.targets import fit_of
from ..frozen_model import FrozenModel
from ..gauge.observations import GIVE_OR_TAKE
from ..gauge.parts import Fabrics
from ..plan.document import Plan, Sizes, YarnNeed
from .as_knitted import after_ripping
from .candidate_text import FELT_LEG
from .changes import Change, changes_of
from .figures import PlanFigures
from .ways.sock_in_progress import foot_is_knitted
from .ways.way import Way, WayKey


class Range(FrozenModel):
    """Where a length of the finished sock may well lie, in cm; not rounded, so that its sums agree."""

    low: float
    high: float


class Ranges(FrozenModel):
    """The sizes of the finished sock with how sure they are."""

    leg_cm: Range
    foot_circumference_cm: Range
    foot_length_cm: Range


class Option(FrozenModel):
    """One way to go on, with its price and the plan that follows from it.

    `done` is the place after ripping, and `seconds` the time to knit again what is ripped (None without a pace).
    """

    key: WayKey
    title: str
    why: str
    recommended: bool
    sizes: Sizes
    ranges: Ranges
    changes: tuple[Change, ...]
    rounds_ripped: int
    stitches_ripped: int
    seconds: float | None
    yarn: tuple[YarnNeed, ...]
    done: int
    plan: Plan


def ranges_of(sizes: Sizes, fabrics: Fabrics, *, leg: float = 0.0, foot: float = 0.0) -> Ranges:
    """The sizes with what the gauge, and whatever else is unsure of leg and foot (as a part), leaves open."""

    def within(size: float, *errors: float) -> Range:
        off = size * GIVE_OR_TAKE * math.hypot(*errors)
        return Range(low=size - off, high=size + off)

    return Ranges(
        leg_cm=within(sizes.leg_cm, fabrics.leg.stitches.error, leg),
        foot_circumference_cm=within(sizes.foot_circumference_cm, fabrics.foot.stitches.error, foot),
        foot_length_cm=within(sizes.foot_length_cm, fabrics.foot.rounds.error, foot),
    )


FELT_ROUND, FELT_CM = 0.012, 0.2
"""Less than this part round the foot and this length of it is not worth a change (ours)."""


def is_felt(way: Way, plan: Plan, unchanged: Sizes) -> bool:
    """Whether a way brings foot or leg nearer to what was asked for, or moves the leg's rounds, by as much as is felt.

    `unchanged` are the sizes that they become without it.
    """
    sizes, fit = way.sizes or way.plan.sizes, fit_of(plan.request)
    leg, was = len(way.plan.span(LEG.key)), len(plan.span(LEG.key))
    foot, foot_was = sizes.foot_circumference_cm, unchanged.foot_circumference_cm
    return (
        _nearer(foot_was, foot, fit.foot_target) >= FELT_ROUND * fit.foot_target
        or _nearer(unchanged.foot_length_cm, sizes.foot_length_cm, fit.length_target) >= FELT_CM
        or _nearer(unchanged.leg_cm, sizes.leg_cm, fit.leg_target) >= FELT_LEG * fit.leg_target
        or abs(leg / was - 1) >= FELT_LEG
    )


def _nearer(was: float, becomes: float, target: float) -> float:
    """By how much a size comes nearer to its target; below zero where it goes away from it."""
    return abs(was - target) - abs(becomes - target)


class Pricing:
    """What the options of one recalculation have in common."""

    def __init__(self, plan: Plan, done: int, fabrics: Fabrics, unchanged: Sizes, pace: float | None) -> None:
        """`unchanged` are the sizes if nothing is changed, `pace` seconds for a stitch."""
        self.plan, self.done, self.fabrics, self.unchanged, self.pace = plan, done, fabrics, unchanged, pace
        self.before = PlanFigures(plan, unchanged)

    def option(self, way: Way, *, recommended: bool) -> Option:
        """A way with its price."""
        ripped = sum(item.made for item in self.plan.rounds()[way.done : self.done])
        leaves = way.key == "leave"
        sizes = self.unchanged if leaves else way.sizes or way.plan.sizes
        numbers = self.before if leaves else PlanFigures(way.plan, sizes)
        return Option(
            key=way.key,
            title=way.title,
            why=way.why,
            recommended=recommended,
            sizes=sizes,
            ranges=ranges_of(
                sizes,
                after_ripping(self.fabrics, way.plan, way.done),
                leg=way.unsure,
                foot=0.0 if foot_is_knitted(self.plan, way.done) else way.unsure,
            ),
            changes=() if leaves else changes_of(self.before, numbers),
            rounds_ripped=self.done - way.done,
            stitches_ripped=ripped,
            seconds=None if self.pace is None else ripped * self.pace,
            yarn=numbers.yarn,
            done=way.done,
            plan=way.plan,
        )
