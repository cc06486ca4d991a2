"""What the toes share: where they begin, and how they are closed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import NamedTuple

from ....fit.targets import Fabric
from ....plan.document import Round
from ....plan.rounds import Ends, evenly, fabric_rounds, makes, narrowed, op, row, takes
from ....units import both_amply, both_units
from ....yarn.requirement import THREADED_CM, grafting_end
from ..base import Aim, Progress

ACROSS: Mapping[Ends, Ends] = {"both": "both", "first": "last", "last": "first"}
"""Where the instep meets these ends of the sole."""


def shaped(
    sole: int, instep: int, *, narrow_sole: bool = False, narrow_instep: bool = False, at: Ends = "both"
) -> Round:
    """A round over sole and instep, with decreases at these ends of the sole, and beside them on the instep."""
    return row(
        ("sole", narrowed(sole, at) if narrow_sole else op("k", sole)),
        ("instep", narrowed(instep, ACROSS[at]) if narrow_instep else op("k", instep)),
        before=sole + instep,
        kind="decrease" if narrow_sole or narrow_instep else "plain",
    )


class ToTheFoot(NamedTuple):
    """A toe that is shaped to one foot: whose it is, and the end of the sole where the little toe lies."""

    foot: str
    little_toe: Ends

    def said(self, narrows: str) -> str:
        """What is said of it before its first round."""
        return f"This sock is for the {self.foot}: its toe {narrows} than at the big toe's."


def one_ended(item: Round) -> bool:
    """Whether a round is shaped at one end of both sole and instep."""
    return all(abs(takes(work.ops) - makes(work.ops)) == 1 for work in item.work) and len(item.work) == 2


def evened_by_one(sole: int, instep: int) -> Round:
    """A round with one decrease, at the end of the larger of the two."""
    sole_to, instep_to = sole - (sole > instep), instep - (instep > sole)
    return row(
        ("sole", evenly(sole, sole_to)), ("instep", evenly(instep, instep_to)), before=sole + instep, kind="decrease"
    )


def grafting(count: int, fabric: Fabric, halves: str = "sole and instep") -> Round:
    """The round that closes the toe, or a heel that is worked like one."""
    pairs = count // 2
    return row(
        ("toe", op("graft", pairs)),
        before=count,
        kind="finish",
        note=f"Hold {halves} together, wrong sides inside, {pairs} stitches each, so that the yarn comes from the "
        f"right end of the back needle. Cut the yarn {both_amply(grafting_end(pairs, fabric))} from the needle, and "
        "graft with that end.",
    )


def drawing_together(count: int) -> Round:
    """The round that closes a tip too small to graft (common practice)."""
    return row(
        ("toe", op("draw", count)),
        before=count,
        kind="finish",
        note=f"Cut the yarn {both_amply(THREADED_CM)} from the needle. With a tapestry needle take it twice through "
        f"the {count} stitches, slip them off, draw the hole shut, and fasten the end inside.",
    )


def where_it_begins(aim: Aim, before: Progress, rounds: tuple[Round, ...]) -> tuple[Round, ...]:
    """The rounds of a toe, the first of them saying how long the foot is there."""
    begins = f"The toe begins {both_units(aim.foot_cm(before.foot_rounds))} from the back of the heel."
    if to_come := before.counts.get("heel_to_come"):
        so_far = both_units(aim.foot_cm(before.foot_rounds - to_come))
        begins = f"The toe begins {so_far} from the waste yarn; the heel is still to come."
    return noted(rounds, begins)


def beyond_the_toe(aim: Aim, before: Progress, what: str) -> str:
    """From the toe up: how long the foot is where `what` begins."""
    return f"The {what} begins {both_units(aim.foot_cm(before.foot_rounds))} from the tip of the toe."


def noted(rounds: tuple[Round, ...], note: str) -> tuple[Round, ...]:
    """The rounds, the first of them with this note before its own."""
    return (replace(rounds[0], note=f"{note} {rounds[0].note or ''}".rstrip()), *rounds[1:])


def toe_foot_rounds(before: Progress, rounds: tuple[Round, ...]) -> int:
    """Rounds from the back of the heel to the tip when every round of the toe lengthens the foot."""
    return before.foot_rounds + fabric_rounds(rounds)
