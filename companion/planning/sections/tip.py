"""What the toes share: where they begin, and how they are closed."""

from __future__ import annotations

from dataclasses import replace

from ..document import Round
from ..units import both_units
from ..work import fabric_rounds, narrowed, op, row
from .base import Aim, Progress


def shaped(sole: int, instep: int, *, narrow_sole: bool = False, narrow_instep: bool = False) -> Round:
    """A round over sole and instep, with two decreases in each zone that is narrowed."""
    return row(
        ("sole", narrowed(sole) if narrow_sole else op("k", sole)),
        ("instep", narrowed(instep) if narrow_instep else op("k", instep)),
        before=sole + instep,
        kind="decrease" if narrow_sole or narrow_instep else "plain",
    )


def grafting(count: int, halves: str = "sole and instep") -> Round:
    """The round that closes the toe, or a heel that is worked like one."""
    return row(
        ("toe", op("graft", count // 2)),
        before=count,
        kind="finish",
        note=f"Hold {halves} together, wrong sides inside, {count // 2} stitches each, so that the yarn comes from the "
        "right end of the back needle. Cut the yarn, four times as long as the edge is wide, and graft.",
    )


def where_it_begins(aim: Aim, before: Progress, rounds: tuple[Round, ...]) -> tuple[Round, ...]:
    """The rounds of a toe, the first of them saying how long the foot is there."""
    begins = f"The toe begins {both_units(aim.fabric.height(before.foot_rounds))} from the back of the heel."
    if to_come := before.pieces.get("heel_to_come"):
        so_far = both_units(aim.fabric.height(before.foot_rounds - to_come))
        begins = f"The toe begins {so_far} from the waste yarn; the heel is still to come."
    return noted(rounds, begins)


def beyond_the_toe(aim: Aim, before: Progress, what: str) -> str:
    """From the toe up: how long the foot is where `what` begins."""
    return f"The {what} begins {both_units(aim.fabric.height(before.foot_rounds))} from the tip of the toe."


def noted(rounds: tuple[Round, ...], note: str) -> tuple[Round, ...]:
    """The rounds, the first of them with this note before its own."""
    return (replace(rounds[0], note=f"{note} {rounds[0].note or ''}".rstrip()), *rounds[1:])


def toe_foot_rounds(before: Progress, rounds: tuple[Round, ...]) -> int:
    """Rounds from the back of the heel to the tip when every round of the toe lengthens the foot."""
    return before.foot_rounds + fabric_rounds(rounds)
