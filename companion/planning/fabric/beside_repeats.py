"""Stitches of a straight leg that are over beside its whole repeats: where they lie, and in words.

They are columns in the ground of the pattern, out of sight behind: beside others of the ground they are hardly seen.
"""

from __future__ import annotations

from functools import lru_cache

from ..plan.rounds import Ops, op
from ..request.stitch_pattern import StitchPattern
from ..stitches.columns import Columns, columns_of, over_of
from ..units import counted
from .stretches import joined, repeats_of


@lru_cache(maxsize=4096)
def with_columns_over(columns: Columns, number: int, begins: int, stitches: int, front: int) -> Ops:
    """A round (from 0) of whole repeats from the column that it `begins` with, and of the columns over at the back."""
    over = over_of(stitches, columns.width)
    first = _columns_before(columns, begins, stitches - over, max(0, stitches - over - front))
    return joined(
        repeats_of(columns, number, begins, first),
        op(columns.ground, over),
        repeats_of(columns, number, begins + first, stitches - over - first, at_the_end=True),
    )


def _columns_before(columns: Columns, begins: int, in_pattern: int, behind: int) -> int:
    """Columns of the pattern before those over: about half of the ones `behind`, up to a column of the ground."""
    places = [count for count in range(in_pattern + 1) if columns.is_cut(begins + count)]
    return min(
        places,
        key=lambda count: (
            count > behind,
            not (columns.is_ground(begins + count - 1) or columns.is_ground(begins + count)),
            not columns.is_seam(begins + count),
            abs(2 * count - behind),
        ),
    )


def in_repeats(pattern: StitchPattern, stitches: int) -> str:
    """So many stitches of a straight leg in words: "10 repeats", "10 repeats and 1 purl stitch"."""
    whole = counted(stitches // pattern.width, "repeat")
    return " and ".join(filter(None, [whole, over_in_words(pattern, stitches)]))


def over_in_words(pattern: StitchPattern, stitches: int) -> str:
    """Those of them that are over beside whole repeats: "1 purl stitch"; nothing where none are."""
    over = over_of(stitches, pattern.width)
    purled = columns_of(pattern.rounds).ground == "p" and over < stitches
    kind = "purl" if purled else "plain"
    return counted(over, f"{kind} stitch") if over else ""
