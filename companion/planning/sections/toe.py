"""The wedge toe, worked in the round and grafted."""

from __future__ import annotations

from ..counts import wedge_toe
from ..document import Round
from ..units import both_units
from ..work import fabric_rounds, narrowed, op, row, zone_stitches
from .base import Aim, Built, Knitted, Part, Progress


def _shaping(sole: int, instep: int, *, narrow_sole: bool, narrow_instep: bool) -> Round:
    return row(
        ("sole", narrowed(sole) if narrow_sole else op("k", sole)),
        ("instep", narrowed(instep) if narrow_instep else op("k", instep)),
        before=sole + instep,
        kind="decrease" if narrow_sole or narrow_instep else "plain",
    )


def _wedge(sole: int, instep: int, rounds: int, of: int, *, plain_due: bool) -> tuple[Round, ...]:
    """The rounds from here to the grafting; `of` is the count that the toe began with.

    What the shaping does not fill of the rounds is knitted plain first: a toe already begun can still grow.
    """
    toe = wedge_toe(sole, instep, rounds, of=of)
    due = plain_due and any(toe.rhythm)
    if due:
        toe = wedge_toe(sole, instep, rounds - 1, of=of)
    plain = _shaping(sole, instep, narrow_sole=False, narrow_instep=False)
    made = [plain] * max(due, rounds - toe.rounds)
    for number, plain_follows in enumerate(toe.rhythm):
        evening = number < toe.evening
        narrow_sole = not evening or sole > instep
        narrow_instep = not evening or instep > sole
        made.append(_shaping(sole, instep, narrow_sole=narrow_sole, narrow_instep=narrow_instep))
        sole -= 2 * narrow_sole
        instep -= 2 * narrow_instep
        if plain_follows:
            made.append(_shaping(sole, instep, narrow_sole=False, narrow_instep=False))
    return tuple(made)


def _graft(count: int) -> Round:
    return row(
        ("toe", op("graft", count // 2)),
        before=count,
        kind="finish",
        note=f"Hold sole and instep together, wrong sides inside, {count // 2} stitches each. "
        "Cut the yarn, four times as long as the edge is wide, and graft.",
    )


def build(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """Decreases to the tip in the rounds that are left, then grafting."""
    sole, instep = before.pieces["sole"], before.pieces["instep"]
    rounds = knitted.rounds
    if rounds:
        sole, instep = zone_stitches(rounds[-1], "sole"), zone_stitches(rounds[-1], "instep")
    progress = before
    if sole + instep:
        left = aim.foot_rounds - before.after(rounds, on_foot=True).foot_rounds
        plain_due = bool(rounds) and rounds[-1].kind == "decrease"
        rounds += _wedge(sole, instep, left, before.live, plain_due=plain_due)
        if not knitted.rounds:
            begins = aim.fabric.height(before.foot_rounds)
            first = rounds[0].model_copy(
                update={"note": f"The toe begins {both_units(begins)} from the back of the heel."}
            )
            rounds = (first, *rounds[1:])
        rounds += (_graft(rounds[-1].after),)
        long_by = before.foot_rounds + fabric_rounds(rounds) - aim.foot_rounds
        if abs(long_by) > 1:
            off = both_units(aim.fabric.height(abs(long_by)))
            progress = before.warn(
                f"The foot becomes {off} {'longer' if long_by > 0 else 'shorter'} than asked: heel, gusset and toe "
                "leave no other length at this gauge. Try the sock on before the toe."
            )
    return rounds, progress.after(rounds, on_foot=True)


TOE = Part("toe", "Toe", flat=False, build=build, back_to="gusset")
