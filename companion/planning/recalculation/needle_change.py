"""Going on with another needle size, so that the fabric ahead gets the gauge that the plan has."""

from __future__ import annotations

import math

from ..construction.planner import sizes_at
from ..frozen_model import FrozenModel
from ..gauge.estimate import Gauges
from ..gauge.observations import NEEDLE_STEP_MM, STEP_ERROR, STEP_MOVES
from ..plan.document import Plan
from ..request.plan_request import PlanRequest
from ..units import both_needle_sizes
from .candidates import open_part
from .ways.sock_in_progress import foot_is_knitted
from .ways.way import Way

MOST_STEPS = 2
"""Needle steps beyond which the fabric itself becomes another, too loose or too stiff for a sock (ours)."""

SIZES = ("", "one size", "two sizes")
"""So many steps in words: a sentence keeps its digits for what is calculated."""

SIZES_MM = (1.0, 8.0)
"""Needles that a plan request can have."""


def needle_steps(gauges: Gauges, planned: float) -> int:
    """Steps to a larger needle (or a smaller one, below zero) that bring the stitches nearest to the planned ones."""
    return round(math.log(gauges.stitches.per_10cm / planned) / math.log(1 + STEP_MOVES))


def on_another_needle(plan: Plan, request: PlanRequest, done: int, steps: int) -> Way | None:
    """Keep every count and take a needle so many steps larger; None for no step, and beyond cast-on, cuff and leg.

    In a begun foot it would make a length of two fabrics, and a plan has one gauge. How far a step moves the gauge is
    common practice, so the sizes ahead are less sure until a check confirms them; a foot that is knitted keeps its own.
    """
    size = plan.request.needles.size_mm + steps * NEEDLE_STEP_MM
    if not steps or abs(steps) > MOST_STEPS or not SIZES_MM[0] <= size <= SIZES_MM[1]:
        return None
    if done and open_part(plan, done).tube != "leg":
        return None
    needles = plan.request.needles.model_copy(update={"size_mm": size})
    moved = (1 + STEP_MOVES) ** -steps
    ahead = _with_gauges_moved(request, moved)
    sizes = sizes_at(plan, ahead)
    if foot_is_knitted(plan, done):
        sizes = sizes_at(plan, request).model_copy(update={"leg_cm": sizes.leg_cm})
    return Way(
        "needle",
        f"Go on with needles of {both_needle_sizes(size)}",
        f"Every count stays. A needle {SIZES[abs(steps)]} {'larger' if steps > 0 else 'smaller'} "
        f"usually makes the fabric about {100 * abs(1 - moved):.0f} % {'looser' if steps > 0 else 'tighter'} (common "
        "practice, so check again soon); the change may be seen in the fabric.",
        plan.model_copy(update={"request": plan.request.model_copy(update={"needles": needles})}),
        done,
        sizes=sizes,
        unsure=STEP_ERROR * abs(steps),
    )


def _with_gauges_moved(request: PlanRequest, moved: float) -> PlanRequest:
    """The request with so many times the stitches and rounds, also of its stitch pattern."""

    def of(gauge: FrozenModel) -> dict[str, float]:
        return {key: value * moved for key, value in gauge if key.endswith("_per_10cm") and value is not None}

    pattern = request.leg.stitch_pattern
    leg = {"stitch_pattern": pattern.model_copy(update=of(pattern))} if pattern else {}
    return request.model_copy(
        update={
            "gauge": request.gauge.model_copy(update=of(request.gauge)),
            "leg": request.leg.model_copy(update=leg),
        }
    )
