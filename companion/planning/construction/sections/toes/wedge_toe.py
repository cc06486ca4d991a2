"""The wedge toe, worked in the round and grafted: the same at both sides, or shaped to one foot."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from ....plan.document import Round
from ....plan.rounds import Ends, fabric_rounds, zone_stitches
from ...shaping import Rhythm, Toe, one_sided, wedge_toe
from ..base import Aim, Built, Knitted, Part, Progress
from .toe_common import ToTheFoot, evened_by_one, grafting, noted, one_ended, shaped, toe_foot_rounds, where_it_begins

BOTH_SIDES = "From here on the toe narrows at both sides."


@dataclass(frozen=True)
class Wedge:
    """A wedge toe. One that is shaped `to` a foot narrows at the little toe's side for a while before the other."""

    to: ToTheFoot | None = None

    def shape(self, halves: tuple[int, int], rounds: float, of: int, begun: tuple[Round, ...] = ()) -> Toe:
        """Its shaping over sole and instep in so many rounds, after those that are `begun`."""
        one_side = 0
        if self.to and not any(item.before - item.after == 4 for item in begun):
            one_side = max(0, one_sided(fabric_rounds(begun) + rounds) - sum(map(one_ended, begun)))
        return wedge_toe(*halves, rounds, of, _rhythm_so_far(begun)._replace(one_side=one_side))

    def height(self, aim: Aim, sole: int, instep: int) -> int:
        """Rounds of the wedge toe over these stitches that comes nearest to the length a toe should have."""
        return self.shape((sole, instep), aim.toe_rounds, of=sole + instep).rounds

    def build(self, aim: Aim, before: Progress, knitted: Knitted) -> Built:
        """Decreases to the tip in the rounds that are left, then grafting."""
        rounds = knitted.rounds
        if not rounds or rounds[-1].after:
            rounds = self._carried_on(aim, before, rounds)
            rounds += (grafting(rounds[-1].after, aim.fabric),)
        return rounds, before.after(rounds, on_foot=True)

    def _carried_on(self, aim: Aim, before: Progress, rounds: tuple[Round, ...]) -> tuple[Round, ...]:
        """The rounds up to the grafting: those of the whole toe where it was begun so, else the rest calculated again.

        Toes begin alike, and differ later.
        """
        halves = before.counts["sole"], before.counts["instep"]
        left = aim.foot_rounds - toe_foot_rounds(before, ())
        whole = self._rounds(halves, left, before.live)
        if self.to:
            whole = noted(whole, self.to.said("narrows sooner at the little toe's side"))
        whole = where_it_begins(aim, before, whole)
        if [item.work for item in whole[: len(rounds)]] == [item.work for item in rounds]:
            return rounds + whole[len(rounds) :]
        halves = zone_stitches(rounds[-1], "sole"), zone_stitches(rounds[-1], "instep")
        left = aim.foot_rounds - toe_foot_rounds(before, rounds)
        return rounds + self._rounds(halves, left, before.live, rounds)

    def _rounds(
        self, halves: tuple[int, int], rounds: int, of: int, begun: tuple[Round, ...] = ()
    ) -> tuple[Round, ...]:
        """The rounds from here to the grafting; `of` is the count that the toe began with, `begun` its rounds so far.

        What the shaping does not fill of the rounds is knitted plain first: a toe already begun can still grow.
        """
        toe = self.shape(halves, rounds, of, begun)
        due = bool(begun) and begun[-1].kind == "decrease" and any(toe.rhythm)
        if due:
            toe = self.shape(halves, rounds - 1, of, begun)
        made = [shaped(*halves)] * max(due, rounds - toe.rounds)
        made += self._shaping(toe, *halves)
        if self.to and any(map(one_ended, (*begun, *made))):
            wide = next((number for number, item in enumerate(made) if item.before - item.after == 4), None)
            if wide is not None and not any(item.before - item.after == 4 for item in begun):
                made[wide] = replace(made[wide], note=BOTH_SIDES)
        return tuple(made)

    def _shaping(self, toe: Toe, sole: int, instep: int) -> Iterator[Round]:
        if toe.single:
            item = evened_by_one(sole, instep)
            yield item
            sole, instep = zone_stitches(item, "sole"), zone_stitches(item, "instep")
        for number, plain_follows in enumerate(toe.rhythm):
            evening = number < toe.evening
            one_side = self.to and not evening and number < toe.evening + toe.one_side
            at: Ends = self.to.little_toe if self.to and one_side else "both"
            item = shaped(
                sole,
                instep,
                narrow_sole=not evening or sole > instep,
                narrow_instep=not evening or instep > sole,
                at=at,
            )
            yield item
            sole, instep = zone_stitches(item, "sole"), zone_stitches(item, "instep")
            if plain_follows:
                yield shaped(sole, instep)


def _rhythm_so_far(begun: tuple[Round, ...]) -> Rhythm:
    """How many of the shaping rounds had a plain one after them, and how many had none; the last is as the others."""
    shapes = [item.before - item.after == 4 for item in begun]
    fast = sum(pair == (True, True) for pair in pairwise(shapes))
    return Rhythm(sum(shapes) - fast + sum(map(one_ended, begun)), fast)


WEDGE = Wedge()
LEFT = Wedge(ToTheFoot("left foot", "first"))
RIGHT = Wedge(ToTheFoot("right foot", "last"))
"""From the cuff down a round on the left foot begins at the little toe, and on the right foot at the big one."""

WEDGE_TOE, LEFT_TOE, RIGHT_TOE = (
    Part("toe", "Toe", "toe", each.build, countable=True) for each in (WEDGE, LEFT, RIGHT)
)
