"""A leg that goes on as long as the yarn lasts, up a calf that nobody measured."""

from __future__ import annotations

from dataclasses import replace

from ..request.plan_request import PlanRequest
from .feet import STRAIGHT_CM, calf_at
from .targets import Fit, nearest

SHAPED_BY_CM = 2 * STRAIGHT_CM
"""A leg that widens for a calf has begun to by this height."""


def fit_for_the_calf(request: PlanRequest, fit: Fit, high: int) -> Fit:
    """The fit for a leg that ends so many rounds up the calf."""
    around = calf_at(request.foot, fit.leg.height(high))
    smaller = 1 - request.ease.circumference_percent / 100
    return replace(fit, body=replace(fit.body, leg=around), top_target=around * smaller)


def about_how_high(request: PlanRequest, fit: Fit, stitches: int, reaches: int) -> int:
    """The rounds of a leg that widens for the calf, when the yarn `reaches` for so many rounds of a straight leg.

    `stitches` are those of the straight leg. One that widens takes more yarn a round, the cuff above it too, and so it
    ends lower: as far up as its stitches are no more than those of the straight one.
    """
    smaller = 1 - request.ease.circumference_percent / 100
    ankle, calf = (nearest(cm * fit.leg.rounds) for cm in (STRAIGHT_CM, request.foot.length_cm))
    cuff = nearest(request.cuff.length_cm * fit.fabric.rounds)
    for high in range(reaches, ankle, -1):
        around = calf_at(request.foot, fit.leg.height(high))
        widest_for = max(0, high - calf)
        as_if_wide = widest_for + (high - widest_for - ankle) / 2 + cuff
        wider = fit.leg.stitches_for(around * smaller) - stitches
        if high * stitches + max(0.0, wider) * as_if_wide <= reaches * stitches:
            return high
    return ankle
