"""Stitch counts to choose from: those near the target that suit the ribbing."""

from __future__ import annotations

import math
from dataclasses import dataclass

from .document import Choice
from .faults import CannotKnitError, Fault
from .fit import Fit, nearest_multiple
from .request import PlanRequest
from .rib import rib_width

FEWEST_STITCHES = 16
"""A heel of eight stitches is the smallest that the round turn can be worked on."""

MISS = 0.04
"""How far a count that suits the ribbing may miss the target before the leg gets a count of its own (ours)."""

LEAST_EASE, MOST_EASE = -5.0, 25.0
"""Ease in percent outside which a count is not offered; the limits of the request."""

LEG_TO_FOOT = (0.75, 1.3)
"""Leg stitches for each foot stitch between which a straight leg and a heel over half of it make a sock (ours)."""


@dataclass(frozen=True)
class Counts:
    """The stitch counts that a sock is begun with."""

    cuff: int
    leg: int
    foot: int


def repeat_of(request: PlanRequest) -> int:
    """The number that a count all the way round must be a multiple of: the ribbing's repeat, and even."""
    return math.lcm(rib_width(request.cuff.rib), 2)


def starting_counts(request: PlanRequest, fit: Fit) -> Counts:
    """The counts nearest to the targets.

    Raises CannotKnitError when the sock would have too few stitches for a heel.
    """
    repeat = repeat_of(request)
    wanted = fit.leg_target * fit.fabric.stitches
    cuff = nearest_multiple(wanted, repeat)
    leg = cuff if abs(cuff - wanted) <= MISS * wanted else nearest_multiple(wanted, 2)
    foot = nearest_multiple(fit.foot_target * fit.fabric.stitches, 2)
    for name, count in (("leg", leg), ("cuff", cuff), ("foot", foot)):
        if count < FEWEST_STITCHES:
            raise CannotKnitError(
                Fault(
                    "gauge.stitches_per_10cm",
                    f"{request.gauge.stitches_per_10cm:g}",
                    f"the {name} would have {count} stitches, and a sock needs {FEWEST_STITCHES} or more; "
                    "take a finer yarn, check the foot's measurements, or allow less ease",
                )
            )
    _one_straight_tube(request, leg / foot)
    return Counts(cuff, leg, foot)


def _one_straight_tube(request: PlanRequest, leg_to_foot: float) -> None:
    low, high = LEG_TO_FOOT
    if not low <= leg_to_foot <= high:
        entry = "leg" if request.foot.leg_circumference_cm is not None else "ankle"
        given = request.foot.leg_circumference_cm or request.foot.ankle_circumference_cm
        ball = request.foot.ball_circumference_cm
        raise CannotKnitError(
            Fault(
                f"foot.{entry}_circumference_cm",
                f"{given:g}",
                f"the leg is one straight tube, and suits {low * ball:.1f} to {high * ball:.1f} cm on a foot "
                f"{ball:g} cm round the ball; measure where the cuff will sit, or plan a shorter leg",
            )
        )


def _ease(stitches: int, fit: Fit) -> float:
    return 100 * (1 - fit.fabric.width(stitches) / fit.body.leg)


def _why(stitches: int, fit: Fit, repeat: int, rib: str) -> str:
    wanted = fit.leg_target * fit.fabric.stitches
    miss = stitches - wanted
    off = "on" if abs(miss) < 0.05 else f"{abs(miss):.1f} {'over' if miss > 0 else 'under'}"
    return f"{stitches // repeat} repeats of {repeat} for {rib}; {off} the {wanted:.1f} stitches asked for"


def choices_of(request: PlanRequest, fit: Fit, counts: Counts, *, begun: bool) -> tuple[Choice, ...]:
    """Three to five counts round the target, with the one in force marked.

    Fewer are offered where the next ones would not fit a foot any more. Once a sock is `begun` the count in force
    is what the leg has or gets on the needles.
    """
    repeat = repeat_of(request)
    middle = nearest_multiple(fit.leg_target * fit.fabric.stitches, repeat)
    offered = {
        count: _why(count, fit, repeat, request.cuff.rib)
        for count in range(middle - 2 * repeat, middle + 2 * repeat + 1, repeat)
        if count >= FEWEST_STITCHES and (count == counts.leg or LEAST_EASE <= _ease(count, fit) <= MOST_EASE)
    }
    if begun:
        offered[counts.leg] = "the leg of the sock that is on the needles"
    elif counts.leg not in offered:
        offered[counts.leg] = (
            f"nearest to the size asked for: the ribbing on {counts.cuff}, then {counts.leg} in the leg, "
            "changed evenly in one round"
        )
    return tuple(
        Choice(
            stitches=count,
            finished_cm=round(fit.fabric.width(count), 2),
            ease_percent=round(_ease(count, fit), 2),
            chosen=count == counts.leg,
            why=why,
        )
        for count, why in sorted(offered.items())
    )
