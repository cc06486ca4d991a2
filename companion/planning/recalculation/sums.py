"""The sum behind each number of a recalculation, in plain words: what was counted, times what, is what."""

from __future__ import annotations

from dataclasses import dataclass

from ..plan.document import Plan, Sizes
from ..units import both_units
from .figures import PlanFigures
from .options import Option, Range, Ranges


@dataclass(frozen=True)
class SizeSums:
    """How the sizes of a finished sock come about, a sentence or two for each."""

    leg: str
    foot: str
    length: str
    heel: str


def size_sums(plan: Plan, sizes: Sizes, ranges: Ranges) -> SizeSums:
    """The sizes that the counts of a plan become, which may be those on another needle than the plan's."""
    figures = PlanFigures(plan, sizes)
    return SizeSums(
        leg=f"{figures.round_the_leg()} {_within(sizes.leg_cm, ranges.leg_cm)} {figures.leg_asked()}",
        foot=f"{figures.round_the_foot()} {_within(sizes.foot_circumference_cm, ranges.foot_circumference_cm)} "
        f"{figures.foot_asked()}",
        length=f"{figures.foot_length()} {_within(sizes.foot_length_cm, ranges.foot_length_cm)} "
        f"{figures.length_asked()}",
        heel=figures.heel_pass(),
    )


def _within(size: float, within: Range) -> str:
    off = (within.high - within.low) / 2
    return (
        f"The gauge may well be {100 * off / size:.1f} % tighter or looser, which is {both_units(off)}: it will be "
        f"between {both_units(within.low)} and {both_units(within.high)}."
    )


def ripped_sum(plan: Plan, done: int, option: Option) -> str:
    """How many stitches are knitted again, and what that takes."""
    ripped = plan.rounds()[option.done : done]
    widest, narrowest = max(item.after for item in ripped), min(item.after for item in ripped)
    each = f"{widest}" if widest == narrowest else f"{narrowest} to {widest}"
    said = (
        f"From round {done} back to round {option.done} are {option.rounds_ripped} rounds of {each} stitches: "
        f"{option.stitches_ripped:,} stitches."
    )
    if option.seconds is None:
        return f"{said} Your pace is known once a few rounds were counted one after the other."
    pace = option.seconds / option.stitches_ripped
    return (
        f"{said} At your recent pace, {60 / pace:.0f} stitches a minute, that is "
        f"{option.stitches_ripped:,} times {pace:.1f} seconds."
    )
