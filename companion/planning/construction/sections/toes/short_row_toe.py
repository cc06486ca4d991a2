"""The short-row toe: an hourglass over the sole, grafted to the waiting instep."""

from __future__ import annotations

import math
from dataclasses import replace

from ....plan.document import Round
from ....plan.rounds import op, row, zone_stitches
from ..base import Aim, Built, Knitted, Part, Progress
from ..short_rows import CORNERS, Hourglass, hourglass, rows_to_the_fold
from .toe_common import evened_by_one, grafting, shaped, where_it_begins


def _evened(sole: int, instep: int) -> tuple[Round, ...]:
    """Rounds that bring the larger of the two down to the other."""
    rounds: tuple[Round, ...] = ()
    while sole != instep:
        pairs = shaped(sole, instep, narrow_sole=sole > instep, narrow_instep=instep > sole)
        rounds += (evened_by_one(sole, instep) if abs(sole - instep) == 1 else pairs,)
        sole, instep = zone_stitches(rounds[-1], "sole"), zone_stitches(rounds[-1], "instep")
    return rounds


def _whole(aim: Aim, sole: int, instep: int) -> tuple[Round, ...]:
    half = min(sole, instep)
    shape = Hourglass(half, by=aim.request.construction.short_rows)
    rows = hourglass("toe", shape, 2 * half)
    closing = row(("sole", shape.closing()), ("instep", op("k", half)), before=2 * half, note=CORNERS)
    return (*_evened(sole, instep), *rows, closing, grafting(2 * half, aim.fabric))


def height(_aim: Aim, sole: int, instep: int) -> int:
    """Rounds that the toe lengthens the foot by; they follow from the stitches alone."""
    return math.ceil(abs(sole - instep) / 2) + rows_to_the_fold(min(sole, instep))


def build(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """All rows of the toe; they follow from the foot stitches alone."""
    sole, instep = before.counts["sole"], before.counts["instep"]
    whole = where_it_begins(aim, before, _whole(aim, sole, instep))
    rounds = knitted.rounds + whole[len(knitted.rounds) :]
    foot_rounds = before.foot_rounds + height(aim, sole, instep)
    return rounds, replace(before.after(rounds), foot_rounds=foot_rounds)


SHORT_ROW_TOE = Part("toe", "Toe", "toe", build, flat=True, countable=True, follows=("short_rows",))
