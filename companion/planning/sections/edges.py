"""What a cuff from the top and one from the toe share: the ribbing, and an edge that stretches far enough."""

from __future__ import annotations

from typing import NamedTuple

from ..document import Round
from ..fit import nearest
from ..rib import parse_rib, rib_width
from ..units import both_units
from ..work import fabric_rounds, op, repeat, row
from ..yarn import TAIL_CM, TIMES_THE_WIDTH
from .base import Aim

FIRM_EDGE = 1.25
"""How far an ordinary edge stretches (ours); plain jersey stretches by 30 to 60 % in width."""


HARDLY = 1.05
"""Up to which nobody would speak of stretching (ours)."""


class Edge(NamedTuple):
    """How the ends of a cuff are named, made to stretch, and how their yarn is told."""

    name: str
    stretchy: str
    takes: str


CAST_ON = Edge("Cast on", "over two needles held together, or with a stretchy cast-on", "A long tail takes {}")
BIND_OFF = Edge("Bind off", "with a sewn or another stretchy bind-off", "Sewing takes {} of yarn")


def edge_advice(edge: Edge, aim: Aim, stitches: int) -> str:
    """How to make the edge of the cuff so that it lets foot and leg through, and the yarn to have for it."""
    width = aim.fabric.width(stitches)
    widest = max(aim.fit.body.heel_diagonal, aim.fit.body.leg)
    stretch = widest / width
    how = edge.stretchy if stretch > FIRM_EDGE else "loosely"
    through = (
        f"the edge must stretch to {both_units(widest)}, {stretch:.1f} times its width"
        if stretch > HARDLY
        else f"{both_units(widest)} must pass through an edge of {both_units(width)}"
    )
    yarn = edge.takes.format(both_units(TIMES_THE_WIDTH * width + TAIL_CM))
    return f"{edge.name} {how}: {through}. {yarn} with an end to weave in."


def ribbing_left(aim: Aim, count: int, rounds: tuple[Round, ...]) -> tuple[Round, ...]:
    """The rounds of ribbing, over so many stitches, that a cuff of these rounds lacks to its length; one at least."""
    rib = aim.request.cuff.rib
    ribbing = row(("leg", repeat(count // rib_width(rib), *(op(name, n) for name, n in parse_rib(rib)))), before=count)
    high = max(1, nearest(aim.request.cuff.length_cm * aim.fabric.rounds))
    return (ribbing,) * (high - fabric_rounds(rounds))
