"""The gusset below the heel: its stitches are taken away again down to the foot, or from the toe up to the leg."""

from __future__ import annotations

from dataclasses import replace

from ....fit.halves import even_down
from ....fit.targets import nearest
from ....plan.document import Round, Zone
from ....plan.rounds import narrowed, op, row, zone_stitches
from ...shaping import decrease_rhythm
from ..base import Aim, Built, Knitted, Part, Progress

GAP_STITCHES = 1
"""Picked up in the gap between flap and instep on each side, and closed by the first decreases (common practice)."""

LEAST_SOLE = 0.45
"""The sole's least part of the foot (ours): under a wide leg the foot's first round narrows the instep instead."""


def _picking_up(before: Progress) -> tuple[Round, Round]:
    turned, instep = before.counts["turned"], before.counts["instep"]
    picked = before.counts["flap_rows"] // 2 + GAP_STITCHES
    chains, gap = f"one in each of the {picked - GAP_STITCHES} edge chains", "one in the gap"
    first = row(
        ("heel", op("k", turned)),
        ("sole", op("pu", picked)),
        ("instep", op("k", instep)),
        before=turned + instep,
        kind="pick-up",
        note=f"Pick up along the flap: {chains}, then {gap}. Rounds now begin after the instep, at the sole.",
    )
    second = row(
        ("sole", op("pu", picked) + op("k", turned + picked)),
        ("instep", op("k", instep)),
        before=first.after,
        kind="pick-up",
        note=f"Pick up along the other edge of the flap: {gap}, then {chains}.",
    )
    return first, second


def _narrow(rounds: tuple[Round, ...], lower: tuple[Zone, int], instep: int, to: int, room: int) -> tuple[Round, ...]:
    """Two decreases every second round in the `lower` half, down to `to`, faster where there are too few rounds."""
    zone, sole = lower
    decreases = max(0, (sole - to) // 2)
    for shapes in decrease_rhythm(decreases, room, plain_first=bool(rounds) and rounds[-1].kind == "decrease"):
        rounds += (
            row(
                (zone, narrowed(sole) if shapes else op("k", sole)),
                ("instep", op("k", instep)),
                before=sole + instep,
                kind="decrease" if shapes else "plain",
            ),
        )
        sole -= 2 * shapes
    return rounds


def _down_to_the_foot(aim: Aim, before: Progress, knitted: Knitted, rounds: tuple[Round, ...]) -> Built:
    instep = before.counts["instep"]
    if not knitted.closed:
        sole = zone_stitches(rounds[-1], "sole") if rounds else before.counts["sole"]
        to = max(
            aim.counts.foot - instep, even_down(nearest(LEAST_SOLE * aim.fit.foot_as_plain(aim.counts.foot, instep)))
        )
        to = min(sole, to + (sole - to) % 2)
        room = aim.foot_rounds - before.after(rounds, on_foot=True).foot_rounds - aim.rounds_after_foot(to, instep)
        rounds = _narrow(rounds, ("sole", sole), instep, to, room)
    sole = zone_stitches(rounds[-1], "sole") if rounds else before.counts["sole"]
    return rounds, before.after(rounds, on_foot=True, sole=sole, foot=sole + instep)


def build(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """Pick up on both sides of the flap, then decrease down to the foot stitches."""
    rounds = knitted.rounds + _picking_up(before)[len(knitted.rounds) :]
    return _down_to_the_foot(aim, before, knitted, rounds)


def build_after_short_rows(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """Decrease what was increased before the heel, down to the foot stitches."""
    return _down_to_the_foot(aim, before, knitted, knitted.rounds)


def build_towards_the_leg(_aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """From the toe up: decrease what was increased before the heel, down to heel and instep."""
    instep = before.counts["instep"]
    rounds = knitted.rounds
    if not knitted.closed:
        back = zone_stitches(rounds[-1], "heel", "sole") if rounds else before.counts["sole"]
        rounds = _narrow(rounds, ("heel", back), instep, before.counts["heel"], room=2 * back)
    return rounds, before.after(rounds)


GUSSET = Part(
    "gusset",
    "Gusset",
    "gusset",
    build,
    charted=True,
    countable=True,
    reopens=True,
    narrows=True,
    back_to="heel-flap",
)
GUSSET_AFTER_SHORT_ROWS = replace(GUSSET, build=build_after_short_rows, optional=True, back_to="")
GUSSET_TOWARDS_THE_LEG = replace(GUSSET_AFTER_SHORT_ROWS, build=build_towards_the_leg, reopens=False, narrows=False)
