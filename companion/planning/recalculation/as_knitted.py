"""Sizes of a sock whose parts were knitted at gauges of their own."""

from __future__ import annotations

from collections.abc import Sequence

from ..construction.heights import heights
from ..construction.sections.foot import FOOT
from ..construction.sections.leg import LEG
from ..fit.targets import fit_of
from ..gauge.estimate import Estimate, Gauges
from ..gauge.observations import Evidence
from ..gauge.parts import Fabrics, gauges_on
from ..plan.document import Plan, Sizes
from .by_fabric import Known


def fabrics_of(known: Known, ahead: Known | None = None) -> Fabrics:
    """The fabric of what is ahead of the needles, and of what is knitted of leg and foot.

    What is `ahead` is as all that is known says, or as something else does.
    """
    ahead = ahead or known

    def of(key: str, evidence: Sequence[Evidence], gauges: Gauges) -> Gauges:
        span = known.plan.span(key)
        knitted = range(span.start, min(known.done, span.stop))
        return gauges_on(knitted, evidence, gauges, known.plan.request.needles.size_mm)

    return Fabrics(
        ahead=ahead.plain,
        leg=of(LEG.key, known.of_leg, ahead.leg),
        foot=of(FOOT.key, known.of_plain, ahead.plain),
        leg_in_pattern=ahead.leg if ahead.pattern else None,
    )


def after_ripping(fabrics: Fabrics, plan: Plan, done: int) -> Fabrics:
    """The fabrics after so many rounds: a part that is not finished by then is as what is ahead."""
    finished = {key for key in (LEG.key, FOOT.key) if plan.span(key).stop <= done}
    return Fabrics(
        ahead=fabrics.ahead,
        leg=fabrics.leg if LEG.key in finished else fabrics.leg_ahead,
        foot=fabrics.foot if FOOT.key in finished else fabrics.ahead,
        leg_in_pattern=fabrics.leg_in_pattern,
    )


def sizes_as_knitted(sizes: Sizes, plan: Plan, done: int, fabrics: Fabrics) -> Sizes:
    """Sizes given at the gauge ahead, with those of finished parts at their own.

    A foot that is not finished is as wide as what is ahead of it, and as long as both its fabrics make it.
    """
    own, ahead = after_ripping(fabrics, plan, done), fabrics.ahead
    longer = ahead.rounds.per_10cm / fabrics.foot.rounds.per_10cm - 1
    return sizes.model_copy(
        update={
            "leg_cm": _looser(sizes.leg_cm, fabrics.leg_ahead.stitches, own.leg.stitches),
            "foot_circumference_cm": _looser(sizes.foot_circumference_cm, ahead.stitches, own.foot.stitches),
            "foot_length_cm": sizes.foot_length_cm * (1 + _of_its_own(plan, done) * longer),
        }
    )


def _looser(cm: float, was: Estimate, own: Estimate) -> float:
    """A length that was given at one gauge at another."""
    return cm * was.per_10cm / own.per_10cm


def longer_as_knitted(plan: Plan, done: int, fabrics: Fabrics) -> float:
    """By how many cm what is knitted of the foot after so many rounds is longer than at the gauge ahead."""
    per_cm = fit_of(plan.request).fabric.rounds
    cm_ahead = 10 / fabrics.ahead.rounds.per_10cm
    rounds = _of_its_own(plan, done) * plan.sizes.foot_length_cm * per_cm
    return rounds * (10 / fabrics.foot.rounds.per_10cm - cm_ahead)


def _of_its_own(plan: Plan, done: int) -> float:
    """The part of the foot's length that has the foot's own gauge: what was knitted by the end of its tube, or with it.

    A whole sock has it in its heel and toe, too.
    """
    foot, toe_up = plan.span(FOOT.key), plan.request.construction.direction == "toe-up"
    if done <= foot.start:
        return 0.0
    if done == plan.count or (toe_up and plan.span(LEG.key).start < done):
        return 1.0
    whole = plan.sizes.foot_length_cm * fit_of(plan.request).fabric.rounds
    high = tuple(heights(plan))
    end = min(done, foot.stop)
    return sum(high[:end]) / whole if toe_up else 1 - sum(high[end:]) / whole
