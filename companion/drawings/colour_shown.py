"""The colours of a plan as its page shows them."""

from __future__ import annotations

from itertools import groupby
from typing import NamedTuple

from markupsafe import Markup

from ..planning import Plan
from ..planning.plan.document import YarnNeed
from ..planning.request.plan_request import Yarn
from .chart import chart_svg, colours_of, yarn_square
from .sock_colours import own_yarns


class YarnShown(NamedTuple):
    """A yarn, what the pair takes of it, and a square in its colour; `short_by` is in g, 0 where it is enough.

    `parts` are those of cuff, heel and toe that are knitted in it while others are not.
    """

    yarn: Yarn
    need: YarnNeed
    square: Markup
    metres_a_pair: float
    short_by: float
    parts: tuple[str, ...]


class Stripe(NamedTuple):
    """So many rounds of one yarn."""

    yarn: Yarn
    square: Markup
    rounds: int


class ColourShown(NamedTuple):
    """The chart as a drawing, or the stripes as a list; empty where the leg is plain."""

    chart: Markup | None
    stripes: tuple[Stripe, ...]
    swap: bool


def yarns_shown(plan: Plan) -> list[YarnShown]:
    """The yarns of a plan in their order."""
    colours = colours_of(plan.request.yarns)
    return [
        YarnShown(
            yarn=yarn,
            need=need,
            square=yarn_square(yarn.key, colours[yarn.key]),
            metres_a_pair=need.grams_a_pair / 100 * yarn.metres_per_100g,
            short_by=0.0 if need.enough else need.grams_a_pair - yarn.grams,
            parts=tuple(part for part, key in own_yarns(plan).items() if key == yarn.key),
        )
        for yarn, need in zip(plan.request.yarns, plan.yarn, strict=True)
    ]


def colour_shown(plan: Plan) -> ColourShown:
    """The colour pattern of a plan."""
    chart = plan.request.leg.chart
    if chart is None:
        return ColourShown(None, (), swap=False)
    colours = colours_of(plan.request.yarns)
    if chart.width == 1:
        yarns: dict[str, Yarn] = {yarn.key: yarn for yarn in plan.request.yarns}
        runs = [(key, len(list(run))) for key, run in groupby(chart.rows)]
        stripes = tuple(Stripe(yarns[key], yarn_square(key, colours[key]), rounds) for key, rounds in runs)
        return ColourShown(None, stripes, chart.swap)
    title = f"The chart, {chart.width} stitches wide and {len(chart.rows)} rounds high"
    return ColourShown(chart_svg(chart.rows, colours, title), (), chart.swap)
