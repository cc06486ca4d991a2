"""The round toe: eight decreases spread evenly, with fewer and fewer plain rounds between towards the tip."""

from __future__ import annotations

from ....fit.targets import nearest
from ....plan.document import Round
from ....plan.rounds import evenly, op, row
from ...shaping import spread_plain
from ..base import Aim, Built, Knitted, Part, Progress
from .toe_common import drawing_together, toe_foot_rounds, where_it_begins

WEDGES = 8
"""Decreases in a round (common practice)."""


def _counts(stitches: int) -> list[int]:
    """Stitches after each shaping round: down to a multiple of eight, then eight fewer each time, to eight."""
    first = (stitches - 1) // WEDGES * WEDGES
    return list(range(first, 0, -WEDGES))


def _rounds(stitches: int, rounds: int) -> tuple[Round, ...]:
    counts = _counts(stitches)
    if not counts:
        return (row(("toe", op("k", stitches)), before=stitches),) * max(0, rounds)
    made: list[Round] = []
    for count, plain in zip(counts, spread_plain(len(counts), max(0, rounds - len(counts))), strict=True):
        made.append(row(("toe", evenly(stitches, count)), before=stitches, kind="decrease"))
        stitches = count
        made += [row(("toe", op("k", stitches)), before=stitches)] * plain
    return tuple(made)


def height(aim: Aim, sole: int, instep: int) -> int:
    """Rounds of the toe: as many as asked for, but not fewer than its shaping needs."""
    return max(len(_counts(sole + instep)), nearest(aim.toe_rounds))


def build(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """Shaping and plain rounds to the tip in the rounds that are left; its last stitches are drawn together."""
    rounds = knitted.rounds
    if rounds and not rounds[-1].after:
        return rounds, before.after(rounds, on_foot=True)
    whole = where_it_begins(aim, before, _rounds(before.live, aim.foot_rounds - before.foot_rounds))
    if [item.work for item in whole[: len(rounds)]] == [item.work for item in rounds]:
        rounds += whole[len(rounds) :]
    else:
        rounds += _rounds(rounds[-1].after, aim.foot_rounds - toe_foot_rounds(before, rounds))
    rounds += (drawing_together(rounds[-1].after),)
    return rounds, before.after(rounds, on_foot=True)


ROUND_TOE = Part("toe", "Toe", "toe", build, countable=True)
