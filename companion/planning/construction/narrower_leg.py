"""A leg narrower than the foot, for an ankle that the usual one is loose on: offered with what it does to the heel."""

from __future__ import annotations

from ..fit.feet import NEARLY_AS_WIDE
from ..fit.stitch_counts import ALIKE, LEG_TO_FOOT, Counts, in_whole_repeats, repeat_of
from ..fit.targets import Fit, fit_of, nearest_multiple
from ..plan.document import Choice, Sizes
from ..request.plan_request import PlanRequest
from ..units import both_units

LEG_ALONE = "a narrower leg alone"
"""What is said first of a choice that narrows the leg and leaves the foot its stitches."""


def narrower_leg(request: PlanRequest, fit: Fit, counts: Counts) -> int | None:
    """Stitches of a leg that sits close on a measured ankle; None where it was chosen, or would hardly be narrower.

    Such a leg is straight, and heel and instep are halves of it.
    """
    foot = request.foot
    if foot.ankle_circumference_cm is None or foot.leg_circumference_cm is not None or counts.top != counts.leg:
        return None
    smaller = 1 - request.ease.circumference_percent / 100
    wanted = fit.leg.stitches_for(foot.ankle_circumference_cm * smaller)
    plain = request.leg.pattern is None
    count = nearest_multiple(wanted, repeat_of(request)) if plain else in_whole_repeats(wanted, request)
    narrow = count < min(counts.leg, counts.foot - ALIKE, NEARLY_AS_WIDE * fit.leg.stitches_for(fit.foot_target))
    return count if narrow and count >= LEG_TO_FOOT[0] * counts.foot else None


def with_narrower_leg(request: PlanRequest, stitches: int) -> PlanRequest:
    """The request for a leg of so many stitches and an unchanged foot."""
    width = fit_of(request).leg.width(stitches)
    leg = round(width / (1 - request.ease.circumference_percent / 100), 2)
    return request.model_copy(update={"foot": request.foot.model_copy(update={"leg_circumference_cm": leg})})


def offered(fit: Fit, counts: Counts, now: Sizes, then: Sizes) -> Choice:
    """The choice of a narrower leg, with its consequences: the sizes that the sock has now, and those it has then."""
    more = counts.foot - then.leg_stitches
    return Choice(
        stitches=then.leg_stitches,
        finished_cm=then.leg_cm,
        ease_percent=round(100 * (1 - then.leg_cm / fit.body.ankle), 2),
        chosen=False,
        why=f"{LEG_ALONE}, for an ankle of {both_units(fit.body.ankle)}, over a foot that stays on {counts.foot}. The "
        f"heel is made on half of it, and the way round it becomes {both_units(then.heel_pass_cm)} instead of "
        f"{both_units(now.heel_pass_cm)}, for {both_units(fit.body.heel_diagonal)} of foot; beyond the heel the foot "
        f"has {more} stitches more than the leg",
    )
