"""The strong heel: the gusset grows beside the heel in rounds, and the turn takes it up again. Nothing is picked up.

It is common practice from either end. From the cuff down the turn lies under the foot, and the back of the heel, which
is knitted in rounds between the gussets, can have the fabric of a flap; from the toe up the gusset lies along the foot
and the turn up the back of the heel.
"""

from __future__ import annotations

from dataclasses import replace

from ....fit.targets import nearest
from ....plan.document import Round
from ....plan.rounds import Ops, op, repeat, row, zone_stitches
from ....request.construction import FlapFabric
from ...shaping import FLAP_LEAST, FLAP_MOST, HeelTurn, heel_turn
from ..base import Aim, Built, Knitted, Part, Progress
from ..short_rows import CORNERS
from ..toes.toe_common import beyond_the_toe, noted
from .gusset import GUSSET_AFTER_SHORT_ROWS, GUSSET_TOWARDS_THE_LEG
from .heel_turn import turn_rows
from .short_row_heel import heel_and_instep, widened

SLIPPED = "Between the gussets the back of the heel is in slipped stitches from here on: thick, and it wears well."


def _sides(aim: Aim, heel: int, instep: int) -> int:
    """Gusset stitches a side with which the round before the turn is as wide as the foot's heel, without ease.

    For every heel stitch they are as many as those that are picked up along the shortest and the longest flap.
    """
    fabric = aim.fabric
    missing = aim.fit.body.heel_diagonal - fabric.width(heel + aim.fit.instep.as_plain(instep))
    least, most = (nearest(share * heel / 2) for share in (FLAP_LEAST, FLAP_MOST))
    return max(least, min(most, nearest(missing * fabric.stitches / 2)))


def build_gusset(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """Two increases every second round beside the heel; the turn will take them up again."""
    heel, instep = heel_and_instep(before)
    toe_up = "sole" in before.counts
    rounds = knitted.rounds
    if not knitted.closed:
        rounds = widened(rounds, heel, instep, _sides(aim, heel, instep), zone="sole" if toe_up else "heel")
        if toe_up and not knitted.rounds:
            rounds = noted(rounds, beyond_the_toe(aim, before, "gusset"))
        elif not toe_up and not GUSSET_FIRST.shows_the_pattern(aim.request):
            rounds = _with_a_thick_back(rounds, len(knitted.rounds), heel, aim.request.construction.flap)
    sides = (zone_stitches(rounds[-1], "heel", "sole") - heel) // 2
    return rounds, before.after(rounds, on_foot=toe_up, heel=heel, instep=instep, sides=sides)


def _with_a_thick_back(rounds: tuple[Round, ...], done: int, heel: int, fabric: FlapFabric) -> tuple[Round, ...]:
    """The rounds with the fabric of a flap over the heel in every plain one after the first `done`."""
    if fabric == "plain":
        return rounds
    laid = list(rounds[:done])
    for number, item in enumerate(rounds[done:], start=done):
        new = item
        if item.kind == "plain":
            offset = fabric == "offset slipped" and number % 4 == 3
            beside = (zone_stitches(item, "heel") - heel) // 2
            back = op("k", beside) + _slipped(heel, offset=offset) + op("k", beside)
            note = SLIPPED if number == 1 else item.note
            new = replace(item, work=(replace(item.work[0], ops=back), *item.work[1:]), note=note)
        laid.append(new)
    return tuple(laid)


def _slipped(stitches: int, *, offset: bool) -> Ops:
    pair = (op("k"), op("sl")) if offset else (op("sl"), op("k"))
    return repeat(stitches // 2, *pair)


def _turn(aim: Aim, heel: int, sides: int) -> HeelTurn:
    return heel_turn(aim.request.construction.turn, heel + 2 * sides, leaves=heel)


def build_turn(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """All rows of the turn, and a round that closes their ends; they follow from the stitches alone.

    The foot's heel goes through the round before it, which is the widest of the sock.
    """
    heel, instep, sides = (before.counts[name] for name in ("heel", "instep", "sides"))
    toe_up = "sole" in before.counts
    turn = _turn(aim, heel, sides)
    rows = turn_rows(turn, before.live)
    if toe_up:
        rows = tuple(replace(item, kind="decrease") for item in rows)
    note = f"The heel is turned over {heel} stitches and the {sides} of the gusset on either side; the instep waits."
    closing = row(
        ("heel" if toe_up else "sole", op("k", turn.left)),
        ("instep", op("k", instep)),
        before=rows[-1].after,
        note=CORNERS,
    )
    whole = (*noted(rows, note), closing)
    rounds = knitted.rounds + whole[len(knitted.rounds) :]
    around = aim.fabric.width(heel + 2 * sides + aim.fit.instep.as_plain(instep))
    return rounds, replace(before.after(rounds, on_foot=not toe_up, sole=turn.left), heel_pass_cm=around)


def height(aim: Aim, sole: int, instep: int) -> int:
    """Rounds of the foot that the gusset takes, from the toe up."""
    return 2 * _sides(aim, sole, instep)


GUSSET_FIRST = Part(
    "gusset-increases", "Gusset increases", "gusset", build_gusset, charted=True, deepens=True, follows=("flap",)
)
STRONG_TURN = Part(
    "heel-turn",
    "Heel turn",
    "heel",
    build_turn,
    flat=True,
    charted=True,
    widest_before=True,
    follows=("turn",),
    back_to="gusset-increases",
)
STRONG_CUFF_DOWN = (GUSSET_FIRST, STRONG_TURN, GUSSET_AFTER_SHORT_ROWS)
STRONG_TOE_UP = (replace(GUSSET_FIRST, follows=()), replace(STRONG_TURN, flap=True), GUSSET_TOWARDS_THE_LEG)
