"""The heel flap: slipped and knit stitches in turn, with a slipped edge to pick up along."""

from __future__ import annotations

from ..counts import Flap, even_down, flap_rows, heel_stitches
from ..document import Round
from ..work import op, repeat, row
from .base import Aim, Built, Knitted, Part, Progress

GIVE_ROWS = 3
"""Flap rows that a heel may have too many or too few before the knitter is told (ours)."""

_CHECK = "Measure the heel diagonal again, and try the sock on after the gusset."


def _pair(heel: int, live: int) -> tuple[Round, Round]:
    right_side = row(
        ("heel", repeat(heel // 2, op("sl"), op("k")) + op("turn")),
        before=live,
        side="RS",
    )
    wrong_side = row(
        ("heel", op("slwyif") + op("p", heel - 1) + op("turn")),
        before=live,
        side="WS",
    )
    return right_side, wrong_side


def _warning(flap: Flap, heel: int, done: int) -> str | None:
    """What to tell the knitter when the flap cannot have the rows that the heel asks for."""
    if abs(flap.rows - flap.wanted) <= GIVE_ROWS:
        return None
    asked = f"The heel asks for about {max(0, even_down(round(flap.wanted)))} flap rows"
    if flap.rows == done:
        return f"{asked}, and {done} are knitted: it will be a little roomy."
    if flap.rows > flap.wanted:
        return f"{asked}; fewer than {flap.rows} over {heel} stitches make too shallow a cup. {_CHECK}"
    return f"{asked}; more than {flap.rows} over {heel} stitches make a bag under the ankle. {_CHECK}"


def build(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """Rows over the heel stitches until the heel pass suits the foot; the instep waits."""
    heel = heel_stitches(before.live)
    instep = before.live - heel
    rounds = knitted.rounds
    progress = before
    if not knitted.closed:
        flap = flap_rows(heel, instep, aim.fit.body.heel_diagonal, aim.fabric, done=len(rounds))
        right_side, wrong_side = _pair(heel, before.live)
        note = (
            f"The heel is worked back and forth over these {heel} stitches. The other {instep} are the instep and wait."
        )
        first = right_side.model_copy(update={"note": note})
        whole = (first, wrong_side) + (right_side, wrong_side) * (flap.rows // 2 - 1)
        warning = _warning(flap, heel, done=len(rounds))
        rounds += whole[len(rounds) :]
        progress = before.warn(warning) if warning else before
    return rounds, progress.after(rounds, heel=heel, instep=instep, flap_rows=len(rounds))


HEEL_FLAP = Part("heel-flap", "Heel flap", flat=True, build=build)
