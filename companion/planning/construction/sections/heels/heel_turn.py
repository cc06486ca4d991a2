"""The heel turn: short rows that decrease across the gap until every heel stitch is worked."""

from __future__ import annotations

from dataclasses import replace

from ....plan.document import Round
from ....plan.rounds import op, row
from ...shaping import HeelTurn, heel_turn
from ..base import Aim, Built, Knitted, Part, Progress

FIRST_TO_CLOSE_A_GAP = 2
"""Counted from 0; the first two rows make the gaps, one at each end."""


def turn_rows(turn: HeelTurn, live: int) -> tuple[Round, ...]:
    """The rows of a turn, with so many stitches live before it."""
    rows = []
    for number, each in enumerate(turn.rows):
        right_side = number % 2 == 0
        start = () if number == 0 else op("sl") if right_side else op("slwyif")
        ops = start + op("k" if right_side else "p", each.across) + op("ssk" if right_side else "p2tog")
        if each.one_more:
            ops += op("k" if right_side else "p")
        rows.append(
            row(
                ("heel", ops + op("turn")),
                before=live - number,
                kind="short-row",
                side="RS" if right_side else "WS",
                note=_note(turn, number),
            )
        )
    return tuple(rows)


def _note(turn: HeelTurn, number: int) -> str | None:
    if number == len(turn.rows) - 1:
        return f"The last row of the turn leaves {turn.left} heel stitches."
    closes = "From here on each row works to one stitch before a gap, and decreases that one with the stitch beyond."
    return closes if number == FIRST_TO_CLOSE_A_GAP else None


def build(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """All rows of the turn; they follow from the heel stitches alone, whatever the gauge.

    The heel pass is the instep, the turned heel and both edges of the flap.
    """
    counts = before.counts
    turn = heel_turn(aim.request.construction.turn, counts["heel"])
    rounds = knitted.rounds + turn_rows(turn, before.live)[len(knitted.rounds) :]
    heel_pass = aim.fabric.width(turn.left + aim.fit.instep.as_plain(counts["instep"])) + aim.fabric.height(
        2 * counts["flap_rows"]
    )
    return rounds, replace(before, heel_pass_cm=heel_pass).after(rounds, on_foot=True, turned=turn.left)


HEEL_TURN = Part("heel-turn", "Heel turn", "heel", build, flat=True, follows=("turn",), back_to="heel-flap")
