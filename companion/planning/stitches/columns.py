"""How the columns of a stitch pattern lie on a sock: where a round of it begins, and what an instep shows of it.

Columns are the stitches of a repeat, counted from 0 in the order of working and on beyond it. A border of columns is a
*cut* where no decrease and no cable of any round lies across it, and a *seam* where the columns beside it differ too.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import accumulate
from typing import NamedTuple

from .operations import CABLES, OPERATIONS, Names, OpName, Rounds, made, taken

KNIT, PURL = frozenset({("k",), ("ktbl",)}), frozenset({("p",), ("ptbl",)})
"""The looks of a knit stitch and of a purl one."""

NEARLY_CENTRED = 1.5
"""Stitches, about half a centimetre, that a pattern may lie off the middle of the front, so that its rounds begin with
a repeat (ours)."""

RIBBED = 6
"""Columns of which at least one is purled in every round of a ribbed pattern (ours): a lace rib of k5 and p1 is one."""

ALIKE: dict[OpName, str] = {
    "ssk": "decrease", "skp": "decrease", "k2tog": "decrease", "sssk": "two decreases", "sk2p": "two decreases",
    "k3tog": "two decreases", "m1l": "increase", "m1r": "increase",
    **{name: f"cable of {cable.front} and {cable.behind}" for name, cable in CABLES.items()},
}  # fmt: skip
"""Operations that look alike on either side of a middle, though they lean to different sides."""


class Piece(NamedTuple):
    """A stretch of a round that cannot be cut: what is worked, with which of its columns."""

    looks: tuple[str, ...]
    place: int
    width: int

    def mirrored(self) -> Piece:
        """The same column as it looks from the other side."""
        return Piece(self.looks[::-1], self.width - 1 - self.place, self.width)


class InstepColumns(NamedTuple):
    """What an instep shows of a pattern: its columns from `first` on, with plain stitches before and after them."""

    before: int
    first: int
    width: int
    after: int


@dataclass(frozen=True)
class FrontColumns:
    """A stitch pattern on a front of so many stitches, of which the first has this column."""

    pattern: Columns
    front: int
    first: int

    @property
    def begins(self) -> int:
        """The column with which a round begins that goes all round the leg: it comes after the front's last one."""
        return (self.first + self.front) % self.pattern.width

    @property
    def middle(self) -> int:
        """What lies in the middle of the front, in half columns."""
        return (2 * self.first + self.front) % (2 * self.pattern.width)


class Columns:
    """The columns of a pattern's rounds."""

    def __init__(self, rounds: Rounds) -> None:
        self.rounds = rounds
        self.width = taken(rounds[0])
        cuts = [dict(_cuts(names)) for names in rounds]
        self.cuts = frozenset(range(self.width)).intersection(*cuts)
        self._places = cuts
        self._periods = [_shortest(names) for names in rounds]
        self._increases = {
            column
            for names, places in zip(rounds, cuts, strict=True)
            for column, start in places.items()
            if not OPERATIONS[names[start]].takes
        }
        self._columns = tuple(zip(*(_pieces(names) for names in rounds), strict=True))
        self._mirrored = tuple(tuple(piece.mirrored() for piece in column) for column in self._columns)

    def is_cut(self, column: int) -> bool:
        """Whether the pattern can begin or end before this column."""
        return column % self.width in self.cuts

    def is_seam(self, column: int) -> bool:
        """Whether it can, and the columns there differ."""
        here = column % self.width
        return here in self.cuts and self._columns[here] != self._columns[here - 1]

    def between(self, number: int, first: int, stitches: int) -> Names:
        """The operations of a round (from 0) over so many columns; both ends are cuts."""
        names = self.rounds[number]
        places = self._places[number]
        end = first + stitches
        begin_at, end_at = places[first % self.width], places[end % self.width]
        whole = end // self.width - first // self.width
        return (names * (whole + 1))[begin_at : whole * len(names) + end_at]

    def ends_alike(self, first: int, width: int) -> bool:
        """Whether a middle of the pattern is that of so many columns, and the last of them mirrors the first."""
        last = (first + width - 1) % self.width
        middle = (2 * first + width) % (2 * self.width)
        return middle in self.middles and self._columns[first % self.width] == self._mirrored[last]

    def begins_with_knit(self, column: int) -> bool:
        """Whether this column is knitted in every round."""
        return self._is_all(column, KNIT)

    @cached_property
    def ground(self) -> OpName:
        """What is least seen beside whole repeats: purl where the pattern is ribbed, and else knit."""
        purled = sum(map(self.is_purl, range(self.width)))
        return "p" if purled * RIBBED >= self.width else "k"

    def is_purl(self, column: int) -> bool:
        """Whether this column is purled in every round."""
        return self._is_all(column, PURL)

    def is_ground(self, column: int) -> bool:
        """Whether this column is worked in the ground in every round."""
        return self.is_purl(column) if self.ground == "p" else self.begins_with_knit(column)

    def _is_all(self, column: int, looks: frozenset[tuple[str, ...]]) -> bool:
        return all(piece.looks in looks for piece in self._columns[column % self.width])

    def begins_with_an_increase(self, column: int) -> bool:
        """Whether a round begins with a yarn over there, which is awkward between two needles."""
        return column % self.width in self._increases

    def period(self, number: int) -> int:
        """Operations after which a round (from 0) begins again; a round may be a part of the repeat, over and over."""
        return self._periods[number]

    @cached_property
    def middles(self) -> frozenset[int]:
        """The middles of the pattern in half columns: where its two sides are as like each other as they can be."""
        different = {
            twice: sum(self._columns[at] != self._mirrored[(twice - 1 - at) % self.width] for at in range(self.width))
            for twice in range(2 * self.width)
        }
        least = min(different.values())
        return frozenset(twice for twice, count in different.items() if count == least)


