"""A sock in progress: what is knitted of it, and the plans that begin with that."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from ...construction.constructions import TUBES
from ...construction.planner import Given, plan_from
from ...construction.sections.base import Tube
from ...construction.sections.foot import FOOT
from ...construction.sections.leg import LEG
from ...construction.sizes import round_the_foot
from ...fit.stitch_counts import foot_stitches_after_heel
from ...fit.targets import fit_of
from ...gauge.parts import Fabrics
from ...plan.document import Plan, Round, Sizes
from ...request.plan_request import PlanRequest
from ..as_knitted import longer_as_knitted, sizes_as_knitted
from ..candidate_text import FOOT_TOLERANCE, stitches_in, what_stays
from ..foot_again import KnittedFoot


@dataclass(frozen=True)
class SockInProgress:
    """A sock in progress: its plan, the rounds done, and the request with the measured gauge."""

    plan: Plan
    done: int
    request: PlanRequest
    fabrics: Fabrics | None = None

    @cached_property
    def foot(self) -> KnittedFoot:
        """What is knitted of the foot, at its own gauge where that is known."""
        fit, own = fit_of(self.request), self.fabrics and self.fabrics.foot
        return KnittedFoot(
            fit,
            own.stitches.per_10cm / 10 if own else fit.fabric.stitches,
            own.stitches.error if own else 0.0,
            own.rounds.error if own else 0.0,
        )

    @cached_property
    def foot_is_lost(self) -> bool:
        """Whether what is knitted of the foot is too wide or too narrow to be left."""
        return self.foot.is_to_be_knitted_again(self.plan, self.done, ripped=False)

    def stays(self, plan: Plan, done: int | None = None) -> str:
        """The first sentence on a way: what is knitted and is not what was asked for; none where all is well."""
        at = self.done if done is None else done
        return what_stays(plan, at, self.sizes(plan, at), self.foot)

    def sizes(self, plan: Plan, done: int) -> Sizes:
        """The sizes of a plan that goes on from so many rounds, those of finished parts at their own gauge."""
        return sizes_as_knitted(plan.sizes, plan, done, self.fabrics) if self.fabrics else plan.sizes

    def plan_from(self, *, leg: int | None = None, foot: int | None = None, done: int | None = None) -> Plan:
        """The plan that begins with the rounds done, at the measured gauge.

        Leg and foot get the stitches given, keep those that they were begun with, or get what the gauge asks for.
        """
        at = self.done if done is None else done
        knitted = knitted_part(self.plan, at)
        if leg is None and LEG.key in knitted:
            leg = self.plan.sizes.leg_stitches
        if foot is None and leg is not None:
            foot = self.foot_below(leg)
        longer = longer_as_knitted(self.plan, at, self.fabrics) if self.fabrics else 0.0
        return plan_from(self.request, knitted, Given(leg, foot, longer_cm=longer))

    @property
    def foot_wanted(self) -> int:
        """Stitches for the foot beside the leg as it is."""
        return self.foot_below(self.stitches_in("leg"))

    def foot_below(self, leg: int) -> int:
        """Stitches for the foot below a leg of so many: those planned while they suit, or those the gauge asks for."""
        planned, fit = self.plan.sizes.foot_stitches, fit_of(self.request)
        suits = self.foot.fits(round_the_foot(self.plan, fit)) or not self.stitch_gauge_differs
        same_instep = leg == self.stitches_in("leg") or not self.follows_in_pattern
        stays = self.as_wide_as_planned and suits and same_instep
        return planned if stays else foot_stitches_after_heel(self.request, fit, leg)

    @property
    def follows_in_pattern(self) -> bool:
        """Whether the instep has the leg's stitches in a fabric that is not that of the sole."""
        instep = fit_of(self.request).instep
        return instep.fabric.stitches != instep.plain.stitches

    @property
    def as_wide_as_planned(self) -> bool:
        """Whether the measured gauge makes the planned stitches hardly wider or narrower than the plan took them for.

        The plan may itself be a little off what was asked for: leg and foot have one count, which suits the ribbing.
        """
        planned, measured = fit_of(self.plan.request), fit_of(self.request)
        if not self.follows_in_pattern:
            return abs(planned.fabric.stitches / measured.fabric.stitches - 1) <= FOOT_TOLERANCE
        return abs(round_the_foot(self.plan, measured) / round_the_foot(self.plan, planned) - 1) <= FOOT_TOLERANCE

    def stitches_in(self, tube: Tube) -> int:
        """Stitches that the plan has for the leg or the foot."""
        return stitches_in(self.plan, tube)

    def other_tube_begun(self, tube: Tube) -> bool:
        """Whether the other of leg and foot is knitted already."""
        return any(self.begun(other) for other in TUBES if other != tube)

    def begun(self, tube: Tube) -> bool:
        """Whether some of the leg or the foot is knitted."""
        return TUBES[tube].key in knitted_part(self.plan, self.done)

    @property
    def stitch_gauge_differs(self) -> bool:
        """Whether the measured stitches are not those of the plan."""
        planned, measured = fit_of(self.plan.request), fit_of(self.request)
        return (planned.fabric.stitches, planned.leg.fabric.stitches) != (
            measured.fabric.stitches,
            measured.leg.fabric.stitches,
        )


def section_at(plan: Plan, done: int) -> str:
    """The key of the section in which the next round lies; the last one when the sock is finished."""
    return next((section.key for section, span in plan.spans() if done in span), plan.sections[-1].key)


def knitted_part(plan: Plan, done: int) -> dict[str, tuple[Round, ...]]:
    """The rounds done of each section that has been begun, by its key."""
    rounds = plan.rounds()[:done]
    return {section.key: rounds[span.start : span.stop] for section, span in plan.spans() if span.start < done}


def foot_is_knitted(plan: Plan, done: int) -> bool:
    """Whether the foot lies behind the needles, as it does in the leg of a sock from the toe up."""
    return plan.span(FOOT.key).stop <= done
