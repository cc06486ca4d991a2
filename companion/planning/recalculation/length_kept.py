"""What is recommended never makes the foot's length worse than leaving the sock as it is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ..fit.targets import fit_of
from ..plan.document import Sizes
from ..request.plan_request import PlanRequest
from .candidates import Way


def keeping_the_length(ways: Sequence[Way], request: PlanRequest, unchanged: Sizes) -> list[Way]:
    """The ways, with none recommended that misses the foot's length by a round more than `unchanged` sizes do.

    Another one is recommended in its place, the nearest to the length asked for; where there is none it is left as it
    is. `request` has the measured gauge.
    """
    fit = fit_of(request)

    def missed(sizes: Sizes) -> float:
        return abs(sizes.foot_length_cm - fit.length_target)

    def off(way: Way) -> float:
        return missed(way.sizes or way.plan.sizes)

    allowed = missed(unchanged) + fit.fabric.height(1)
    if all(off(way) <= allowed for way in ways if way.recommended):
        return list(ways)
    best = min((way for way in ways if off(way) <= allowed), key=off, default=None)
    return [replace(way, recommended=way is best) for way in ways]
