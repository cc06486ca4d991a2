"""The ribbed cuff, cast on at the top."""

from __future__ import annotations

from ..fit import nearest
from ..rib import parse_rib, rib_width
from ..work import fabric_rounds, op, repeat, row
from .base import Aim, Built, Knitted, Part, Progress
from .edges import CAST_ON, edge_advice


def build(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """Cast on, then ribbing up to the length of the cuff."""
    rounds = knitted.rounds
    if not rounds:
        count = aim.counts.cuff
        rounds = (
            row(
                ("leg", op("co", count)),
                before=0,
                kind="setup",
                note=f"{edge_advice(CAST_ON, aim, count)} Join without twisting; "
                "the round begins where the heel will begin.",
            ),
        )
    count = rounds[-1].after
    if not knitted.closed:
        repeats = count // rib_width(aim.request.cuff.rib)
        ribbing = row(
            ("leg", repeat(repeats, *(op(name, n) for name, n in parse_rib(aim.request.cuff.rib)))),
            before=count,
        )
        wanted = max(1, nearest(aim.request.cuff.length_cm * aim.fabric.rounds))
        rounds += (ribbing,) * max(0, wanted - fabric_rounds(rounds))
    return rounds, before.after(rounds)


CUFF = Part("cuff", "Cuff", flat=False, build=build, tube="leg")
