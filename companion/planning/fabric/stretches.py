"""Stretches of a round in a stitch pattern: taken apart where it is shaped, worked in repeats, and joined again."""

from __future__ import annotations

from dataclasses import replace
from itertools import chain

from ..plan.document import Op, Repeat
from ..plan.rounds import Ops, repeat
from ..stitches.columns import Columns
from ..stitches.operations import Names
from .runs import in_runs


def apart(ops: Ops) -> tuple[int, Ops, int]:
    """The plain stitches before what is shaped in a round, that, and the plain ones after it."""
    inner = ops
    before = after = 0
    if inner and isinstance(inner[0], Op) and inner[0].op == "k":
        before, inner = inner[0].n, inner[1:]
    if inner and isinstance(inner[-1], Op) and inner[-1].op == "k":
        after, inner = inner[-1].n, inner[:-1]
    if not inner:
        # All of it is plain: the two sides meet anywhere.
        return before, (), before
    return before, inner, after


def stretch(names: Names, period: int) -> Ops:
    """Stitches one after the other, in runs and in repeats of the period."""
    return in_runs([(name, None) for name in names], period)


def repeats_of(columns: Columns, number: int, first: int, stitches: int, *, at_the_end: bool = False) -> Ops:
    """A round over so many columns, as whole repeats from the first of them on, and what is left of one.

    The whole repeats come last where they are to end with the round.
    """
    if not stitches:
        return ()
    names = columns.between(number, first, stitches)
    period = columns.period(number)
    times = len(names) // period
    if period == 1 or times < 2:
        return in_runs([(name, None) for name in names], period)
    single = [(name, None) for name in names]
    if at_the_end:
        over = len(names) - times * period
        return joined(in_runs(single[:over], period), repeat(times, in_runs(single[-period:], period + 1)))
    return repeat(times, in_runs(single[:period], period + 1)) + in_runs(single[times * period :], period)


def joined(*stretches: Ops) -> Ops:
    """Stretches of a round one after the other, the same stitches of two that meet counted together."""
    joined: list[Op | Repeat] = []
    for item in chain.from_iterable(stretches):
        last = joined[-1] if joined else None
        if isinstance(last, Op) and isinstance(item, Op) and last.op == item.op:
            joined[-1] = replace(last, n=last.n + item.n)
        else:
            joined.append(item)
    return tuple(joined)
