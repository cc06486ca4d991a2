"""The round heel turn: short rows that decrease across the gap until every heel stitch is worked."""

from __future__ import annotations

from dataclasses import replace

from ..counts import RoundTurn, round_turn
from ..document import Round
from ..work import op, row
from .base import Aim, Built, Knitted, Part, Progress


def _rows(turn: RoundTurn, live: int) -> tuple[Round, ...]:
    """The rows of the turn: RS k half + s, ssk, k1; WS sl1, p 2s+1, p2tog, p1; then one further each row."""
    rows = []
    for number in range(turn.rows):
        before = live - number
        if number == 0:
            ops = op("k", turn.heel // 2 + turn.beyond) + op("ssk") + op("k") + op("turn")
        else:
            across = 2 * turn.beyond + number
            ops = (
                op("sl") + op("k", across) + op("ssk") + op("k") + op("turn")
                if number % 2 == 0
                else op("slwyif") + op("p", across) + op("p2tog") + op("p") + op("turn")
            )
        rows.append(
            row(
                ("heel", ops),
                before=before,
                kind="short-row",
                side="RS" if number % 2 == 0 else "WS",
                note=_note(turn, number),
            )
        )
    return tuple(rows)


def _note(turn: RoundTurn, number: int) -> str | None:
    if number == turn.rows - 1:
        return f"{turn.left} heel stitches are left after this row."
    return "Each row closes the gap that the row before has left." if number == 1 else None


def build(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """All rows of the turn; they follow from the heel stitches alone, whatever the gauge.

    The heel pass is the instep, the turned heel and both edges of the flap.
    """
    pieces = before.pieces
    turn = round_turn(pieces["heel"])
    rounds = knitted.rounds + _rows(turn, before.live)[len(knitted.rounds) :]
    heel_pass = aim.fabric.width(turn.left + pieces["instep"]) + aim.fabric.height(2 * pieces["flap_rows"])
    return rounds, replace(before, heel_pass_cm=heel_pass).after(rounds, on_foot=True, turned=turn.left)


HEEL_TURN = Part("heel-turn", "Heel turn", flat=True, build=build, back_to="heel-flap")
