"""The finished sock's sizes, from what its sections have left and a gauge."""

from __future__ import annotations

from ..fit.targets import Fabric, fit_of
from ..plan.document import Plan, Sizes
from .sections.base import Progress
from .sections.leg import LEG


def sizes_of(finished: Progress, fabric: Fabric) -> Sizes:
    """Sizes in cm of a finished sock, unstretched. They are rounded once, where they are shown."""
    leg, foot = finished.leg, finished.foot
    return Sizes(
        leg_stitches=leg,
        foot_stitches=foot,
        leg_cm=fabric.width(leg),
        foot_circumference_cm=fabric.width(foot),
        foot_length_cm=fabric.height(finished.foot_rounds),
        heel_pass_cm=finished.heel_pass_cm,
    )


def stitches_at_the_top(plan: Plan) -> int:
    """Stitches of the leg next to the cuff; a shaped leg has another number above the heel."""
    leg = next(section for section in plan.sections if section.key == LEG.key).rounds()
    return leg[-1].after if plan.request.construction.direction == "toe-up" else leg[0].after


def round_the_top(plan: Plan) -> float:
    """The way round the leg next to the cuff, in cm."""
    return fit_of(plan.request).fabric.width(stitches_at_the_top(plan))