def over_of(stitches: int, width: int) -> int:
    """Stitches that are over beside whole repeats so wide; all of them where there is not one."""
    return stitches % width if stitches >= width else stitches


@lru_cache(maxsize=256)
def columns_of(rounds: Rounds) -> Columns:
    """The columns of a pattern; those of one are found once."""
    return Columns(rounds)


@lru_cache(maxsize=1024)
def front_columns(pattern: Columns, front: int, below: int = 0) -> FrontColumns:
    """How a pattern lies on a front of so many stitches, above an instep in pattern that has so many `below`, or none.

    Rounds of the leg begin with the repeat where that leaves a middle of the pattern near the middle of the front, and
    else at the cut that does. Above an instep the middle is what lies in the middle there, so that columns run on; they
    are off by no more than those beside them, which step where the counts differ.
    """
    goes_on = below and instep_columns(pattern, below).width
    middles = {front_columns(pattern, below).middle} if goes_on else pattern.middles
    near = min(NEARLY_CENTRED, abs(front - below) / 2) if goes_on else NEARLY_CENTRED

    def off(begins: int) -> float:
        """Stitches from the middle of the front to the nearest middle of the pattern."""
        centre = 2 * begins - front
        apart = ((centre - middle) % (2 * pattern.width) for middle in middles)
        return min(min(each, 2 * pattern.width - each) for each in apart) / 2

    begins = min(
        sorted(pattern.cuts),
        key=lambda cut: (
            max(off(cut), near),
            cut != 0,
            pattern.begins_with_an_increase(cut),
            not pattern.is_seam(cut),
            off(cut),
        ),
    )
    return FrontColumns(pattern, front, begins - front)


@lru_cache(maxsize=1024)
def instep_columns(pattern: Columns, instep: int) -> InstepColumns:
    """The columns that an instep of so many stitches shows, which begin and end alike where they can, at seams.

    They are as many as there is room for; the plain stitches beside them are about as many on either side.
    """
    first = front_columns(pattern, instep).first
    at_seams = any(map(pattern.is_seam, range(pattern.width)))
    fits = pattern.is_seam if at_seams else pattern.is_cut
    begins = [at for at in range(min(pattern.width, instep)) if fits(first + at)]
    ends = [at for at in range(max(0, instep - pattern.width), instep + 1) if fits(first + at)]
    stretches = [InstepColumns(at, first + at, end - at, instep - end) for at in begins for end in ends if at < end]
    if not stretches:
        return InstepColumns(instep, first, 0, 0)
    return min(
        stretches,
        key=lambda shown: (
            not pattern.ends_alike(shown.first, shown.width),
            pattern.begins_with_an_increase(shown.first),
            -shown.width,
            abs(shown.before - shown.after),
            not pattern.begins_with_knit(shown.first),
        ),
    )


def _shortest(names: Names) -> int:
    return next(length for length in range(1, len(names) + 1) if names[:length] * (len(names) // length) == names)


def _cuts(names: Names) -> list[tuple[int, int]]:
    """The columns of a round before which it can be cut, each with the number of operations before it."""
    takes = accumulate((OPERATIONS[name].takes for name in names), initial=0)
    makes = accumulate((OPERATIONS[name].makes for name in names), initial=0)
    return [
        (before, number)
        for number, (before, after) in enumerate(zip(takes, makes, strict=True))
        if before == after and number < len(names)
    ]


def _pieces(names: Names) -> list[Piece]:
    """The piece of a round that each of its columns belongs to."""
    places = [number for _, number in _cuts(names)]
    pieces = []
    for begin, end in zip(places, [*places[1:], len(names)], strict=True):
        width = made(names[begin:end])
        looks = tuple(ALIKE.get(name, name) for name in names[begin:end])
        pieces += [Piece(looks, place, width) for place in range(width)]
    return pieces
