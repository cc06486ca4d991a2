"""A stitch pattern placed as a panel on the middle of a front, with columns of another kind beside it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from .lie import Columns, columns_of
from .operations import Names, OpName
from .repeat import Rounds


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
