"""Making rounds out of operations, and counting what operations take, make and use."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Literal, TypeAlias, TypeVar

from ..faults import CannotKnitError, Fault
from ..stitches.operations import OPERATIONS, OpName
from .document import Kind, Op, Repeat, Round, Side, Step, Work, Zone
from .spread import gaps

Ops: TypeAlias = tuple[Op | Repeat, ...]
Found = TypeVar("Found")

Ends: TypeAlias = Literal["both", "first", "last"]
"""The ends of a zone at which it is shaped, in the order of knitting."""

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


def one_by_one(ops: Iterable[Op | Repeat]) -> Iterator[Op]:
    """Every working of an operation on its own, repeats written out."""
    for item in ops:
        if isinstance(item, Repeat):
            yield from tuple(one_by_one(item.ops)) * item.times
        else:
            # Most colourwork is single stitches already, thousands of them.
            yield from (item if item.n == 1 else _once(item),) * item.n


@lru_cache(maxsize=256)
def _once(item: Op) -> Op:
    return replace(item, n=1)


def yarns_named(ops: Iterable[Op | Repeat]) -> set[str | None]:
    """The yarns that the operations name; None is among them where one names none."""
    found: set[str | None] = set()
    for item in ops:
        found |= yarns_named(item.ops) if isinstance(item, Repeat) else {item.yarn}
    return found


def is_knit(ops: Iterable[Op | Repeat]) -> bool:
    """Whether nothing but knit stitches is in it."""
    return all(is_knit(item.ops) if isinstance(item, Repeat) else item.op == "k" for item in ops)


def map_unique(rounds: Sequence[Round], find: Callable[[Round], Found]) -> list[Found]:
    """What `find` gives for each round, in order. Most of a sock is a few rounds repeated; each is asked once."""
    keys = [*map(id, rounds)]
    found = {key: find(item) for key, item in dict(zip(keys, rounds, strict=True)).items()}
    return [found[key] for key in keys]


def how_often(rounds: Sequence[Round]) -> list[tuple[Round, int]]:
    """Each different round, and how often it is worked."""
    keys = [*map(id, rounds)]
    times = Counter(keys)
    return [(item, times[key]) for key, item in dict(zip(keys, rounds, strict=True)).items()]


def fabric_rounds(rounds: Sequence[Round]) -> int:
    """How many of the rounds add height."""
    return sum(item.is_fabric for item in rounds)


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


def is_spread(item: Round) -> bool:
    """Whether a round changes a whole count at once."""
    return item.note is not None and item.note.startswith(EVENLY)


def evenly_changed(*zones: tuple[Zone, int, int], why: str) -> Round:
    """A round that changes the stitches of each (zone, from, to) evenly, and says `why` in its note."""
    before, after = sum(count for _, count, _ in zones), sum(to for _, _, to in zones)
    return row(
        *((zone, evenly(count, to)) for zone, count, to in zones),
        before=before,
        kind="increase" if after > before else "decrease",
        note=f"{EVENLY}: {before} stitches become {after}, {why}.",
    )


def narrowed(stitches: int, ends: Ends = "both") -> Ops:
    """A zone with one stitch less at these ends: ssk leans away from the start, k2tog towards the end.

    One stitch stays outside the decreases while there are six or more; needs four.
    """
    edge = op("k", 1 if stitches >= 6 else 0)
    first = edge + op("ssk") if ends != "last" else ()
    last = op("k2tog") + edge if ends != "first" else ()
    return first + op("k", stitches - takes(first + last)) + last


def fold_groups(groups: Sequence[Ops]) -> Ops:
    """Groups of operations with neighbours that are alike, written as a repeat."""
    folded: Ops = ()
    start = 0
    for end in range(1, len(groups) + 1):
        if end == len(groups) or groups[end] != groups[start]:
            folded += repeat(end - start, groups[start])
            start = end
    return folded


def fold(rounds: Sequence[Round], longest: int = LONGEST_PERIOD) -> tuple[Step, ...]:
    """Rounds as steps: runs of the same round, or of the same group of rows, written once with their number.

    A group has at most `longest` rows.
    """
    steps: list[Step] = []
    numbers = _numbered(rounds)
    start = 0
    while start < len(rounds):
        best, times = 1, 1
        for period in _periods(numbers[start : start + longest + 1]):
            if best * times == len(numbers) - start:
                break  # nothing can be longer
            end = start
            while end + period < len(numbers) and numbers[end] == numbers[end + period]:
                end += 1
            found = 1 + (end - start) // period
            if found > 1 and found * period > best * times:
                best, times = period, found
        steps.append(Step(times=times, rounds=tuple(rounds[start : start + best])))
        start += best * times
    return tuple(steps)


def _periods(numbers: Sequence[int]) -> list[int]:
    """How far ahead the first number comes again; no group that it begins is repeated at another distance."""
    first, *ahead = numbers
    if first not in ahead:
        return []
    return [distance for distance, number in enumerate(ahead, start=1) if number == first]


def _numbered(rounds: Sequence[Round]) -> list[int]:
    """A number for each round, the same for equal ones."""
    alike: dict[object, list[Round]] = defaultdict(list)

    def number(item: Round) -> int:
        # Most rounds that differ do so in these, which are compared far faster than the rounds.
        like = alike[item.before, item.after, item.made, item.chart_row, item.side, item.kind]
        first = next((other for other in like if other == item), item)
        if first is item:
            like.append(item)
        return id(first)

    return map_unique(rounds, number)
