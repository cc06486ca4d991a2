"""The finished sock's sizes, from what its sections have left and a gauge."""

from __future__ import annotations

from ..fit.targets import Fit, fit_of
from ..plan.document import Plan, Sizes
from ..plan.rounds import zone_stitches
from .sections.base import Progress
from .sections.leg import LEG, is_a_pair


def sizes_of(finished: Progress, fit: Fit) -> Sizes:
    """Sizes in cm of a finished sock, unstretched. They are rounded once, where they are shown."""
    leg, foot = finished.leg, finished.foot
    return Sizes(
        leg_stitches=leg,
        foot_stitches=foot,
        leg_cm=fit.leg.width(leg),
        foot_circumference_cm=fit.around_foot(foot, finished.counts["instep"]),
        foot_length_cm=fit.fabric.height(finished.foot_rounds),
        heel_pass_cm=finished.heel_pass_cm,
    )


def stitches_at_the_top(plan: Plan) -> int:
    """Stitches of the leg next to the cuff; a shaped leg has another number above the heel."""
    leg = next(section for section in plan.sections if section.key == LEG.key).rounds()
    return leg[-1].after if plan.request.construction.direction == "toe-up" else leg[0].after


def leg_is_shaped(plan: Plan) -> bool:
    """Whether a leg is narrowed or widened along its back, beside a front that stays."""
    span = plan.span(LEG.key)
    return any(map(is_a_pair, plan.rounds()[span.start : span.stop]))


def instep_of(plan: Plan) -> int:
    """Stitches of the instep on the foot."""
    rounds = (item for item in plan.rounds() if item.after == plan.sizes.foot_stitches)
    return next(filter(None, (zone_stitches(item, "instep") for item in rounds)), plan.sizes.foot_stitches // 2)


def round_the_foot(plan: Plan, fit: Fit) -> float:
    """The way round the foot of a plan in cm, at the gauge of a fit."""
    return fit.around_foot(plan.sizes.foot_stitches, instep_of(plan))


def round_the_top(plan: Plan) -> float:
    """The way round the leg next to the cuff, in cm."""
    return fit_of(plan.request).leg.width(stitches_at_the_top(plan))
