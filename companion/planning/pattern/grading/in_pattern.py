"""A leg that is shaped in a stitch pattern, described for several sizes.

In each of them the repeats end elsewhere at the back: written out, no two sizes would have a round in common.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ..fit.halves import heel_stitches
from ..plan.document import Plan, Round
from ..plan.rounds import one_by_one, takes
from .grading.passages import IN_PATTERN, Words
from .rounds_text import PatternLine

MEANS = (
    "Once the leg is shaped, in pattern means whole repeats round the front, each in its columns, and one round of the "
    "pattern after the other. In the middle of the back knit the stitches that are over, and those beside the shaping "
    "where a cable, or a decrease with its yarn over, no longer fits whole."
)
"""What the texture of a leg (`fabric/texture.py`) does at its centre back."""


def leg_in_pattern(plan: Plan, otherwise: Words) -> Words:
    """The words of a plan's rounds, in which a leg in a stitch pattern is not written out once it is shaped.

    The rounds before that, all others, and those of a panel, beside which a leg is shaped, are described `otherwise`.
    """
    pattern = plan.request.leg.stitch_pattern
    leg = [item for item in plan.rounds() if item.chart_row and item.work[0].zone == "leg"]
    if pattern is None or pattern.placement or all(item.before == item.after for item in leg):
        return otherwise
    begins = leg[0].before
    front = plan.sizes.leg_stitches - heel_stitches(plan.sizes.leg_stitches)

    def words(item: Round) -> str:
        if not item.chart_row or item.work[0].zone != "leg":
            return otherwise(item)
        if item.before != item.after:
            return _shaping(item, front)
        return otherwise(item) if item.before == begins else IN_PATTERN

    return words


def explained(lines: Sequence[PatternLine]) -> tuple[PatternLine, ...]:
    """The lines of a leg, with what "in pattern" means if they say it."""
    first, *others = lines
    if any(IN_PATTERN in line.text for line in lines):
        first = replace(first, note=" ".join(filter(None, (first.note, MEANS))))
    return first, *others


def _shaping(item: Round, front: int) -> str:
    """A pair of changes with the two stitches between them, in the middle of what is not the front."""
    ops = [*one_by_one(item.ops)]
    first, last = ("m1r", "m1l") if item.after > item.before else ("ssk", "k2tog")
    middle = (item.before - front) / 2
    pair = [first, "k", "k", last]
    places = [number for number in range(len(ops)) if [each.op for each in ops[number : number + 4]] == pair]
    place = min(places, key=lambda number: abs(takes(ops[: number + 2]) - middle))
    before, after = takes(ops[:place]), takes(ops[place + 4 :])
    return f"{before} {IN_PATTERN}, {first}, k2, {last}, {after} {IN_PATTERN}"
