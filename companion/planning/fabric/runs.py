"""Single operations written as a knitter reads them: runs with their number, repeats said once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache

from ..plan.document import Op, Repeat
from ..plan.rounds import Ops, repeat
from ..stitches.operations import OpName

Worked = tuple[OpName, str | None]
"""An operation worked once, and its yarn; one that draws no loop has none."""


def names_of(ops: Iterable[Op | Repeat]) -> Iterator[OpName]:
    """Every working of an operation on its own, repeats written out."""
    for item in ops:
        if isinstance(item, Repeat):
            yield from tuple(names_of(item.ops)) * item.times
        else:
            yield from (item.op,) * item.n


def in_runs(single: Sequence[Worked], period: int) -> Ops:
    """Operations as a knitter reads them: runs of one yarn with their number, repeats said once."""
    ops: Ops = ()
    start = 0
    while start < len(single):
        times, alike = _run(single, start, period), _run(single, start, 1)
        if times > 1 and times * period > alike:
            ops += repeat(times, in_runs(single[start : start + period], period + 1))
            start += times * period
        else:
            ops += (_op(*single[start], alike),)
            start += alike
    return ops


def _run(single: Sequence[Worked], start: int, length: int) -> int:
    """How often the next so many operations come in a row."""
    block = single[start : start + length]
    times = 1
    while single[start + times * length : start + (times + 1) * length] == block:
        times += 1
    return times


@lru_cache(maxsize=1024)
def _op(name: OpName, yarn: str | None, times: int) -> Op:
    return Op(op=name, n=times, yarn=yarn)
