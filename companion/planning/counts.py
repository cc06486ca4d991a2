"""The arithmetic of heel, gusset and toe in whole stitches and rounds."""

from __future__ import annotations

import math
from dataclasses import dataclass

from .fit import Fabric, nearest

FLAP_LEAST, FLAP_MOST = 0.75, 1.5
"""Flap rows for each heel stitch. A shorter flap is a shallow cup and a longer one a bag (common practice is 1)."""

TOE_LEAST, TOE_MOST = 1 / 5, 1 / 3.2
"""What is left to graft, as a part of the foot; common practice is about a quarter."""


def even_down(count: int) -> int:
    """The even number at or just below."""
    return count - count % 2


def heel_stitches(leg: int) -> int:
    """Stitches of the heel: half the leg, made even so that slipped and knit stitches alternate to the end."""
    return even_down(leg // 2)


@dataclass(frozen=True)
class RoundTurn:
    """A round heel turn: how far the first row goes beyond the middle, its rows, and the stitches it leaves."""

    heel: int
    beyond: int
    rows: int

    @property
    def left(self) -> int:
        """Stitches left: each row decreases one."""
        return self.heel - self.rows


def round_turn(heel: int) -> RoundTurn:
    """The round turn over an even number of heel stitches, at least eight."""
    half = heel // 2
    beyond = 1 if half % 2 == 0 else 2
    return RoundTurn(heel, beyond, 2 + half - 3 - beyond)


@dataclass(frozen=True)
class Flap:
    """Rows of a heel flap, and the rows that the foot asks for before they are brought within what a flap can have."""

    rows: int
    wanted: float


def flap_rows(heel: int, instep: int, heel_diagonal: float, fabric: Fabric, done: int = 0) -> Flap:
    """Flap rows for a heel pass of the heel diagonal (cm) without ease.

    The pass is the instep, the turned heel and both flap edges: I/g + T/g + 2R/r. R is even, within 0.75 to 1.5
    rows for each heel stitch, and not less than the rows already done.
    """
    wanted = (heel_diagonal - fabric.width(instep + round_turn(heel).left)) * fabric.rounds / 2
    least = 2 * math.ceil(max(FLAP_LEAST * heel, done) / 2)
    most = max(2 * math.floor(FLAP_MOST * heel / 2), least)
    return Flap(max(least, min(most, 2 * nearest(wanted / 2))), wanted)


def decrease_rhythm(decreases: int, rounds: int, *, plain_first: bool = False) -> tuple[bool, ...]:
    """Rounds in which True decreases and False is plain: every second round as long as `rounds` allows.

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

    `between` is the number of plain rounds after each evening round, 0 or 1.
    """

    evening: int
    slow: int
    fast: int
    left: int
    between: int = 1

    @property
    def rounds(self) -> int:
        """Rounds of fabric."""
        return (1 + self.between) * self.evening + 2 * self.slow + self.fast

    @property
    def rhythm(self) -> tuple[bool, ...]:
        """The shaping rounds in order: True where a plain round follows."""
        return (bool(self.between),) * self.evening + (True,) * self.slow + (False,) * self.fast


def _ends(stitches: int, of: int) -> list[int]:
    """What may be left of the toe when `stitches` are on the needles, for a foot of `of` stitches."""
    alike = range(stitches % 4 or 4, stitches + 1, 4)
    within = [left for left in alike if TOE_LEAST * of <= left <= TOE_MOST * of]
    return within or [min(alike, key=lambda left: (abs(left - of / 4), -left))]


def wedge_toe(sole: int, instep: int, rounds: float, of: int) -> Toe:
    """The wedge toe, for a foot of `of` stitches, whose rounds come nearest to those given.

    The larger of sole and instep is brought down to the other first, every second round where there is time. Of
    equally near toes the one that leaves nearest to a quarter wins, then the one that evens slowly, then the one
    with fewer fast rounds.
    """
    evening = abs(sole - instep) // 2
    evened = 2 * min(sole, instep)
    toes = [
        Toe(evening, shaping - fast, fast, left, between)
        for between in (1, 0)
        for left in _ends(evened, of)
        for shaping in [(evened - left) // 4]
        for fast in range(shaping // 2 + 1)
    ]
    return min(toes, key=lambda toe: (abs(toe.rounds - rounds), abs(toe.left - of / 4), -toe.between, toe.fast))
