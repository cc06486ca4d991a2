"""The plain leg between cuff and heel."""

from __future__ import annotations

from ..fit import nearest
from ..work import evenly, fabric_rounds, op, row
from .base import Aim, Built, Knitted, Part, Progress


def build(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """Plain rounds up to the length of the leg, after one evenly spread change where the count differs."""
    rounds = knitted.rounds
    count = knitted.live(before)
    if not knitted.closed:
        to = aim.counts.leg
        if count != to:
            rounds += (
                row(
                    ("leg", evenly(count, to)),
                    before=count,
                    kind="increase" if to > count else "decrease",
                    note=f"Evenly spread: {count} stitches become {to}.",
                ),
            )
        wanted = max(1, nearest(aim.request.leg.length_cm * aim.fabric.rounds))
        rounds += (row(("leg", op("k", to)), before=to),) * max(0, wanted - fabric_rounds(rounds))
    return rounds, before.after(rounds, leg=rounds[-1].after)


LEG = Part("leg", "Leg", flat=False, build=build, tube="leg")
