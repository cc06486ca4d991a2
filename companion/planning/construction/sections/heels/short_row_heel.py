"""The short-row heel, with or without a small gusset on either side."""

from __future__ import annotations

from dataclasses import replace

from ....fit.halves import heel_stitches
from ....plan.document import Round, Zone
from ....plan.rounds import op, row, zone_stitches
from ...shaping import gusset_increases, short_row_pass
from ..base import Aim, Built, Knitted, Part, Progress
from ..short_rows import CORNERS, Hourglass, hourglass, on_the_sole, rows_from_the_fold, rows_to_the_fold
from ..toes.toe_common import beyond_the_toe, noted


def heel_and_instep(before: Progress) -> tuple[int, int]:
    """The heel is the sole where there is one, from the toe up; else half of the leg."""
    heel = before.counts.get("sole") or heel_stitches(before.live)
    return heel, before.live - heel


def build_gusset(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """Two increases every second round beside the heel, as many as bring the sock over the foot's heel."""
    heel, instep = heel_and_instep(before)
    on_foot = "sole" in before.counts
    rounds = knitted.rounds
    if not knitted.closed:
        increases = gusset_increases(heel, aim.fit.instep.as_plain(instep), aim.fit.body.heel_diagonal, aim.fabric)
        rounds = widened(rounds, heel, instep, increases, zone="sole" if on_foot else "heel")
        if on_foot and rounds and not knitted.rounds:
            rounds = noted(rounds, beyond_the_toe(aim, before, "gusset"))
    sides = (zone_stitches(rounds[-1], "heel", "sole") - heel) // 2 if rounds else 0
    return rounds, before.after(rounds, on_foot=on_foot, heel=heel, instep=instep, sides=sides)


def widened(rounds: tuple[Round, ...], heel: int, instep: int, increases: int, zone: Zone) -> tuple[Round, ...]:
    """The rounds, carried on until so many increases are made on either side of the heel, each with a plain round."""
    around = zone_stitches(rounds[-1], "heel", "sole") if rounds else heel
    if rounds and rounds[-1].kind == "increase":
        rounds += (_beside_the_heel(around, instep, zone, widens=False),)
    while around < heel + 2 * increases:
        rounds += (_beside_the_heel(around, instep, zone, widens=True),)
        around += 2
        rounds += (_beside_the_heel(around, instep, zone, widens=False),)
    return rounds


def _beside_the_heel(around: int, instep: int, zone: Zone, *, widens: bool) -> Round:
    wider = op("k") + op("m1r") + op("k", around - 2) + op("m1l") + op("k")
    return row(
        (zone, wider if widens else op("k", around)),
        ("instep", op("k", instep)),
        before=around + instep,
        kind="increase" if widens else "plain",
    )


def build(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """The hourglass over the heel stitches, and a round that closes it; they follow from the stitches alone.

    Its half next to the foot lies on the sole: from the toe up that is the first one.
    """
    sides = before.counts.get("sides", 0)
    heel = before.counts.get("heel") or heel_and_instep(before)[0]
    instep = before.live - heel - 2 * sides
    toe_up = "sole" in before.counts
    construction = aim.request.construction
    shape = Hourglass(heel, sides, construction.short_rows, construction.rounds_between)
    rows = hourglass("heel", shape, before.live)
    closing = row(
        ("heel" if toe_up else "sole", shape.closing()),
        ("instep", op("k", instep)),
        before=rows[-1].after,
        kind="plain" if rows[-1].after == before.live else "decrease",
        note=CORNERS,
    )
    along_the_sole = rows_to_the_fold if toe_up else rows_from_the_fold
    where = f"{heel} stitches; the other {instep} are the instep and wait."
    if sides:
        where = (
            f"{heel} stitches in the middle. Row 1 goes across the {sides} gusset stitches on either side as well, "
            f"row 2 across the {sides} that it begins with; then these wait, as the {instep} of the instep do."
        )
    note = f"The heel is worked back and forth over {where}"
    whole = (*noted(rows, note), closing)
    if toe_up and not sides:
        whole = noted(whole, beyond_the_toe(aim, before, "heel"))
    rounds = knitted.rounds + whole[len(knitted.rounds) :]
    progress = replace(
        before.after(rounds, heel=heel, instep=instep, sole=heel + 2 * sides),
        heel_pass_cm=short_row_pass(heel, aim.fit.instep.as_plain(instep) + 2 * sides, aim.fabric),
        foot_rounds=before.foot_rounds + along_the_sole(heel) + on_the_sole(shape.between),
    )
    return rounds, progress


GUSSET_BEFORE_SHORT_ROWS = Part(
    "gusset-increases", "Gusset increases", "gusset", build_gusset, optional=True, charted=True, deepens=True
)
SHORT_ROW_HEEL = Part("heel", "Heel", "heel", build, flat=True, charted=True, follows=("short_rows", "rounds_between"))


def height_above_the_foot(aim: Aim, sole: int, instep: int) -> int:
    """Rounds of the foot that the heel takes, from the toe up, without a gusset."""
    del instep
    return rows_to_the_fold(sole) + on_the_sole(aim.request.construction.rounds_between)


def height_with_gusset(aim: Aim, sole: int, instep: int) -> int:
    """Rounds of the foot that gusset and heel take, from the toe up."""
    increases = gusset_increases(sole, aim.fit.instep.as_plain(instep), aim.fit.body.heel_diagonal, aim.fabric)
    return 2 * increases + height_above_the_foot(aim, sole, instep)
