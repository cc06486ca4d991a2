"""The cuff of a sock from the toe up, bound off at the top."""

from __future__ import annotations

from ..fit import nearest
from ..rib import parse_rib, rib_width
from ..work import evenly_changed, fabric_rounds, op, repeat, row
from .base import Aim, Built, Knitted, Part, Progress
from .edges import BIND_OFF, edge_advice


def build(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """A change to a count that suits the ribbing where it is needed, the ribbing, and a stretchy bind-off."""
    rounds = knitted.rounds
    if rounds and not rounds[-1].after:
        return rounds, before.after(rounds)
    count = knitted.live(before)
    width = rib_width(aim.request.cuff.rib)
    to = aim.counts.cuff
    if not rounds and count != to:
        rounds += (evenly_changed(("leg", count, to), why=f"for {to // width} repeats of the ribbing"),)
        count = to
    ribbing = row(
        ("leg", repeat(count // width, *(op(name, n) for name, n in parse_rib(aim.request.cuff.rib)))), before=count
    )
    wanted = max(1, nearest(aim.request.cuff.length_cm * aim.fabric.rounds))
    rounds += (ribbing,) * max(0, wanted - fabric_rounds(rounds))
    rounds += (
        row(
            ("leg", op("bo", count)),
            before=count,
            kind="finish",
            note=edge_advice(BIND_OFF, aim, count),
        ),
    )
    return rounds, before.after(rounds)


TOE_UP_CUFF = Part("cuff", "Cuff", flat=False, build=build)
