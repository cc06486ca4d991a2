"""The heel flap: rows over the heel stitches with a slipped edge to pick up along."""

from __future__ import annotations

from dataclasses import replace

from ....fit.halves import even_down, heel_stitches
from ....plan.document import Round
from ....plan.rounds import op, row
from ...shaping import Flap, flap_rows, heel_turn
from ..base import Aim, Built, Knitted, Part, Progress
from .flap_fabric import flap_row

GIVE_ROWS = 3
"""Flap rows that a heel may have too many or too few before the knitter is warned (ours)."""

_CHECK = "Measure the heel diagonal again, and try the sock on after the gusset."


def _rows(aim: Aim, heel: int, live: int, count: int) -> tuple[Round, ...]:
    construction = aim.request.construction
    cycle = [
        row(
            (
                "heel",
                flap_row(construction.flap, heel, number, garter_edge=construction.garter_edge) + op("turn"),
            ),
            before=live,
            side="WS" if number % 2 else "RS",
        )
        for number in range(4)
    ]
    note = f"The heel is worked back and forth over {heel} stitches; the other {live - heel} are the instep and wait."
    first = replace(cycle[0], note=note)
    return (first, *(cycle[number % 4] for number in range(1, count)))


def _warning(flap: Flap, heel: int, done: int) -> str | None:
    """What to tell the knitter when the flap cannot have the rows that the heel asks for."""
    if abs(flap.rows - flap.wanted) <= GIVE_ROWS:
        return None
    asked = f"The heel asks for about {max(0, even_down(round(flap.wanted)))} flap rows"
    if flap.rows > flap.wanted:
        if flap.rows == done:
            return f"{asked}, and {done} are knitted: it will be a little roomy."
        return f"{asked}; fewer than {flap.rows} over {heel} stitches make too shallow a cup. {_CHECK}"
    return f"{asked}; more than {flap.rows} over {heel} stitches make a bag under the ankle. {_CHECK}"


def build(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """Rows over the heel stitches until the heel pass suits the foot; the instep waits."""
    heel = heel_stitches(before.live)
    instep = before.live - heel
    rounds = knitted.rounds
    progress = before
    if not knitted.closed:
        turned = heel_turn(aim.request.construction.turn, heel).left
        flap = flap_rows(
            heel, aim.fit.instep.as_plain(instep) + turned, aim.fit.body.heel_diagonal, aim.fabric, done=len(rounds)
        )
        whole = _rows(aim, heel, before.live, flap.rows)
        warning = _warning(flap, heel, done=len(rounds))
        rounds += whole[len(rounds) :]
        progress = before.warn(warning) if warning else before
    return rounds, progress.after(rounds, heel=heel, instep=instep, flap_rows=len(rounds))


HEEL_FLAP = Part(
    "heel-flap", "Heel flap", "heel", build, flat=True, follows=("flap", "garter_edge"), flap=True, deepens=True
)
