"""The gusset: stitches picked up along the flap, then taken away again down to the foot."""

from __future__ import annotations

from ..counts import decrease_rhythm, even_down, wedge_toe
from ..document import Round
from ..fit import nearest
from ..work import narrowed, op, row, zone_stitches
from .base import Aim, Built, Knitted, Part, Progress

GAP_STITCHES = 1
"""Picked up in the gap between flap and instep on each side, and closed by the first decreases (common practice)."""

LEAST_SOLE = 0.45
"""The sole's least part of the foot (ours): under a wide leg the foot's first round narrows the instep instead."""


def _picking_up(before: Progress) -> tuple[Round, Round]:
    turned, instep = before.pieces["turned"], before.pieces["instep"]
    picked = before.pieces["flap_rows"] // 2 + GAP_STITCHES
    along = f"one in each of the {picked - GAP_STITCHES} edge chains and {GAP_STITCHES} in the gap"
    first = row(
        ("heel", op("k", turned)),
        ("sole", op("pu", picked)),
        ("instep", op("k", instep)),
        before=turned + instep,
        kind="pick-up",
        note=f"Knit across the heel, pick up along the flap, {along}, and knit the instep. "
        "The round begins here from now on, at the start of the sole.",
    )
    second = row(
        ("sole", op("pu", picked) + op("k", turned + picked)),
        ("instep", op("k", instep)),
        before=first.after,
        kind="pick-up",
        note=f"Pick up along the other edge of the flap, {along}; knit the rest.",
    )
    return first, second


def build(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """Pick up on both sides, then two decreases every second round down to the foot stitches."""
    instep = before.pieces["instep"]
    rounds = knitted.rounds + _picking_up(before)[len(knitted.rounds) :]
    if not knitted.closed:
        sole = zone_stitches(rounds[-1], "sole")
        foot_sole = max(aim.counts.foot - instep, even_down(nearest(LEAST_SOLE * aim.counts.foot)))
        decreases = max(0, (sole - foot_sole) // 2)
        toe = wedge_toe(sole - 2 * decreases, instep, aim.toe_rounds, of=aim.counts.foot)
        room = aim.foot_rounds - before.after(rounds, on_foot=True).foot_rounds - toe.rounds
        for shapes in decrease_rhythm(decreases, room, plain_first=rounds[-1].kind == "decrease"):
            rounds += (
                row(
                    ("sole", narrowed(sole) if shapes else op("k", sole)),
                    ("instep", op("k", instep)),
                    before=sole + instep,
                    kind="decrease" if shapes else "plain",
                ),
            )
            sole -= 2 * shapes
    return rounds, before.after(rounds, on_foot=True, sole=zone_stitches(rounds[-1], "sole"), foot=rounds[-1].after)


GUSSET = Part("gusset", "Gusset", flat=False, build=build, reopens=True, back_to="heel-flap")
