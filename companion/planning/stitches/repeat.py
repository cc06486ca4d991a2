"""The repeat of a stitch pattern: rows that are read become rounds that are equally wide and keep their stitches."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from .alignment import aligned
from .items import MOST_STITCHES
from .operations import OPERATIONS, Names, Rounds, made, taken
from .order import in_order


class RepeatRead(NamedTuple):
    """The rounds of a repeat, and how they were rows of a flat piece.

    That is whether rows from the wrong side were turned into some of them, and whether stitches beside the repeats were
    left out.
    """

    rounds: Rounds
    turned: bool
    left_out: bool


def rounds_of(rows: tuple[str, ...]) -> Rounds:
    """The rounds of the repeat that these rows describe; raises ValueError as `read_repeat` does."""
    return read_repeat(rows).rounds


@lru_cache(maxsize=256)
def read_repeat(rows: tuple[str, ...]) -> RepeatRead:
    """The repeat that these rows describe.

    Each row is a repeat as wide as the widest, or a part of it that is worked over and over. Raises ValueError with a
    sentence for the knitter where a row cannot be read (ReadingError), the rounds do not follow one another, a row is
    of another width, does not give back as many stitches as it takes, or only slips them, or the repeats of a flat
    piece do not stand above one another.
    """
    ordered = in_order(rows)
    width = max(taken(row.names) for row in ordered.rows)
    if width > MOST_STITCHES:
        raise ValueError(_too_wide(width))
    rounds = tuple(_as_wide(row.names, width, number) for number, row in enumerate(ordered.rows, start=1))
    left_out = any(row.has_edges for row in ordered.rows)
    return RepeatRead(aligned(ordered.rows, rounds) if left_out else rounds, bool(ordered.wrong_sides), left_out)


def drawn_rounds(rows: Sequence[str]) -> Rounds:
    """The rounds that these rows describe, as a chart has them: a square for each stitch that is made.

    A round may take other stitches than it gives, as while it is being drawn. Raises ValueError with a sentence for the
    knitter where a row cannot be read (ReadingError), or rows with edges make no repeat, or a round does not make as
    many stitches as the widest or a whole part of it.
    """
    ordered = in_order(rows).rows
    if any(row.has_edges for row in ordered):
        return rounds_of(tuple(rows))
    rounds = [row.names for row in ordered]
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
