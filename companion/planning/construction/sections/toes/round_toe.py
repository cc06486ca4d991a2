"""Toes decreased evenly all round to a small tip: the round toe at eight places, the star toe at four."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from ....fit.targets import nearest
from ....plan.document import Round
from ....plan.rounds import evenly, op, row
from ...shaping import slow_first, spread_plain
from ..base import Aim, Built, Knitted, Part, Progress
from .toe_common import drawing_together, toe_foot_rounds, where_it_begins

TIP = 8
"""Stitches that are drawn together at the tip, or cast on there (common practice)."""


@dataclass(frozen=True)
class Tapering:
    """A toe with so many decreases in each shaping round, spread evenly.

    `share` has the plain rounds after each of so many shaping rounds, of so many plain ones, towards the tip.
    """

    points: int
    share: Callable[[int, int], tuple[int, ...]]

    def counts(self, stitches: int) -> list[int]:
        """Stitches after each shaping round: down to a multiple of the points, then so many fewer each time."""
        first = (stitches - 1) // self.points * self.points
        return list(range(first, TIP - 1, -self.points))

    def rounds(self, stitches: int, rounds: int) -> tuple[Round, ...]:
        """Shaping and plain rounds to the tip."""
        counts = self.counts(stitches)
        if not counts:
            return (row(("toe", op("k", stitches)), before=stitches),) * max(0, rounds)
        made: list[Round] = []
        for count, plain in zip(counts, self.share(len(counts), max(0, rounds - len(counts))), strict=True):
            made.append(row(("toe", evenly(stitches, count)), before=stitches, kind="decrease"))
            stitches = count
            made += [row(("toe", op("k", stitches)), before=stitches)] * plain
        return tuple(made)

    def height(self, aim: Aim, sole: int, instep: int) -> int:
        """Rounds of the toe: as many as asked for, but not fewer than its shaping needs."""
        return max(len(self.counts(sole + instep)), nearest(aim.toe_rounds))

    def build(self, aim: Aim, before: Progress, knitted: Knitted) -> Built:
        """Shaping and plain rounds to the tip in the rounds that are left; its last stitches are drawn together."""
        rounds = knitted.rounds
        if rounds and not rounds[-1].after:
            return rounds, before.after(rounds, on_foot=True)
        whole = where_it_begins(aim, before, self.rounds(before.live, aim.foot_rounds - before.foot_rounds))
        if [item.work for item in whole[: len(rounds)]] == [item.work for item in rounds]:
            rounds += whole[len(rounds) :]
        else:
            rounds += self.rounds(rounds[-1].after, aim.foot_rounds - toe_foot_rounds(before, rounds))
        rounds += (drawing_together(rounds[-1].after),)
        return rounds, before.after(rounds, on_foot=True)


ROUND = Tapering(8, spread_plain)
STAR = Tapering(4, slow_first)
"""Points and rhythm are common practice."""

ROUND_TOE = Part("toe", "Toe", "toe", ROUND.build, countable=True)
STAR_TOE = Part("toe", "Toe", "toe", STAR.build, countable=True)
