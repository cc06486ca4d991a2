"""The wedge toe, worked in the round and grafted."""

from __future__ import annotations

from itertools import pairwise

from ....plan.document import Round
from ....plan.rounds import zone_stitches
from ...shaping import wedge_toe
from ..base import Aim, Built, Knitted, Part, Progress
from .toe_common import evened_by_one, grafting, shaped, toe_foot_rounds, where_it_begins


def _wedge(sole: int, instep: int, rounds: int, of: int, begun: tuple[Round, ...] = ()) -> tuple[Round, ...]:
    """The rounds from here to the grafting; `of` is the count that the toe began with, `begun` its rounds so far.

    What the shaping does not fill of the rounds is knitted plain first: a toe already begun can still grow.
    """
    done = _rhythm_so_far(begun)
    toe = wedge_toe(sole, instep, rounds, of, done)
    due = bool(begun) and begun[-1].kind == "decrease" and any(toe.rhythm)
    if due:
        toe = wedge_toe(sole, instep, rounds - 1, of, done)
    made = [shaped(sole, instep)] * max(due, rounds - toe.rounds)
    if toe.single:
        made.append(evened_by_one(sole, instep))
        sole, instep = zone_stitches(made[-1], "sole"), zone_stitches(made[-1], "instep")
    for number, plain_follows in enumerate(toe.rhythm):
        evening = number < toe.evening
        narrow_sole = not evening or sole > instep
        narrow_instep = not evening or instep > sole
        made.append(shaped(sole, instep, narrow_sole=narrow_sole, narrow_instep=narrow_instep))
        sole -= 2 * narrow_sole
        instep -= 2 * narrow_instep
        if plain_follows:
            made.append(shaped(sole, instep))
    return tuple(made)


def _rhythm_so_far(begun: tuple[Round, ...]) -> tuple[int, int]:
    """How many of the shaping rounds had a plain one after them, and how many had none; the last is as the others."""
    shapes = [item.before - item.after == 4 for item in begun]
    fast = sum(pair == (True, True) for pair in pairwise(shapes))
    return sum(shapes) - fast, fast


def _carried_on(aim: Aim, before: Progress, rounds: tuple[Round, ...]) -> tuple[Round, ...]:
    """The rounds up to the grafting: those of the whole toe where it was begun so, else the rest calculated again."""
    sole, instep = before.counts["sole"], before.counts["instep"]
    left = aim.foot_rounds - toe_foot_rounds(before, ())
    whole = where_it_begins(aim, before, _wedge(sole, instep, left, before.live))
    if [item.work for item in whole[: len(rounds)]] == [item.work for item in rounds]:
        return rounds + whole[len(rounds) :]
    sole, instep = zone_stitches(rounds[-1], "sole"), zone_stitches(rounds[-1], "instep")
    left = aim.foot_rounds - toe_foot_rounds(before, rounds)
    return rounds + _wedge(sole, instep, left, before.live, rounds)


def build(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """Decreases to the tip in the rounds that are left, then grafting."""
    rounds = knitted.rounds
    if not rounds or rounds[-1].after:
        rounds = _carried_on(aim, before, rounds)
        rounds += (grafting(rounds[-1].after, aim.fabric),)
    return rounds, before.after(rounds, on_foot=True)


def height(aim: Aim, sole: int, instep: int) -> int:
    """Rounds of the wedge toe over these stitches that comes nearest to the length a toe should have."""
    return wedge_toe(sole, instep, aim.toe_rounds, of=sole + instep).rounds


WEDGE_TOE = Part("toe", "Toe", "toe", build, countable=True)
