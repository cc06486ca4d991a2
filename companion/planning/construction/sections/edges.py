"""What a cuff from the top and one from the toe share: the ribbing, and an edge that stretches far enough."""

from __future__ import annotations

from typing import NamedTuple

from ...fit.targets import nearest
from ...plan.document import Round
from ...plan.rounds import fabric_rounds, op, repeat, row
from ...request.plan_request import PlanRequest
from ...request.rib import parse_rib, rib_width
from ...units import both_units
from ...yarn.requirement import edge_end
from .base import Aim

FIRM_EDGE = 1.25
"""How far an ordinary edge stretches (ours); plain jersey stretches by 30 to 60 % in width."""


class Edge(NamedTuple):
    """How the ends of a cuff are named, made to stretch, and how their yarn is described."""

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
    how = (
        f"{edge.stretchy}: the edge must stretch to {both_units(widest)}, {stretch:.1f} times its width"
        if stretch > FIRM_EDGE
        else f"loosely: {both_units(widest)} must pass through an edge of {both_units(width)}"
    )
    yarn = edge.takes.format(both_units(edge_end(stitches, aim.fabric)))
    return f"{edge.name} {how}. {yarn} with an end to weave in."


def length_asked(request: PlanRequest) -> float:
    """The length of the cuff that is asked for, in cm."""
    return request.cuff.length_cm


def ribbing_left(aim: Aim, count: int, rounds: tuple[Round, ...]) -> tuple[Round, ...]:
    """The rounds of ribbing, over so many stitches, that a cuff of these rounds needs for its length; one at least."""
    rib = aim.request.cuff.rib
    ribbing = row(("leg", repeat(count // rib_width(rib), *(op(name, n) for name, n in parse_rib(rib)))), before=count)
    high = max(1, nearest(length_asked(aim.request) * aim.fabric.rounds))
    return (ribbing,) * (high - fabric_rounds(rounds))
