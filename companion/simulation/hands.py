"""The gauge that a simulated knitter really has, from her first round to her last."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice
from random import Random
from typing import NamedTuple

from .kinds import Kind

DAYS = 80
"""Rounds after which a gauge that wanders has lost about two thirds of its mood."""

CHANGED = (0.1, 0.6)
"""The parts of the way between which needle or hands change."""


class Fabric(NamedTuple):
    """Stitches and rounds over 10 cm."""

    stitches: float
    rounds: float


@dataclass(frozen=True)
class Hands:
    """A gauge over 10 cm as it goes on, `whole` rounds being a sock.

    It drifts by a part of itself over a sock, and jumps by `step` at `changed`, a part of a sock. `moods` are parts
    of it, a number for each round.
    """

    start: Fabric
    whole: int
    drift: float = 0.0
    step: float = 0.0
    changed: float = 0.0
    moods: tuple[float, ...] = (0.0,)

    def at(self, knitted: int) -> Fabric:
        """The gauge of the next round when so many were knitted, the ripped ones included."""
        part = knitted / self.whole
        jumped = 1 + self.step if part >= self.changed else 1.0
        moved = (1 + self.drift * part) * jumped * (1 + self.moods[knitted % len(self.moods)])
        return Fabric(self.start.stitches * moved, self.start.rounds * moved)


def hands_of(kind: Kind, planned: Fabric, whole: int, draw: Random) -> Hands:
    """The hands of one knitter of a kind, with so many rounds planned at this gauge."""
    off = kind.off
    return Hands(
        Fabric(planned.stitches * (1 + draw.uniform(-off, off)), planned.rounds * (1 + draw.uniform(-off, off))),
        whole,
        draw.uniform(-kind.drift, kind.drift),
        draw.choice((-1, 1)) * draw.uniform(*kind.step) if kind.step else 0.0,
        draw.uniform(*CHANGED),
        tuple(islice(_moods(kind.wanders, draw), 4 * whole)) if kind.wanders else (0.0,),
    )


def _moods(wanders: float, draw: Random) -> Iterator[float]:
    """How far the gauge strays, round by round: it comes back by itself (G. E. Uhlenbeck and L. S. Ornstein,
    Physical Review 36, 1930, 823)."""
    keeps = math.exp(-1 / DAYS)
    mood = draw.gauss(0, wanders)
    while True:
        yield mood
        mood = keeps * mood + math.sqrt(1 - keeps**2) * draw.gauss(0, wanders)
