"""The arithmetic of heel, gusset and toe in whole stitches and rounds."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from ..fit.targets import Fabric, nearest
from ..request.construction import Turn

FLAP_LEAST, FLAP_MOST = 0.75, 1.5
"""Flap rows for each heel stitch. A shorter flap is a shallow cup and a longer one a bag (common practice is 1)."""

ONE_SIDE = 3 / 8
"""The part of a toe shaped to one foot in which only the little toe's side narrows.

allfiber.blogspot.com, 2009/11/29, anatomical toes: every other row on the outside for about 3/4 in, then on both sides
for 1 1/4 in more.
"""

TOE_LEAST, TOE_MOST = 1 / 5, 1 / 3.2
"""What is left to graft, as a part of the foot; common practice is about a quarter."""


@dataclass(frozen=True)
class TurnRow:
    """One row of a heel turn: stitches before its decrease, and whether one more is worked after it."""

    across: int
    one_more: bool


@dataclass(frozen=True)
class HeelTurn:
    """A heel turn over `heel` stitches; every row decreases one across the gap, so `left` remain."""

    heel: int
    rows: tuple[TurnRow, ...]

    @property
    def left(self) -> int:
        """Stitches left after the last row."""
        return self.heel - len(self.rows)


def heel_turn(kind: Turn, heel: int, leaves: int = 0) -> HeelTurn:
    """The turn over so many heel stitches, at least eight, that leaves so many of them or a few more.

    Leaving few, it is as usual; to leave more it begins over more of them.

    Round: the first row goes one or two stitches beyond the middle, whichever lets every stitch be worked, and each
    row goes two further. V: it begins at the very middle, and the last two rows may have no stitch to work after
    their decrease. Square: a band of about a third stays as it is and takes up one stitch a row.
    """
    half, odd = divmod(heel, 2)
    if kind == "square":
        band = max(4 + odd, 2 * nearest((heel - odd) / 6) + odd, leaves)
        return HeelTurn(heel, (TurnRow((heel + band) // 2 - 1, False), *[TurnRow(band - 2, False)] * (heel - band - 1)))
    usual = odd if kind == "V" else 1 if half % 2 == 0 else 2
    # Each row takes one stitch, and all but the last two go on by two.
    beyond = max(usual, leaves - half - 1)
    beside = heel - half - 3 - beyond
    within = 2 * beyond - odd
    rows = [TurnRow(half + beyond, True)]
    rows += [TurnRow(within + row, True) for row in range(1, 2 + 2 * (beside // 2))]
    if beside % 2:
        last = within + len(rows)
        rows += [TurnRow(last, False), TurnRow(last, False)]
    return HeelTurn(heel, tuple(rows))


@dataclass(frozen=True)
class Flap:
    """Rows of a heel flap, and the rows that the foot asks for before they are brought within what a flap can have."""

    rows: int
    wanted: float


def flap_rows(heel: int, instep_and_turned: float, heel_diagonal: float, fabric: Fabric, done: int = 0) -> Flap:
    """Flap rows for a heel pass of the heel diagonal (cm) without ease.

    The pass is the instep, the turned heel (together I + T stitches) and both flap edges: I/g + T/g + 2R/r. R is
    even, within 0.75 to 1.5 rows for each heel stitch, and not less than the rows already done.
    """
    wanted = (heel_diagonal - fabric.width(instep_and_turned)) * fabric.rounds / 2
    least = 2 * math.ceil(max(FLAP_LEAST * heel, done) / 2)
    most = max(2 * math.floor(FLAP_MOST * heel / 2), least)
    return Flap(max(least, min(most, 2 * nearest(wanted / 2))), wanted)


def decrease_rhythm(decreases: int, rounds: int, *, plain_first: bool = False) -> tuple[bool, ...]:
    """Rounds, True for one with decreases and False for a plain one: every second round as long as `rounds` allows.

    When there are too few rounds, the plain ones are left out from the end.
    """
    plain = max(0, min(decreases - 1, rounds - decreases - plain_first))
    rhythm = [False] if plain_first and decreases and rounds > decreases else []
    for number in range(decreases):
        rhythm.append(True)
        if number < plain:
            rhythm.append(False)
    return tuple(rhythm)


@dataclass(frozen=True)
class Toe:
    """A wedge toe: `evening` rounds of two decreases, `slow` of four every second round, `fast` every round.

    Before them comes a round with `single` decreases, 0 or 1: halves may differ by an odd number. `between` is the
    number of plain rounds after each evening round, 0 or 1. A toe shaped to one foot has `one_side` rounds of two
    decreases, every second round, before the slow ones.
    """

    evening: int
    slow: int
    fast: int
    left: int
    between: int = 1
    single: int = 0
    one_side: int = 0

    @property
    def rounds(self) -> int:
        """Rounds of fabric."""
        return self.single + (1 + self.between) * self.evening + 2 * (self.one_side + self.slow) + self.fast

    @property
    def rhythm(self) -> tuple[bool, ...]:
        """The shaping rounds in order: True where a plain round follows."""
        return (bool(self.between),) * self.evening + (True,) * (self.one_side + self.slow) + (False,) * self.fast


def _ends(stitches: int, of: int) -> list[int]:
    """What may be left of the toe when `stitches` are on the needles, for a foot of `of` stitches.

    Two stitches a half at least: a half of three has no room for both of its decreases.
    """
    alike = range(min(stitches, 4 + stitches % 4), stitches + 1, 4)
    within = [left for left in alike if TOE_LEAST * of <= left <= TOE_MOST * of]
    return within or [min(alike, key=lambda left: (abs(left - of / 4), -left))]


def one_sided(rounds: float) -> int:
    """Shaping rounds at the little toe's side alone, in a toe of so many rounds that is shaped to one foot."""
    return max(1, nearest(ONE_SIDE * rounds / 2))


