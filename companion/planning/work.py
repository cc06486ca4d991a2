"""Making rounds out of operations, and counting what operations take, make and use."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import TypeAlias, TypeVar

from .document import OPERATIONS, Kind, Op, OpName, Repeat, Round, Side, Step, Work, Zone
from .faults import CannotKnitError, Fault
from .spread import gaps

Ops: TypeAlias = tuple[Op | Repeat, ...]
Found = TypeVar("Found")

LONGEST_PERIOD = 4
"""Rows that are repeated together: a right-side and a wrong-side one, or two such pairs of an offset fabric."""


@lru_cache(maxsize=4096)
def op(name: OpName, n: int = 1) -> Ops:
    """An operation `n` times; none at all for 0."""
    return (Op(op=name, n=n),) if n else ()


def repeat(times: int, *ops: Ops) -> Ops:
    """Operations as a repeat; without brackets when worked once, none at all for 0."""
    inside = tuple(item for group in ops for item in group)
    return inside * times if times <= 1 else _repeated(times, inside)


@lru_cache(maxsize=4096)
def _repeated(times: int, inside: Ops) -> Ops:
    return (Repeat(times=times, ops=inside),)


def takes(ops: Iterable[Op | Repeat]) -> int:
    """Stitches taken from the left needle."""
    return sum(
        item.times * takes(item.ops) if isinstance(item, Repeat) else item.n * OPERATIONS[item.op].takes for item in ops
    )


def makes(ops: Iterable[Op | Repeat]) -> int:
    """Stitches put on the right needle."""
    return sum(
        item.times * makes(item.ops) if isinstance(item, Repeat) else item.n * OPERATIONS[item.op].makes for item in ops
    )


def uses(ops: Iterable[Op | Repeat], *names: str) -> int:
    """How often any of these operations is worked."""
    found = 0
    for item in ops:
        if isinstance(item, Repeat):
            found += item.times * uses(item.ops, *names)
        elif item.op in names:
            found += item.n
    return found


def loops(ops: Iterable[Op | Repeat]) -> int:
    """Loops drawn through with new yarn; a slipped stitch uses none."""
    return sum(
        item.times * loops(item.ops) if isinstance(item, Repeat) else item.n * OPERATIONS[item.op].loops for item in ops
    )


def all_ops(item: Round) -> Ops:
    """The operations of a round in the order they are worked."""
    return tuple(each for work in item.work for each in work.ops)


def yarn_loops(ops: Iterable[Op | Repeat]) -> dict[str | None, int]:
    """Loops drawn through with each yarn; None is the main colour."""
    found: dict[str | None, int] = {}
    for item in ops:
        if isinstance(item, Repeat):
            for yarn, drawn in yarn_loops(item.ops).items():
                found[yarn] = found.get(yarn, 0) + item.times * drawn
        else:
            found[item.yarn] = found.get(item.yarn, 0) + item.n * OPERATIONS[item.op].loops
    return found


def is_fabric(item: Round) -> bool:
    """Whether a round adds height: a cast-on, a bind-off and grafting do not."""
    names = set(_names(item))
    return any(OPERATIONS[name].takes for name in names) and any(OPERATIONS[name].makes for name in names)


def _names(item: Round | Repeat) -> Iterator[OpName]:
    """The operations of a round, those of a repeat once."""
    for group in item.work if isinstance(item, Round) else (item,):
        for each in group.ops:
            if isinstance(each, Repeat):
                yield from _names(each)
            else:
                yield each.op


def one_by_one(ops: Iterable[Op | Repeat]) -> Iterator[Op]:
    """Every working of an operation on its own, repeats written out."""
    for item in ops:
        if isinstance(item, Repeat):
            for _ in range(item.times):
                yield from one_by_one(item.ops)
        else:
            yield from (replace(item, n=1),) * item.n


def of_each(rounds: Sequence[Round], look: Callable[[Round], Found]) -> list[Found]:
    """What a look at each round finds, in order; most of a sock is a few rounds over and over, looked at once."""
    different = {id(item): item for item in rounds}
    found = {key: look(item) for key, item in different.items()}
    return [found[id(item)] for item in rounds]


def fabric_rounds(rounds: Sequence[Round]) -> int:
    """How many of the rounds add height."""
    return sum(of_each(rounds, is_fabric))


def zone_stitches(item: Round, *zones: Zone) -> int:
    """Stitches that a round leaves in the zones."""
    return sum(makes(work.ops) for work in item.work if work.zone in zones)


def row(
    *work: tuple[Zone, Ops],
    before: int,
    kind: Kind = "plain",
    side: Side = "round",
    note: str | None = None,
) -> Round:
    """A round or row; the count after it follows from its operations."""
    return known_row(work, before, kind, side, note)


@lru_cache(maxsize=8192)
def known_row(work: tuple[tuple[Zone, Ops], ...], before: int, kind: Kind, side: Side, note: str | None) -> Round:
    """The same, made once: the ways to go on with a sock share most rounds, and one object is compared at a glance."""
    ops = tuple(item for _, zone_ops in work for item in zone_ops)
    return Round(
        side=side,
        kind=kind,
        work=tuple(Work(zone=zone, ops=zone_ops) for zone, zone_ops in work if zone_ops),
        before=before,
        after=before - takes(ops) + makes(ops),
        note=note,
    )


def evenly(stitches: int, to: int) -> Ops:
    """Operations that bring a plain stretch of stitches to another count, the changes evenly spread.

    At most half of the stitches can be decreased, and each stitch can be followed by one increase; raises
    CannotKnitError beyond that.
    """
    changes = abs(to - stitches)
    if not changes:
        return op("k", stitches)
    if changes > (stitches if to > stitches else stitches // 2):
        remedy = "measure the foot and the gauge again"
        raise CannotKnitError(Fault("gauge", "", f"{stitches} stitches cannot become {to} in one round; {remedy}"))
    made = []
    for gap in gaps(stitches, changes):
        made.append(op("k", gap) + op("m1l") if to > stitches else op("k", gap - 2) + op("k2tog"))
    return fold_groups(made)


EVENLY = "Evenly spread"
"""What the note of a round begins with that changes a whole count at once."""


def evenly_changed(*zones: tuple[Zone, int, int], why: str) -> Round:
    """A round that changes the stitches of each (zone, from, to) evenly, and says `why` in its note."""
    before, after = sum(count for _, count, _ in zones), sum(to for _, _, to in zones)
    return row(
        *((zone, evenly(count, to)) for zone, count, to in zones),
        before=before,
        kind="increase" if after > before else "decrease",
        note=f"{EVENLY}: {before} stitches become {after}, {why}.",
    )


def narrowed(stitches: int) -> Ops:
    """A zone with one stitch less at each end: ssk leans away from the start, k2tog towards the end.

    One stitch stays outside the decreases while there are six or more; needs four.
    """
    edge = 1 if stitches >= 6 else 0
    return op("k", edge) + op("ssk") + op("k", stitches - 4 - 2 * edge) + op("k2tog") + op("k", edge)


def fold_groups(groups: Sequence[Ops]) -> Ops:
    """Groups of operations with neighbours that are alike told as a repeat."""
    folded: Ops = ()
    start = 0
    for end in range(1, len(groups) + 1):
        if end == len(groups) or groups[end] != groups[start]:
            folded += repeat(end - start, groups[start])
            start = end
    return folded


def fold(rounds: Sequence[Round], longest: int = LONGEST_PERIOD) -> tuple[Step, ...]:
    """Rounds as steps: runs of the same round, or of the same group of rows, told once with their number.

    A group has at most `longest` rows.
    """
    steps: list[Step] = []
    # Most rounds that differ do so in these, which are compared far faster than the rounds.
    numbers = [(item.before, item.after, item.chart_row, item.side, item.kind) for item in rounds]

    def alike(at: int, start: int, period: int) -> bool:
        if at + period > len(rounds) or numbers[at] != numbers[start]:
            return False
        first, second = slice(start, start + period), slice(at, at + period)
        return numbers[second] == numbers[first] and rounds[second] == rounds[first]

    start = 0
    while start < len(rounds):
        best, times = 1, 1
        for period in range(1, longest + 1):
            found = 1
            while alike(start + found * period, start, period):
                found += 1
            if found > 1 and found * period > best * times:
                best, times = period, found
        steps.append(Step(times=times, rounds=tuple(rounds[start : start + best])))
        start += best * times
    return tuple(steps)
