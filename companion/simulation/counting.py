"""How a simulated knitter counts: over a length of her fabric, to the nearest whole, and not without mistakes.

All numbers here are ours.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from random import Random

from ..planning import Check
from ..planning.gauge.check import Spot
from .kinds import Kind
from .sock import Sock

SPREADS = (0.006, 0.014)
"""The parts of the gauge between which one deviation lies from spot to spot of one fabric, by knitter."""

WIDEST_CM, USUAL_CM = 10.0, 5.0
"""What a careful knitter counts over where there is room, and what half of those do who check at any time."""

FLAT = 0.9
"""The part of a tube lying flat that a ruler can be laid on, between its rounded edges."""

MISCOUNTED, BY_TWO = 0.08, 0.25
"""How often a spot is counted wrong, and how often that is by two and not by one."""

WORN, WORN_BY = 0.5, 0.02
"""How many tapes are worn or badly printed, and by how much: one deviation, as a part of the length."""

SOUND_BY, TRIED_BY = 0.002, 0.002
"""How far a sound tape is off, and how well a known length tells what a tape is off by: 0.5 mm of a sheet of A4."""


@dataclass(frozen=True)
class Eyes:
    """How one knitter counts: over how many cm at most, on how uneven a fabric, with which ruler.

    A length that she reads on it is `ruler` times as long in truth, and she knows of `allowed`; None is a ruler that
    was never tried along a known length.
    """

    over_cm: float
    spread: float
    ruler: float = 1.0
    allowed: float | None = 1.0
    mistakes: bool = False

    def count(self, sock: Sock, spots: tuple[int, int], draw: Random) -> Check:
        """A check at so many spots for stitches and for rounds, on the newest plain fabric."""
        fabric = sock.newest_fabric()
        width = FLAT * sock.stitches_below() / fabric[-1].stitches * 10 / 2
        height = sum(10 / each.rounds for each in fabric)
        recent = fabric[-round(fabric[-1].rounds * min(USUAL_CM, height) / 10) :]
        stitches = tuple(self._spot(draw.choice(recent).stitches, width, draw) for _ in range(spots[0]))
        rounds = []
        for _ in range(spots[1]):
            high = min(self.over_cm, height)
            begin = draw.uniform(0, height - high) / height * len(fabric)
            part = fabric[int(begin) : int(begin + high / height * len(fabric)) + 1]
            rounds.append(self._spot(len(part) / sum(1 / each.rounds for each in part), height, draw))
        return Check(stitches=stitches, rounds=tuple(rounds), round=sock.knitted_ever, sock_round=sock.done)

    def try_ruler(self, draw: Random) -> Eyes:
        """The eyes of one who has tried her ruler, which is done once."""
        if self.allowed is not None:
            return self
        return replace(self, allowed=self.ruler * (1 + draw.gauss(0, TRIED_BY)))

    def _spot(self, gauge: float, room_cm: float, draw: Random) -> Spot:
        read = int(2 * min(self.over_cm, room_cm)) / 2
        count = round(gauge * draw.gauss(1, self.spread) * read * self.ruler / 10)
        if self.mistakes and draw.random() < MISCOUNTED:
            count += draw.choice((-1, 1)) * (2 if draw.random() < BY_TWO else 1)
        return Spot(count=float(count), over_cm=round(read * (self.allowed or 1.0), 2))


def eyes_of(kind: Kind, draw: Random) -> Eyes:
    """The eyes and the ruler of one knitter of a kind."""
    over = WIDEST_CM if kind.own_places is None else draw.choice((WIDEST_CM, USUAL_CM))
    spread = draw.uniform(*SPREADS)
    if not kind.mistakes:
        return Eyes(over, spread)
    ruler = 1 + draw.gauss(0, WORN_BY if draw.random() < WORN else SOUND_BY)
    eyes = Eyes(over, spread, ruler, allowed=None, mistakes=True)
    return eyes.try_ruler(draw) if kind.ruler_tried else eyes