class Rhythm(NamedTuple):
    """What is settled of the rhythm of a toe: slow and fast rounds that are done, and most to come at one side alone.

    One at least comes where there are any.
    """

    slow_done: int = 0
    fast_done: int = 0
    one_side: int = 0


USUAL_RHYTHM = Rhythm()


def wedge_toe(sole: int, instep: int, rounds: float, of: int, rhythm: Rhythm = USUAL_RHYTHM) -> Toe:
    """The wedge toe, for a foot of `of` stitches, whose rounds come nearest to those given.

    The larger of sole and instep is brought down to the other first, every second round where there is time. In the
    whole toe there are no more fast rounds than slow ones. Of equally near toes the one with most of the rounds asked
    for at one side wins, then the one that leaves nearest to a quarter, then the one that evens slowly, then the one
    with fewer fast rounds.
    """
    evening, single = divmod(abs(sole - instep), 2)
    evened = 2 * min(sole, instep)
    beside_at_most = max(0, min(rhythm.one_side, evened // 2 - 2))
    toes = [
        Toe(evening, shaping - fast, fast, left, between, single, beside)
        for between in (1, 0)
        for beside in range(min(1, beside_at_most), beside_at_most + 1)
        for left in _ends(evened - 2 * beside, of)
        for shaping in [(evened - 2 * beside - left) // 4]
        for fast in range(max(0, min(shaping, (shaping + beside + rhythm.slow_done - rhythm.fast_done) // 2)) + 1)
    ]
    return min(
        toes,
        key=lambda toe: (abs(toe.rounds - rounds), -toe.one_side, abs(toe.left - of / 4), -toe.between, toe.fast),
    )


def short_row_middle(stitches: int) -> int:
    """Stitches left in the middle of short rows: about a third (common practice), as odd or even as all of them."""
    odd = stitches % 2
    return 2 * nearest((stitches / 3 - odd) / 2) + odd


def cup_pass(around: float, opening: int, middle: int, rounds: int, fabric: Fabric) -> float:
    """The heel pass in cm through a cup: `around` it, down one slope of so many rounds, across its middle, and up.

    Each slope is straight from the edge of the opening to the middle: the hypotenuse of its width and its height.
    """
    slope = math.hypot(fabric.width(opening - middle) / 2, fabric.height(rounds))
    return fabric.width(around + middle) + 2 * slope


def short_row_pass(heel: int, around: float, fabric: Fabric) -> float:
    """The heel pass of a short-row heel in cm, which is as many rows deep as stitches are left to wait."""
    middle = short_row_middle(heel)
    return cup_pass(around, heel, middle, heel - middle, fabric)


def gusset_increases(heel: int, instep: float, heel_diagonal: float, fabric: Fabric) -> int:
    """Increases a side before a short-row heel that bring its heel pass to the heel diagonal (cm), without ease.

    Each pair adds two stitches to the way round. None where the heel passes anyway, at most half the heel.
    """
    missing = heel_diagonal - short_row_pass(heel, instep, fabric)
    return max(0, min(heel // 2, nearest(missing * fabric.stitches / 2)))


def slow_first(shaping: int, plain: int) -> tuple[int, ...]:
    """Plain rounds after each of the shaping rounds of a star toe: one more after the first ones than after the last.

    katyafrankel.com, 2015/12, star toe: every second round, then every round; for a longer one every third, then every
    second.
    """
    each, more = divmod(plain, shaping)
    return tuple(each + (number < more) for number in range(shaping))


def spread_plain(shaping: int, plain: int) -> tuple[int, ...]:
    """Plain rounds after each of the shaping rounds of a round toe, fewer and fewer towards the tip."""
    parts = [plain * (1 - ((shaping - done) / shaping) ** 2) for done in range(shaping + 1)]
    borders = [nearest(part) for part in parts]
    return tuple(sorted((after - before for before, after in pairwise(borders)), reverse=True))
