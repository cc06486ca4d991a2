"""What a cuff from the top and one from the toe share: the ribbing, and an edge that stretches far enough.

How the edges are made is common practice, written down in many technique articles.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from ...fit.targets import nearest
from ...plan.document import Round
from ...plan.rounds import op, repeat, row
from ...request.plan_request import PlanRequest
from ...request.rib import parse_rib, rib_width
from ...units import both_amply, both_units
from ...yarn.requirement import TIMES_THE_WIDTH, edge_end
from .base import Aim
from .edge_rounds import FOLDS

FIRM_EDGE = 1.25
"""How far an ordinary edge stretches (ours); plain jersey stretches by 30 to 60 % in width."""


class Edge(NamedTuple):
    """How an edge with a name is made, what its yarn is for, and how many times its width that is."""

    how: str
    takes: str
    times: float = TIMES_THE_WIDTH


TWISTED_TIMES = 4
"""The same for a twist or a yarn-over in every stitch: a third more (from memory)."""


class CuffEnd(NamedTuple):
    """How an end of a cuff is named and made to stretch; `edges` are those with a name."""

    name: str
    stretchy: Edge
    edges: Mapping[str, Edge]


TUBULAR_LOOPS = (
    "Hold tail and yarn as for a long-tail cast-on. A knit loop: needle in front of the thumb's strand, under it, over "
    "the finger's strand, and back under the thumb's. A purl loop: needle behind the finger's strand, under it, over "
    "the thumb's strand, and back under the finger's. Make them by turns, and hold the last one until it is worked"
)

OVER_TWO = "over two needles held together"

CAST_ON = CuffEnd(
    "Cast on",
    Edge(f"{OVER_TWO}, or with a stretchy cast-on", "A long tail takes {}"),
    {
        "twisted": Edge(
            "in the twisted way, a long-tail cast-on with one more twist. For each stitch: needle under both "
            "strands of the thumb, down into its loop, and towards you under the strand in front; over the finger's "
            "strand and back through the loop at the thumb, which you turn open for it; let the thumb go and draw up",
            "A long tail takes {}",
            TWISTED_TIMES,
        ),
        "tubular": Edge(f"in the tubular way. {TUBULAR_LOOPS}", "A long tail takes {}"),
        **dict.fromkeys(FOLDS, Edge(f"for a hem, {OVER_TWO}: the edge is knitted in later", "A long tail takes {}")),
    },
)
BIND_OFF = CuffEnd(
    "Bind off",
    Edge("with a sewn or another stretchy bind-off", "Sewing takes {} of yarn"),
    {
        "twisted": Edge(
            "with yarn-overs. Work the first stitch; then over and over: yarn over, work the next stitch as it "
            "shows, and pass the yarn-over and the stitch before it over this one",
            "It takes {} of yarn",
            TWISTED_TIMES,
        ),
        "tubular": Edge(
            "by grafting, which leaves no ridge: slip the knit stitches to a needle in front and the purl "
            "stitches to one behind, and graft the two together",
            "Grafting takes {} of yarn",
        ),
        **dict.fromkeys(
            FOLDS,
            Edge(
                "by sewing the hem down. Fold it inwards; with a blunt needle take off one stitch after the other, and "
                "sew each to the back of the stitch below it in the first round of the hem. Do not draw the yarn "
                "tight",
                "Sewing takes {} of yarn",
            ),
        ),
    },
)


def edge_advice(end: CuffEnd, aim: Aim, stitches: int) -> str:
    """How to make the edge of the cuff so that it lets foot and leg through, and the yarn to have for it."""
    width = aim.fabric.width(stitches)
    widest = max(aim.fit.body.heel_diagonal, aim.fit.body.leg)
    stretch = widest / width
    named = end.edges.get(aim.request.cuff.edge)
    way = named or end.stretchy
    yarn = way.takes.format(both_amply(edge_end(stitches, aim.fabric, way.times)))
    if named:
        through = f"The edge must stretch to {both_units(widest)}, {stretch:.1f} times its width."
        return f"{end.name} {way.how}. {through} {yarn} with an end to weave in."
    how = (
        f"{way.how}: the edge must stretch to {both_units(widest)}, {stretch:.1f} times its width"
        if stretch > FIRM_EDGE
        else f"loosely: {both_units(widest)} must pass through an edge of {both_units(width)}"
    )
    return f"{end.name} {how}. {yarn} with an end to weave in."


def length_asked(request: PlanRequest) -> float:
    """The length of the cuff that is asked for, in cm."""
    return request.cuff.length_cm


def ribbing(aim: Aim, count: int) -> tuple[Round, ...]:
    """A whole cuff of ribbing over so many stitches, as many rounds as its length is; one at least."""
    rib = aim.request.cuff.rib
    ribbed = row(("leg", repeat(count // rib_width(rib), *(op(name, n) for name, n in parse_rib(rib)))), before=count)
    return (ribbed,) * max(1, nearest(length_asked(aim.request) * aim.fabric.rounds))
