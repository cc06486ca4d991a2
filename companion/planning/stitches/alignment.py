"""Repeats of a flat piece, which begin at different stitches of their rows, turned so that their columns run on.

Places are counted from the right end of the needle as the right side shows it, whatever the edges take and make. A
round begins between two operations, where the round below it began too, and after all of them where the first began.
What an edge takes lies below what it makes, and so does each repeat; inside one, what comes after a yarn over lies a
stitch further on than what it was made from. So a round may begin there as well, if another one makes up for it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import accumulate, pairwise
from math import gcd
from typing import TypeAlias

from .operations import OPERATIONS, Names, Rounds, made, taken
from .reading import TypedRow

Places: TypeAlias = Mapping[int, list[tuple[int, int]]]
"""Where a round can begin: by the place in the row below, the place in its own row, and the operations before it."""

Way: TypeAlias = tuple["Way", int] | tuple[()]
"""Where the rounds up to one begin, the last of them first."""

ACROSS = (
    "in no place can all rounds begin, for a decrease, an increase or a cable of one of them lies across it; "
    "choose a pattern with a stitch between its repeats"
)


def aligned(rows: Sequence[TypedRow], repeats: Rounds) -> Rounds:
    """The rounds that rows with edges are in a round, without these; `repeats` are the repeats of them, equally wide.

    They begin as near to the first row's repeat as they can. Raises ValueError with a sentence for the knitter where
    the repeats do not come out even over those of the row below, or no place is between two operations of all of them.
    """
    _come_out_even(rows)
    width = taken(repeats[0])
    places = [_places(row, names, width) for row, names in zip(rows, repeats, strict=True)]
    for begins in _nearest(taken(rows[0].before), width):
        ways: dict[int, Way] = {begins: ()}
        for row in places:
            above: dict[int, Way] = {}
            for place, way in ways.items():
                for next_place, operations in row.get(place, ()):
                    above.setdefault(next_place, (way, operations))
            ways = above
        if begins in ways:
            turns = _turns(ways[begins])
            return tuple(names[by:] + names[:by] for names, by in zip(repeats, turns, strict=True))
    raise ValueError(_why(rows, width))


def _come_out_even(rows: Sequence[TypedRow]) -> None:
    """Whether the stitches beside whole repeats are those that the row below leaves there."""
    numbered = [(number, row, row.after) for number, row in enumerate(rows, start=1)]
    for (below, lower, lower_after), (above, upper, upper_after) in pairwise([*numbered, numbered[0]]):
        if lower_after is None or upper_after is None:
            continue
        leaves, takes = made(lower.before + lower_after), taken(upper.before + upper_after)
        if (leaves - takes) % gcd(taken(lower.names), taken(upper.names)):
            raise ValueError(
                f"beside whole repeats row {below} leaves {leaves} stitches, and row {above} takes {takes}; "
                "check what stands before and behind the stars"
            )


def _places(row: TypedRow, names: Names, width: int) -> Places:
    """Where a round can begin in a row; where it begins with what lies straight above comes first."""
    takes = accumulate((OPERATIONS[name].takes for name in names), initial=0)
    makes = accumulate((OPERATIONS[name].makes for name in names), initial=0)
    before = [*zip(takes, makes, range(len(names)), strict=False)]
    found: dict[int, list[tuple[int, int]]] = {}
    for lower, upper, operations in sorted(before, key=lambda place: abs(place[0] - place[1])):
        place = (taken(row.before) + lower) % width
        found.setdefault(place, []).append(((made(row.before) + upper) % width, operations))
    return found


def _nearest(place: int, width: int) -> Iterator[int]:
    """All places, those next to one first."""
    return ((place + (way // 2 if way % 2 == 0 else -(way + 1) // 2)) % width for way in range(width))


def _turns(way: Way) -> list[int]:
    turns: list[int] = []
    while way:
        way, operations = way
        turns.insert(0, operations)
    return turns


def _why(rows: Sequence[TypedRow], width: int) -> str:
    aside = sum(made(row.before) - taken(row.before) for row in rows) % width
    if not aside:
        return ACROSS
    return (
        f"after the last row the repeats lie {min(aside, width - aside)} beside those of the first; "
        "check what stands before the stars"
    )
