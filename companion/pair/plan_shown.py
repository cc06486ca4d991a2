"""What the pages of a plan show. Without Flask."""

from __future__ import annotations

from collections.abc import Collection
from functools import partial
from typing import Any

from ..drawings.colour_shown import colour_shown, yarns_shown
from ..drawings.either_hand import for_either_hand
from ..drawings.sock import second_sock_svg, sock_svg
from ..drawings.sock_pair import sock_pair_svg
from ..drawings.stitch_chart import stitches_shown
from ..planning import Plan
from ..planning.construction.construction_words import (
    construction_words,
    flap_words,
    short_row_words,
    sole_words,
    toe_start_words,
)
from ..planning.construction.cuff_elastic import elastic_advice
from ..planning.construction.sizes import round_the_top, stitches_at_the_top
from ..planning.fabric.chart import swaps
from ..planning.fit.shoe_sizes import guessed
from ..planning.plan.document import PartOfSock
from ..planning.recalculation.second_sock_options import differences
from ..planning.units import Unit
from .as_measured import plan_as_measured
from .logbook import SOCKS
from .state import PairState


def plan_shown(plan: Plan, unit: Unit, second: Plan | None = None) -> dict[str, Any]:
    """What the pages show of a plan that have its sock, its counts and its fit; `second` is that of sock two.

    Socks for two feet are shown beside each other, and only sock one with its measurements.
    """
    second = second or plan
    both = plan.request.two_feet and second is not plan
    return {
        "plan": plan,
        "unit": unit,
        "drawing_svg": for_either_hand(partial(sock_svg, unit=unit), plan),
        "pair_svg": for_either_hand(partial(sock_pair_svg, unit=unit), plan, second) if both else "",
        "second_svg": for_either_hand(second_sock_svg, second) if swaps(second.request) and not both else "",
        "to_mind": (*plan.warnings, *elastic_advice(plan)),
        "top": {"stitches": stitches_at_the_top(plan), "cm": round_the_top(plan)},
    }


def pair_plan_shown(pair: PairState, unit: Unit, cursor: int, hidden: Collection[PartOfSock] = ()) -> dict[str, Any]:
    """What the page of a pair's plan shows of the pair itself: the plan of sock 1, and what differs on sock 2.

    `cursor` is the number of the newest entry of the logbook that the pair's places are of. Of what is `hidden` in its
    design nothing is named.
    """
    one, two = (pair.position(sock) for sock in SOCKS)
    shown = plan_as_measured(pair, 1)
    return {
        **plan_shown(shown, unit, two.plan),
        "chosen": next((choice for choice in shown.choices if choice.chosen), None),
        "construction": construction_words(shown.request.construction, hidden),
        "flap": "" if "heel" in hidden else flap_words(shown.request.construction),
        "sole": sole_words(shown.request.construction),
        "short_rows": short_row_words(shown.request.construction),
        "toe_start": toe_start_words(shown.request.construction),
        "guesses": guessed(shown.request.foot),
        "yarns": yarns_shown(shown),
        "colour": colour_shown(shown),
        "stitches": stitches_shown(shown.request.leg.stitch_pattern),
        "socks": [{"sock": at.sock, "round": at.done, "total": at.plan.count} for at in (one, two)],
        "cursor": cursor,
        "undoable": pair.undoable,
        "other": two.plan,
        "differs": differences(shown, shown.sizes, two.plan, two.plan.sizes) if shown.request.two_feet else (),
        "changed": [revision.summary.splitlines() for revision in pair.revisions if revision.summary],
    }
