"""A stitch pattern placed as a panel on the middle of a front, with columns of another kind beside it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal, TypeAlias

from .columns import Columns, columns_of
from .operations import Names, OpName, Rounds

Lean: TypeAlias = Literal["left", "right"]

PURLED: frozenset[OpName] = frozenset({"p", "ptbl"})

CHANGES: dict[tuple[Lean, bool, int], OpName] = {
    ("left", False, -1): "ssk", ("right", False, -1): "k2tog", ("left", True, -1): "ssp", ("right", True, -1): "p2tog",
    ("left", False, 1): "m1l", ("right", False, 1): "m1r", ("left", True, 1): "m1p", ("right", True, 1): "m1p",
}  # fmt: skip
"""Decreases and increases by their lean, whether they lie in a purl column, and the stitches that they add."""


LEANS: dict[int, tuple[Lean, Lean]] = {-1: ("left", "right"), 1: ("right", "left")}
"""To which sides the changes lean at the right and at the left side of a sock, by the stitches that each adds."""


@dataclass(frozen=True)
class Panel:
    """So many `columns` of a pattern from the `first` on, and what is worked `beside` them, over and over, outwards."""

    columns: Columns
    first: int
    width: int
    beside: Names

    def between(self, stitches: int) -> Names:
        """What is worked from one panel to the next around the sock: the columns beside both meet in the middle."""
        return tuple(self.at(min(place, stitches - 1 - place)) for place in range(stitches))

    def before(self, stitches: int) -> Names:
        """So many columns up to the panel."""
        return tuple(self.at(place) for place in reversed(range(stitches)))

    def after(self, stitches: int) -> Names:
        """So many columns from the panel on."""
        return tuple(self.at(place) for place in range(stitches))

    def round(self, number: int) -> Names:
        """The operations of a round (from 0) of the panel itself."""
        return self.columns.between(number, self.first, self.width)

    @property
    def rounds(self) -> Rounds:
        """The operations of each of its rounds."""
        return tuple(map(self.round, range(len(self.columns.rounds))))

    def beside_on(self, front: int) -> tuple[int, int]:
        """The stitches before and after the panel, which lies on the middle of a front of so many."""
        before = (front - self.width) // 2
        return before, front - self.width - before

    def sides(self, front: int, stitches: int, *, back: bool) -> tuple[int, ...]:
        """The stitches from each panel to the next around a leg, the front's first; another may lie on its `back`."""
        before, after = self.beside_on(front)
        behind = stitches - front
        if not back:
            return (after + behind + before,)
        first, second = self.beside_on(behind)
        return after + first, second + before

    def changed(self, stitches: int, by: int, *, leans: Lean, at_least: int = 0) -> Names:
        """The same with one stitch less or more at the end of it, for -1 or 1, after the first so many stitches."""
        names = self.between(stitches + by)
        place = self.place_of_change(stitches, by, at_least)
        purled = names[place] in PURLED
        return (*names[:place], CHANGES[leans, purled, by], *names[place + 1 :])

    @staticmethod
    def place_of_change(stitches: int, by: int, at_least: int = 0) -> int:
        """The operations before the one that changes so many stitches: it is in the middle, where the columns meet."""
        return max((stitches + by) // 2, at_least + 1) if by > 0 else max(stitches // 2 - 1, at_least)

    def can_be_shaped_on(self, back: int) -> bool:
        """Whether a back of so many stitches, with the panel on its middle, has one on either side to be shaped in."""
        return back - self.width >= 2

    def at(self, place: int) -> OpName:
        """What is worked so many stitches away from the panel."""
        return self.beside[place % len(self.beside)]


@lru_cache(maxsize=256)
def panel_with(rounds: Rounds, repeats: int, beside: Names) -> Panel:
    """The panel of so many repeats, and of as few columns more as make it begin and end alike where it can."""
    columns = columns_of(rounds)
    at_seams = any(map(columns.is_seam, range(columns.width)))
    fits = columns.is_seam if at_seams else columns.is_cut
    whole = repeats * columns.width
    found = [
        (first, width)
        for first in sorted(columns.cuts)
        for width in range(whole, whole + columns.width)
        if fits(first) and fits(first + width)
    ]
    first, width = min(
        found,
        key=lambda panel: (
            not columns.ends_alike(*panel),
            columns.begins_with_an_increase(panel[0]),
            panel[1],
            panel[0],
        ),
        default=(0, whole),
    )
    return Panel(columns, first, width, beside)
