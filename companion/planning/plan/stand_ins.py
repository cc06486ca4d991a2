"""A design with stand-ins in the place of parts that nobody is to see yet. Pure.

A sock is planned whole, so that a part that is kept secret needs something in its place. A stand-in has the stitches
of what it stands for: a ribbing and a repeat as wide, a chart with as many loops of each yarn, spread evenly, so that
counts and yarn are those of the sock to come. The heel is the one that takes the most yarn, so that what is told is
enough for any. What a part is made of cannot be read from its stand-in, only how wide it is and which yarns it takes.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection
from typing import Any

from ..request.construction import Construction
from ..request.cuff import Cuff
from ..request.plan_request import Chart, Leg
from ..request.rib import rib_width
from .design import Design
from .document import PartOfSock

OF_PART: dict[PartOfSock, tuple[str, ...]] = {
    "heel": ("heel", "turn", "flap", "garter_edge", "rounds_between"),
    "toe": ("toe",),
}
"""The entries of a construction that make a part."""

SHAPES = Construction(heel="strong")
"""What a heel and a toe stand-in are."""


def with_stand_ins(design: Design, hidden: Collection[PartOfSock]) -> Design:
    """The design with a stand-in for each hidden part. A gusset and a foot follow from the others, and stay."""
    entries: dict[str, Any] = {}
    if "cuff" in hidden:
        entries["cuff"] = _cuff(design.cuff)
    if "leg" in hidden:
        entries["leg"] = _leg(design.leg)
    other = SHAPES.model_dump(include={name for part in hidden for name in OF_PART.get(part, ())})
    entries["constructions"] = tuple(one.model_copy(update=other) for one in design.constructions)
    return design.model_copy(update=entries)


def _cuff(cuff: Cuff) -> Cuff:
    purled, knitted = divmod(rib_width(cuff.rib), 2)
    return cuff.model_copy(update={"rib": f"k{purled + knitted} p{purled}"})


def _leg(leg: Leg) -> Leg:
    pattern = leg.stitch_pattern
    plain = pattern and pattern.model_copy(update={"name": "", "rows": (f"k{pattern.width}",) * pattern.height})
    return leg.model_copy(update={"chart": leg.chart and _chart(leg.chart), "stitch_pattern": plain})


def _chart(chart: Chart) -> Chart:
    return chart.model_copy(update={"rows": tuple(sorted(map(_spread, chart.rows)))})


def _spread(row: str) -> str:
    """The stitches of a row with those of each yarn as far from each other as they can be."""
    places = [((at + 0.5) / times, key) for key, times in Counter(row).items() for at in range(times)]
    return "".join(key for _, key in sorted(places))
