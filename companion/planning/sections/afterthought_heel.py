"""The afterthought heel: its place is kept by waste yarn, and it is worked last, like a toe."""

from __future__ import annotations

from dataclasses import replace

from ..counts import decrease_rhythm, heel_stitches, short_row_middle, short_row_pass
from ..document import Round, Zone
from ..units import both_units
from ..work import op, row
from .base import Aim, Built, Knitted, Part, Progress
from .tip import grafting, shaped

GAP_STITCHES = 1
"""Picked up at each corner of the opening, and closed by the first decreases (common practice)."""


def _shaping(heel: int) -> tuple[bool, ...]:
    """The rounds of the heel from the opening to its grafting: True decreases four."""
    half = heel + GAP_STITCHES
    decreases = (half - short_row_middle(heel)) // 2
    return (*decrease_rhythm(decreases, 2 * decreases), False)


def build_opening(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """One round that leaves the heel stitches to waste yarn and casts on as many over them.

    The heel passes as a short-row heel does, but its grafted middle has the stitch of a corner more.
    """
    heel = before.pieces.get("sole") or heel_stitches(before.live)
    instep = before.live - heel
    depth = len(_shaping(heel))
    over_waste_yarn = row(
        ("heel", op("rest", heel) + op("co", heel)),
        ("instep", op("k", instep)),
        before=before.live,
        kind="setup",
        note=f"Knit the {heel} heel stitches with waste yarn, slip them back, and knit them again with your yarn: the "
        "waste yarn holds them below, and above it you go on as if they were cast on anew. The length of the foot is "
        f"taken to the waste yarn: behind it the heel adds {both_units(aim.fabric.height(depth))}.",
    )
    opening = replace(over_waste_yarn, resting=heel)
    progress = replace(
        before.after(knitted.rounds or (opening,), heel=heel, instep=instep, sole=heel, heel_to_come=depth),
        heel_pass_cm=short_row_pass(heel, instep + GAP_STITCHES, aim.fabric),
        foot_rounds=before.foot_rounds + depth,
    )
    return knitted.rounds or (opening,), progress


def build_heel(_aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """Both edges of the opening taken up, then decreased like a toe and grafted."""
    heel = before.pieces["heel"]
    half = heel + GAP_STITCHES
    rounds: tuple[Round, ...] = (
        row(
            ("heel", op("resume", heel) + op("pu", GAP_STITCHES)),
            ("sole", op("pu", half)),
            before=0,
            kind="pick-up",
            note=f"Put the {heel} stitches before the waste yarn on one needle and the {heel} after it on another, and "
            f"take it out. Join your yarn: knit the {heel} of one edge, pick up and knit one in the corner, knit the "
            f"{heel} of the other edge, and pick up and knit one in the other corner. The round begins here.",
        ),
    )
    top = bottom = half
    for shapes in _shaping(heel):
        item = shaped(bottom, top, narrow_sole=shapes, narrow_instep=shapes)
        rounds += (_as_heel(item),)
        top -= 2 * shapes
        bottom -= 2 * shapes
    rounds += (_as_heel(grafting(top + bottom, "both halves of the heel")),)
    return knitted.rounds + rounds[len(knitted.rounds) :], before.after(rounds)


def _as_heel(item: Round) -> Round:
    """The same round in the zones of the heel."""
    zones: dict[Zone, Zone] = {"sole": "heel", "instep": "sole", "toe": "heel"}
    work = tuple(replace(part, zone=zones[part.zone]) for part in item.work)
    return replace(item, work=work)


def height_of_the_heel(_aim: Aim, sole: int, _instep: int) -> int:
    """Rounds that the heel will lengthen the foot by."""
    return len(_shaping(sole))


HEEL_OPENING = Part("heel-opening", "Heel opening", flat=False, build=build_opening, holder=True)
AFTERTHOUGHT_HEEL = Part("heel", "Heel", flat=False, build=build_heel, holder=True)
