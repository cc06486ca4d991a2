"""The repeat of a stitch pattern: rows that are read become rounds that are equally wide and keep their stitches."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import TypeAlias

from .labels import Label
from .operations import OPERATIONS, Names
from .reading import MOST_STITCHES, TypedRow, read_row

Rounds: TypeAlias = tuple[Names, ...]
"""The rounds of a repeat in the order of working, each with the operations of one repeat."""


def taken(names: Names) -> int:
    """Stitches that operations take from the left needle."""
    return sum(OPERATIONS[name].takes for name in names)


def made(names: Names) -> int:
    """Stitches that operations put on the right needle."""
    return sum(OPERATIONS[name].makes for name in names)


@lru_cache(maxsize=256)
def rounds_of(rows: tuple[str, ...]) -> Rounds:
    """The rounds of the repeat that these rows describe.

    Each row is a repeat as wide as the widest, or a part of it that is worked over and over. Raises ValueError with a
    sentence for the knitter where a row cannot be read (ReadingError), the rounds do not follow one another, a row is
    of another width, does not give back as many stitches as it takes, or only slips them.
    """
    rounds = _in_order([read_row(row) for row in rows])
    width = max(map(taken, rounds))
    if width > MOST_STITCHES:
        raise ValueError(_too_wide(width))
    return tuple(_as_wide(names, width, number) for number, names in enumerate(rounds, start=1))


def drawn_rounds(rows: Sequence[str]) -> Rounds:
    """The rounds that these rows describe, as a chart has them: a square for each stitch that is made.

    A round may take other stitches than it gives, as while it is being drawn. Raises ValueError with a sentence for the
    knitter where a row cannot be read (ReadingError), or a round does not make as many stitches as the widest or a
    whole part of it.
    """
    rounds = _in_order([read_row(row) for row in rows])
    width = max(map(made, rounds))
    if width > MOST_STITCHES:
        raise ValueError(_too_wide(width))
    for number, names in enumerate(rounds, start=1):
        if not made(names) or width % made(names):
            raise ValueError(
                f"round {number} makes {made(names)} stitches, and the widest round {width}; make every round as wide"
            )
    return tuple(names * (width // made(names)) for names in rounds)


def _too_wide(width: int) -> str:
    return f"the repeat has {width} stitches, and may have {MOST_STITCHES}; type one repeat only"


def _in_order(rows: Sequence[TypedRow]) -> list[Names]:
    """The operations of each round in order, by the numbers of the rounds or as the rows stand."""
    if all(row.label == Label() for row in rows):
        return [row.names for row in rows]
    found = _numbered(rows)
    for number in range(1, max(found) + 1):
        if number not in found:
            raise ValueError(f"round {number} is missing, and there is a round {max(found)}; describe every round")
    return [_worked(found, number) for number in sorted(found)]


def _numbered(rows: Sequence[TypedRow]) -> dict[int, TypedRow]:
    """The row of each round by its number, those for every other round where no other row is."""
    found: dict[int, TypedRow] = {}
    for place, row in enumerate(rows, start=1):
        if row.label == Label():
            raise ValueError(f"row {place} does not say which round it is, and others do; number all rows, or none")
        for number in row.label.rounds:
            if number in found:
                raise ValueError(f"round {number} is described twice; leave one of the two out")
            found[number] = row
    for row in rows:
        if row.label.every_other:
            for number in range(row.label.every_other, _even(max(found, default=1)) + 1, 2):
                found.setdefault(number, row)
    return found


def _even(number: int) -> int:
    """The number, or the next one where it is odd: rounds of which every other one is alike come in pairs."""
    return number + number % 2


def _worked(found: Mapping[int, TypedRow], number: int) -> Names:
    """The operations of a round, its own or those of an earlier one that it is worked like."""
    row = found[number]
    if not row.like:
        return row.names
    if len(row.label.rounds) % len(row.like):
        raise ValueError(
            f"{len(row.label.rounds)} rounds are to be worked as {len(row.like)} others; give one for each of them"
        )
    place = row.label.rounds.index(number) if number in row.label.rounds else 0
    like = row.like[place % len(row.like)]
    if like >= number or like not in found:
        raise ValueError(f"round {number} is as round {like}, which is not before it; describe its stitches")
    return _worked(found, like)


def _as_wide(names: Names, width: int, number: int) -> Names:
    takes, makes = taken(names), made(names)
    if takes != makes:
        more = "more" if makes > takes else "fewer"
        too = "an increase too many, or a decrease is missing" if makes > takes else "a decrease too many"
        raise ValueError(
            f"round {number} takes {takes} stitches and makes {makes}, {abs(makes - takes)} {more}; "
            f"each round has to give back what it takes: there is {too}"
        )
    if not any(OPERATIONS[name].loops for name in names):
        raise ValueError(
            f"round {number} slips every stitch, which knits nothing; knit or purl one of them, or leave it out"
        )
    if width % takes:
        raise ValueError(
            f"round {number} has {takes} stitches, and the widest round of the repeat has {width}; "
            "make every round as wide, or a whole part of it"
        )
    return names * (width // takes)
