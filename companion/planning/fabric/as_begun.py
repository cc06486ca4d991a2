"""A leg goes on as it was begun: up to where its stitches change its columns stay where they are.

The middle of a pattern lies on the middle of the front, and another leg has another front; what is on the needles
keeps its own.
"""

from __future__ import annotations

from typing import Protocol

from ..plan.document import Round
from ..plan.rounds import is_spread

Rounds = tuple[Round, ...]

FARTHEST = 16
"""Stitches by which one front differs from another at most: half of a usual one (ours)."""


class Layer(Protocol):
    """Lays a pattern over rounds whose leg has so many stitches in its `front`."""

    @property
    def front(self) -> int:
        """The stitches of the leg above the instep."""

    def lay(self, rounds: Rounds, done: int, last: int) -> tuple[Rounds, int]:
        """The rounds with the pattern over those after the first `done`, and the round of it that is worked last."""

    def with_front(self, front: int) -> Layer:
        """The same on another front."""

    def lays(self, item: Round) -> bool:
        """Whether a round of a leg lies as it would be laid."""


def as_begun(layer: Layer, rounds: Rounds, done: int, last: int) -> tuple[Rounds, int]:
    """A leg's rounds with the pattern over those after the first `done`, and the round of it that is worked last.

    Those up to the next even change of the stitches have the front that the leg was begun with.
    """
    front = _front_of(layer, rounds[:done])
    if front == layer.front:
        return layer.lay(rounds, done, last)
    change = next((number for number in range(done, len(rounds)) if is_spread(rounds[number])), len(rounds))
    begun, last = layer.with_front(front).lay(rounds[:change], done, last)
    rest, last = layer.lay(rounds[change:], 0, last)
    return begun + rest, last


def _front_of(layer: Layer, knitted: Rounds) -> int:
    """The front on which the pattern lies that was knitted last; the layer's own where none has the pattern so.

    A round by itself may lie the same on every front: each round of the pattern that was knitted so has to fit.
    """
    lie = {item.chart_row: item for item in _straight(knitted) if item.chart_row}
    if not lie:
        return layer.front
    most = next(iter(lie.values())).before
    near = range(max(1, layer.front - FARTHEST), min(most, layer.front + FARTHEST))
    nearest = sorted(near, key=lambda front: abs(front - layer.front))
    fits = (front for front in nearest if all(map(layer.with_front(front).lays, lie.values())))
    return next(fits, layer.front)


def _straight(knitted: Rounds) -> Rounds:
    """The rounds knitted last that have the same count."""
    changed = (at for at in range(len(knitted), 0, -1) if knitted[at - 1].before != knitted[at - 1].after)
    return knitted[next(changed, 0) :]
