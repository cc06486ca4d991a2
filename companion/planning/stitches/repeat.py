"""The repeat of a stitch pattern: rows that are read become rounds that are equally wide and keep their stitches."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple, TypeAlias

from .operations import OPERATIONS, Names
from .order import in_order
from .reading import MOST_STITCHES

Rounds: TypeAlias = tuple[Names, ...]
"""The rounds of a repeat in the order of working, each with the operations of one repeat."""


def taken(names: Names) -> int:
    """Stitches that operations take from the left needle."""
    return sum(OPERATIONS[name].takes for name in names)


def made(names: Names) -> int:
    """Stitches that operations put on the right needle."""
    return sum(OPERATIONS[name].makes for name in names)


class RepeatRead(NamedTuple):
    """The rounds of a repeat, and whether rows from the wrong side were turned into some of them."""

    rounds: Rounds
    turned: bool


def rounds_of(rows: tuple[str, ...]) -> Rounds:
    """The rounds of the repeat that these rows describe; raises ValueError as `read_repeat` does."""
    return read_repeat(rows).rounds


@lru_cache(maxsize=256)
def read_repeat(rows: tuple[str, ...]) -> RepeatRead:
    """The repeat that these rows describe.

    Each row is a repeat as wide as the widest, or a part of it that is worked over and over. Raises ValueError with a
    sentence for the knitter where a row cannot be read (ReadingError), the rounds do not follow one another, a row is
    of another width, does not give back as many stitches as it takes, or only slips them.
    """
    ordered = in_order(rows)
    width = max(taken(row.names) for row in ordered.rows)
    if width > MOST_STITCHES:
        raise ValueError(_too_wide(width))
    rounds = tuple(_as_wide(row.names, width, number) for number, row in enumerate(ordered.rows, start=1))
    return RepeatRead(rounds, bool(ordered.wrong_sides))


def drawn_rounds(rows: Sequence[str]) -> Rounds:
    """The rounds that these rows describe, as a chart has them: a square for each stitch that is made.

    A round may take other stitches than it gives, as while it is being drawn. Raises ValueError with a sentence for the
    knitter where a row cannot be read (ReadingError), or a round does not make as many stitches as the widest or a
    whole part of it.
    """
    rounds = [row.names for row in in_order(rows).rows]
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
