"""A leg goes on as it was begun: up to where its stitches change its columns stay where they are.

The middle of a pattern lies on the middle of the front, and another leg has another front; what is on the needles
keeps its own.
"""

from __future__ import annotations

from collections.abc import Callable
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

    @property
    def goes_through(self) -> bool:
        """Whether the pattern goes on through a round that changes the stitches, as stripes do."""

    def lay(self, rounds: Rounds, done: int, last: int) -> tuple[Rounds, int]:
        """The rounds with the pattern over those after the first `done`, and the round of it that is worked last."""

    def with_front(self, front: int) -> Layer:
        """The same on another front."""

    def lays(self, item: Round) -> bool:
        """Whether a round of a leg lies as it would be laid."""


def as_begun(
    layer: Layer, front_over: Callable[[int], int], rounds: Rounds, done: int, last: int
) -> tuple[Rounds, int]:
    """A leg's rounds with the pattern over those after the first `done`, and the round of it that is worked last.

    The layer has the front of what comes after the last even change of the stitches, and `front_over` tells that of
    what comes before one. What is begun keeps its own up to the next. A pattern that is not begun waits for the last.
    """
    if layer.goes_through:
        return layer.lay(rounds, done, last)
    begun = bool(last) or any(item.chart_row for item in rounds[:done])
    laid: Rounds = ()
    for change in (number for number, item in enumerate(rounds) if is_spread(item)):
        part = rounds[len(laid) : change]
        if part and begun:
            part, last = _laid(layer.with_front(front_over(part[-1].after)), part, max(0, done - len(laid)), last)
        laid += part
    part, last = _laid(layer, rounds[len(laid) :], max(0, done - len(laid)), last)
    return laid + part, last


def _laid(layer: Layer, rounds: Rounds, done: int, last: int) -> tuple[Rounds, int]:
    """Rounds of one count with the pattern over those after the first `done`, on the front of these."""
    return layer.with_front(_front_of(layer, rounds[:done])).lay(rounds, done, last)


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
