"""The heel from the toe up: gusset increases, a turn, and a flap joined to the gusset as it goes."""

from __future__ import annotations

from dataclasses import replace

from ....plan.document import Round
from ....plan.rounds import op, row, zone_stitches
from ....request.construction import ShortRows
from ...shaping import flap_rows, heel_turn
from ..base import Aim, Built, Knitted, Part, Progress
from ..short_row_turns import TURNS
from ..short_rows import explained, plain, short_rows
from ..toes.toe_common import beyond_the_toe, noted
from .flap_fabric import flap_row
from .short_row_heel import widened

_NO_FREE_EDGE = "The heel flap is joined to the gusset as it grows: it has no free edge, and so no garter edge."

_TOP_CORNERS = (
    "In the first round of the leg close the gap at either side of the flap: pick up one or two strands there, and "
    "knit them together with the stitch beside them, so that the count stays."
)
"""Common practice."""


def _middle(aim: Aim, sole: int) -> int:
    """Stitches left between the double stitches of the turn: what the turn from the cuff down would leave."""
    odd = sole % 2
    return heel_turn(aim.request.construction.turn, sole - odd).left + odd


def _sides(aim: Aim, sole: int, instep: int) -> int:
    """Gusset stitches a side: one for every second row of the flap that the foot's heel asks for."""
    across = aim.fit.instep.as_plain(instep) + _middle(aim, sole)
    return flap_rows(sole, across, aim.fit.body.heel_diagonal, aim.fabric).rows // 2


def build_gusset(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """Two increases every second round beside the sole; the flap will take them up one a row."""
    sole, instep = before.counts["sole"], before.counts["instep"]
    rounds = knitted.rounds
    if not knitted.closed:
        rounds = widened(rounds, sole, instep, _sides(aim, sole, instep), zone="sole")
        if rounds and not knitted.rounds:
            rounds = noted(rounds, beyond_the_toe(aim, before, "gusset"))
    sides = (zone_stitches(rounds[-1], "sole") - sole) // 2 if rounds else 0
    return rounds, before.after(rounds, on_foot=True, heel=sole, sides=sides)


ROWS_THAT_CLOSE = 2
"""Rows of the turn that close the gaps, after one for each stitch that is left waiting."""


def _turn(heel: int, middle: int, sides: int, live: int, by: ShortRows) -> tuple[Round, ...]:
    """Short rows over the heel, then two rows that close the gaps of all their turns."""
    turn, turned = TURNS[by], heel - middle
    shorter = 0 if turn.on_the_last else 1
    rows = [op("k", sides + heel - shorter) + turn.ends]
    rows += [turn.begins + plain(number, heel - shorter - number) + turn.ends for number in range(1, turned)]
    rows.append(turn.begins + op("k", middle) + turn.closed(0, turned // 2))
    rows.append(op("slwyif") + op("p", heel - 1 - turned // 2) + turn.closed(1, turned // 2))
    return tuple(explained(short_rows("heel", rows, live), turn))


def build_turn(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """All rows of the turn; they follow from the heel stitches alone."""
    heel, sides = before.counts["heel"], before.counts["sides"]
    middle = _middle(aim, heel)
    rows = _turn(heel, middle, sides, before.live, aim.request.construction.short_rows)
    note = (
        f"The heel is turned over {heel} stitches in the middle of the sole. The first row knits the {sides} of the "
        "gusset before them; then those on either side wait."
    )
    whole = noted(rows, note)
    rounds = knitted.rounds + whole[len(knitted.rounds) :]
    return rounds, before.after(rounds, on_foot=True)


def build_flap(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """Rows over the heel, each taking up one gusset stitch at its end, until the gusset is gone."""
    heel, sides, instep = (before.counts[name] for name in ("heel", "sides", "instep"))
    whole: list[Round] = []
    note = f"Each of these {2 * sides} rows ends with the last heel stitch and a gusset stitch worked together."
    fabric = aim.request.construction.flap
    for number in range(2 * sides):
        right_side = number % 2 == 0
        ops = flap_row(fabric, heel - 1, number) + op("ssk" if right_side else "p2tog")
        whole.append(
            row(
                ("heel", ops + op("turn")),
                before=before.live - number,
                kind="decrease",
                side="RS" if right_side else "WS",
                note=note if number == 0 else None,
            )
        )  # fmt: skip
    rounds = knitted.rounds + tuple(whole[len(knitted.rounds) :])
    if aim.request.construction.garter_edge:
        before = before.warn(_NO_FREE_EDGE)
    heel_pass = aim.fabric.width(_middle(aim, heel) + aim.fit.instep.as_plain(instep)) + aim.fabric.height(4 * sides)
    return rounds, replace(before.after(rounds), heel_pass_cm=heel_pass, to_mind=_TOP_CORNERS)


def height(aim: Aim, sole: int, instep: int) -> int:
    """Rounds of the foot that gusset and turn take."""
    return 2 * _sides(aim, sole, instep) + sole - _middle(aim, sole) + ROWS_THAT_CLOSE


TOE_UP_GUSSET = Part("gusset", "Gusset", "gusset", build_gusset, charted=True, countable=True, deepens=True)
TOE_UP_TURN = Part(
    "heel-turn",
    "Heel turn",
    "heel",
    build_turn,
    flat=True,
    passes="sides",
    follows=("turn", "short_rows"),
    back_to="gusset",
)
TOE_UP_FLAP = Part(
    "heel-flap", "Heel flap", "heel", build_flap, flat=True, follows=("flap",), flap=True, back_to="gusset"
)
