"""A way to go on with its price: sizes and how sure they are, what is ripped, time, yarn."""

from __future__ import annotations

import math

from .changes import Change, changes_of
from .document import Plan, Sizes, Value, YarnNeed
from .evidence import Gauges
from .facts import Numbers
from .fit import fit_of
from .observed import GIVE_OR_TAKE, listed
from .units import both_units
from .ways import Way, WayKey, foot_is_knitted


class Range(Value):
    """Where a length of the finished sock may well lie, in cm; not rounded, so that its sums agree."""

    low: float
    high: float


class Ranges(Value):
    """The sizes of the finished sock with how sure they are."""

    leg_cm: Range
    foot_circumference_cm: Range
    foot_length_cm: Range


class Option(Value):
    """One way to go on, with its price and the plan that follows from it.

    `done` is the place after ripping, `seconds` the time to knit again what is ripped (None without a pace), and
    `why_this` what speaks for the recommended one (None for the others).
    """

    key: WayKey
    title: str
    why: str
    recommended: bool
    why_this: str | None
    sizes: Sizes
    ranges: Ranges
    changes: tuple[Change, ...]
    rounds_ripped: int
    stitches_ripped: int
    seconds: float | None
    yarn: tuple[YarnNeed, ...]
    done: int
    plan: Plan


def ranges_of(sizes: Sizes, gauges: Gauges, *, leg: float = 0.0, foot: float = 0.0) -> Ranges:
    """The sizes with what the gauge, and whatever else is unsure of leg and foot (as a part), leaves open."""

    def within(size: float, *errors: float) -> Range:
        off = size * GIVE_OR_TAKE * math.hypot(*errors)
        return Range(low=size - off, high=size + off)

    return Ranges(
        leg_cm=within(sizes.leg_cm, gauges.stitches.error, leg),
        foot_circumference_cm=within(sizes.foot_circumference_cm, gauges.stitches.error, foot),
        foot_length_cm=within(sizes.foot_length_cm, gauges.rounds.error, foot),
    )


class Pricing:
    """What the options of one recalculation have in common."""

    def __init__(self, plan: Plan, done: int, gauges: Gauges, unchanged: Sizes, pace: float | None) -> None:
        """`unchanged` are the sizes if nothing is changed, `pace` seconds for a stitch."""
        self.plan, self.done, self.gauges, self.unchanged, self.pace = plan, done, gauges, unchanged, pace
        self.before = Numbers(plan, unchanged)

    def option(self, way: Way, *, recommended: bool) -> Option:
        """A way with its price."""
        ripped = sum(item.made for item in self.plan.rounds()[way.done : self.done])
        leaves = way.key == "leave"
        sizes = self.unchanged if leaves else way.sizes or way.plan.sizes
        numbers = self.before if leaves else Numbers(way.plan, sizes)
        return Option(
            key=way.key,
            title=way.title,
            why=way.why,
            recommended=recommended,
            why_this=self._why_this(sizes, ripped, leaves=leaves) if recommended else None,
            sizes=sizes,
            ranges=ranges_of(
                sizes, self.gauges, leg=way.unsure, foot=0.0 if foot_is_knitted(self.plan, way.done) else way.unsure
            ),
            changes=() if leaves else changes_of(self.before, numbers),
            rounds_ripped=self.done - way.done,
            stitches_ripped=ripped,
            seconds=None if self.pace is None else ripped * self.pace,
            yarn=numbers.yarn,
            done=way.done,
            plan=way.plan,
        )

    def _why_this(self, sizes: Sizes, ripped: int, *, leaves: bool) -> str:
        """What speaks for it: the sizes that become others, beside what they would be."""
        fit, old = fit_of(self.plan.request), self.unchanged
        if leaves:
            return (
                f"The foot becomes {both_units(sizes.foot_circumference_cm)} round and "
                f"{both_units(sizes.foot_length_cm)} long, {both_units(fit.foot_target)} and "
                f"{both_units(fit.length_target)} were asked for."
            )
        changed = [
            (f"the {part} {both_units(new)} {how}", both_units(was), both_units(asked))
            for part, how, was, new, asked in (
                ("leg", "round", old.leg_cm, sizes.leg_cm, fit.leg_target),
                ("foot", "round", old.foot_circumference_cm, sizes.foot_circumference_cm, fit.foot_target),
                ("foot", "long", old.foot_length_cm, sizes.foot_length_cm, fit.length_target),
            )
            if both_units(was) != both_units(new)
        ]
        price = f"{ripped:,} stitches are knitted again" if ripped else "nothing is ripped"
        if not changed:
            return f"Leg and foot keep their sizes, what is ahead follows the measured gauge, and {price}."
        becomes, were, asked_for = map(listed, zip(*changed, strict=True))
        return f"It makes {becomes} instead of {were}; {asked_for} were asked for, and {price}."
