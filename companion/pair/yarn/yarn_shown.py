"""What the page of a pair's yarn says: what is left, what takes it, and how long the leg may become. Pure."""

from __future__ import annotations

from typing import Any

from ...drawings.chart import colours_of, yarn_square
from ...planning.recalculation.leg_length import leg_reach
from ..logbook import SOCKS
from ..state import PairState, SockPosition
from .forecast import forecast
from .leg_words import leg_figures
from .weighings import weighings_kept
from .words import figures, verdict

WORRIES = ("good", "snug", "will not go on")
"""Verdicts, the worst one last: the page begins with it."""


def yarn_shown(pair: PairState) -> dict[str, Any]:
    """The words of the page, in the knitter's unit."""
    progress, yarns = forecast(pair)
    leg = leg_reach(progress, yarns)
    plan = progress.courses[0].plan
    colours = colours_of(plan.request.yarns)
    return {
        "title": pair.title,
        "unit": pair.unit,
        "done": progress.done,
        "places": [pair.position(sock).behind() for sock in SOCKS],
        "revision": pair.newest,
        "yarns": [
            {
                "key": yarn.key,
                "name": yarn.name,
                "square": yarn_square(yarn.key, colours[yarn.key]),
                "weighed": yarn.use.ball.weighed,
                "verdict": verdict(yarn),
                "asks": yarn.use.asks,
                "worry": WORRIES.index(verdict(yarn).verdict),
                "figures": list(figures(yarn, progress.sock)),
            }
            for yarn in yarns
        ],
        "weighings": [
            {
                "id": one.id,
                "grams": one.grams,
                "yarn": one.yarn,
                "where": SockPosition(one.sock, pair.plan(one.sock), one.round).behind(),
            }
            for one in reversed(weighings_kept(pair.entries))
        ],
        "leg": leg,
        "reach": list(leg_figures(leg, yarns, pair.unit)) if leg else [],
        "toe_up": plan.request.construction.direction == "toe-up",
        "until_half": plan.request.leg.until == "half the yarn",
    }
