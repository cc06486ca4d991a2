"""The afterthought heel: its place is kept by waste yarn, and it is worked last, like a toe."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from ....fit.halves import heel_stitches
from ....plan.document import Round, Zone
from ....plan.rounds import op, row
from ....units import both_units
from ...shaping import cup_pass, decrease_rhythm, short_row_middle
from ..base import Aim, Built, Knitted, Part, Progress
from ..toes.toe_common import grafting, shaped

GAP_STITCHES = 1
"""Picked up at each corner of the opening, and closed by the first decreases (common practice)."""


def _shaping(heel: int) -> tuple[bool, ...]:
    """The rounds of the heel from the taking up of its edges to its grafting: True decreases four."""
    half = heel + GAP_STITCHES
    decreases = (half - short_row_middle(heel)) // 2
    return (*decrease_rhythm(decreases, 2 * decreases), False)


def _depth(heel: int) -> int:
    """Rounds of the heel: the one that takes up its edges is as high as any other."""
    return 1 + len(_shaping(heel))


def build_opening(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """One round that leaves the heel stitches to waste yarn and casts on as many over them.

    Those over the waste yarn lie between it and what is knitted next: the foot from the cuff down, the leg from the
    toe up. So from the cuff down this is the first round of the sole.
    """
    heel = before.counts.get("sole") or heel_stitches(before.live)
    instep = before.live - heel
    depth = _depth(heel)
    half, toe_up = heel + GAP_STITCHES, _toe_up(aim)
    over_waste_yarn = row(
        ("heel", op("rest", heel) + op("co", heel)),
        ("instep", op("k", instep)),
        before=before.live,
        kind="setup",
        note=f"Knit the {heel} heel stitches with waste yarn, slip them back, and knit them again with your yarn. "
        f"{_how_long_the_foot_is(aim, before, depth)}",
    )
    opening = replace(over_waste_yarn, resting=heel)
    rounds = knitted.rounds or (opening,)
    after = before.after(rounds, on_foot=not toe_up, heel=heel, instep=instep, sole=heel, heel_to_come=depth)
    grafted = half - 2 * sum(_shaping(heel))
    passes = cup_pass(aim.fit.instep.as_plain(instep), half, grafted, depth, aim.fabric)
    return rounds, replace(after, heel_pass_cm=passes, foot_rounds=after.foot_rounds + depth)


def _toe_up(aim: Aim) -> bool:
    return aim.request.construction.direction == "toe-up"


def _how_long_the_foot_is(aim: Aim, before: Progress, depth: int) -> str:
    """Where the foot is measured, which a heel of so many rounds will lengthen."""
    adds = both_units(aim.fabric.height(depth))
    if _toe_up(aim):
        so_far = both_units(aim.foot_cm(before.foot_rounds))
        return f"The waste yarn lies {so_far} from the tip of the toe, and the heel will add {adds}."
    return f"Measure the foot from the waste yarn: behind it the heel adds {adds}."


def build_heel(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """Both edges of the opening taken up, then decreased like a toe and grafted.

    The edge that was knitted before the waste yarn is the leg's, and from the toe up the sole's.
    """
    heel = before.counts["heel"]
    half = heel + GAP_STITCHES
    yarns, own = aim.request.yarns, aim.request.parts.heel
    yarn = f"yarn {own or yarns[0].key}" if len(yarns) > 1 else "your yarn"
    edges: tuple[Zone, Zone] = ("sole", "heel") if _toe_up(aim) else ("heel", "sole")
    rounds: tuple[Round, ...] = (
        row(
            (edges[0], op("resume", heel) + op("pu", GAP_STITCHES)),
            (edges[1], op("pu", half)),
            before=0,
            kind="pick-up",
            note=f"Put the {heel} stitches of the round before the waste yarn on one needle and the {heel} of the "
            f"round after it on another, and take the waste yarn out. Join {yarn}: knit the {heel} of the first "
            f"needle, and pick up and knit one in the corner. Of the {half} of the other edge, {heel} are the live "
            "loops on the other needle, and the last is picked up in the other corner. The round begins here.",
        ),
    )
    top = bottom = half
    for shapes in _shaping(heel):
        item = shaped(bottom, top, narrow_sole=shapes, narrow_instep=shapes)
        rounds += (_as_heel(item, edges),)
        top -= 2 * shapes
        bottom -= 2 * shapes
    rounds += (_as_heel(grafting(top + bottom, aim.fabric, "both halves of the heel"), edges),)
    return knitted.rounds + rounds[len(knitted.rounds) :], before.after(rounds)


@lru_cache(maxsize=1024)
def _as_heel(item: Round, edges: tuple[Zone, Zone]) -> Round:
    """The same round of a toe in the zones of the heel, which begins with the first of these edges."""
    zones: dict[Zone, Zone] = {"sole": edges[0], "instep": edges[1], "toe": "heel"}
    work = tuple(replace(part, zone=zones[part.zone]) for part in item.work)
    return replace(item, work=work)


def height_of_the_heel(_aim: Aim, sole: int, _instep: int) -> int:
    """Rounds that the heel will lengthen the foot by."""
    return _depth(sole)


HEEL_OPENING = Part("heel-opening", "Heel opening", "heel", build_opening, holder=True, charted=True)
AFTERTHOUGHT_HEEL = Part("heel", "Heel", "heel", build_heel, holder=True)
