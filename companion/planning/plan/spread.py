"""Spreading changes evenly over a round."""

from __future__ import annotations

from itertools import pairwise


def gaps(stitches: int, parts: int) -> list[int]:
    """Split `stitches` into `parts` groups that differ by at most one, as evenly mixed as they can be.

    The larger groups fall where the line from (0, 0) to (parts, stitches) steps up, as in Bresenham's line
    (J. E. Bresenham, IBM Systems Journal 4, 1965), shifted by half a group so that the pattern is balanced.
    Raises ValueError without a group.
    """
    if parts < 1:
        raise ValueError(f"{stitches} stitches cannot be split into {parts} groups")
    borders = [(2 * stitches * part + parts) // (2 * parts) for part in range(parts + 1)]
    return [after - before for before, after in pairwise(borders)]
