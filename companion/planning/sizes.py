"""The finished sock's sizes, from what its sections have left and a gauge."""

from __future__ import annotations

from .document import Plan, Sizes
from .fit import Fabric
from .sections.base import Progress


def sizes_of(finished: Progress, fabric: Fabric) -> Sizes:
    """Sizes in cm of a finished sock, unstretched, to a tenth of a millimetre."""
    leg, foot = finished.pieces["leg"], finished.pieces["foot"]
    return Sizes(
        leg_stitches=leg,
        foot_stitches=foot,
        leg_cm=round(fabric.width(leg), 2),
        foot_circumference_cm=round(fabric.width(foot), 2),
        foot_length_cm=round(fabric.height(finished.foot_rounds), 2),
        heel_pass_cm=round(finished.heel_pass_cm, 2),
    )


def stitches_at_the_top(plan: Plan) -> int:
    """Stitches of the leg next to the cuff; a shaped leg has another number above the heel."""
    leg = next(section for section in plan.sections if section.key == "leg").rounds()
    return leg[-1].after if plan.request.construction.direction == "toe-up" else leg[0].after


def round_the_top(plan: Plan) -> float:
    """The way round the leg next to the cuff, in cm."""
    return round(plan.sizes.leg_cm / plan.sizes.leg_stitches * stitches_at_the_top(plan), 2)
