"""Which rounds of a part are in the pattern of the leg: all of them, or those up to where it ends before the toe."""

from __future__ import annotations

from dataclasses import replace
from typing import Protocol

from ..fabric.painter import Rounds
from .sections.base import Aim, Part
from .sections.foot import FOOT

ENDS_HERE = "The pattern ends here: the instep is plain from here to the toe."


class PatternLayer(Protocol):
    """Lays the pattern over rounds, some of them already done; gives them back with the pattern's round worked last."""

    def __call__(self, rounds: Rounds, done: int) -> tuple[Rounds, int]:
        """The rounds, and the last one of the pattern."""


def in_pattern(aim: Aim, part: Part, rounds: Rounds, done: int, lay: PatternLayer) -> tuple[Rounds, int]:
    """The rounds of a part with the pattern over them, and the round of the pattern worked last."""
    plain = aim.plain_before_toe if part is FOOT else 0
    if aim.request.construction.direction == "toe-up":
        laid, last = lay(rounds[plain:], max(0, done - plain))
        return (*rounds[:plain], *laid), last
    end = max(done, len(rounds) - plain)
    laid, last = lay(rounds[:end], done)
    ended = 0 < done == end and laid[-1].chart_row is None
    return (*laid, *(rounds[end:] if ended else _plain_from_here(rounds[end:]))), last


def _plain_from_here(rounds: Rounds) -> Rounds:
    """Rounds that are no longer in pattern, the first of them saying so."""
    if not rounds:
        return rounds
    return (replace(rounds[0], note=" ".join(filter(None, [rounds[0].note, ENDS_HERE]))), *rounds[1:])
