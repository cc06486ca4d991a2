"""Working out the rest of a sock again when the fabric is not what was assumed.

What is knitted stays as it is; every option is a whole plan that begins with the very rounds on the needles.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import get_args

from pydantic import ValidationError

from ..construction.planner import sizes_at
from ..faults import CannotKnitError, Fault, faults_of
from ..fit.targets import fit_of
from ..frozen_model import FrozenModel
from ..gauge.check import Check
from ..gauge.decision import Measure, Planned, Verdict, count_again, counted_enough, differs, how_sure, is_open
from ..gauge.estimate import Gauges, When, estimate
from ..gauge.observations import FABRIC_SPREAD, Assumed, Evidence, What, assumed, per_10cm, seen_in, spots_here
from ..gauge.parts import Fabrics
from ..gauge.steps import contradicts
from ..plan.document import Plan, Sizes
from ..request.plan_request import Gauge, Leg, PlanRequest
from ..request.stitch_pattern import StitchPattern
from .as_knitted import after_ripping, fabrics_of, sizes_as_knitted
from .by_fabric import Known, planned_gauge
from .candidates import ways_on
from .fabric_to_count import next_room, room_below
from .misfits import keeping_the_length
from .needle_change import needle_steps, on_another_needle
from .options import Option, Pricing, Ranges, is_felt, ranges_of
from .ways.sock_in_progress import section_at
from .ways.way import Way

FARTHEST_OFF = 0.35
"""A measured gauge farther from the plan's than this part of it is a miscount, not a fabric (ours)."""

STRAYS = (
    "the plan has {planned}, and no yarn strays from its gauge by a third; "
    "count again, and look at the length you counted over and its unit"
)
"""What is said of a miscount."""

LEFT = "Every count stays as planned, and the sock gets this size."

DIGITS = 3
"""Decimals of a gauge over 10 cm that a plan is calculated with; nobody counts finer."""


class MeasuredGauge(FrozenModel):
    """What the checks alone found over 10 cm, and how far off the counts may be.

    Where nothing was counted the number is the plan's, with no error; rounds that the plan had estimated from its
    stitches are then estimated from the counted ones.
    """

    stitches_per_10cm: float
    stitches_give_or_take: float
    rounds_per_10cm: float
    rounds_give_or_take: float


class Recalculation(FrozenModel):
    """What the evidence means for the sock: the verdict, the sizes if nothing is changed, and the ways to go on.

    `gauges` is the estimate from all the evidence, beside what was `planned`: of plain knitting, or `in_pattern`.
    `gauge` is what the checks alone found. `measure` says what to count
    to be surer, `sure` between what the gauge lies and how sure it is that nothing has to change.
    """

    section: str
    gauge: MeasuredGauge
    gauges: Gauges
    planned: Planned
    in_pattern: bool
    verdict: Verdict
    why: str
    sure: str
    measure: Measure | None
    if_unchanged: Sizes
    ranges: Ranges
    options: tuple[Option, ...]

    @property
    def recommended(self) -> Option:
        """The option that we would take."""
        return next(option for option in self.options if option.recommended)


def recalculate(
    plan: Plan, done: int, evidence: Sequence[Evidence], seconds_per_stitch: float | None = None
) -> Recalculation:
    """The ways to go on from `done` knitted rounds with all that is known of the gauge.

    The evidence may begin with what was assumed before any check; without it, it is the plan's own gauge. A plan
    that was recalculated before has to be given the first assumption, or the checks behind it would count twice.
    Raises CannotKnitError for a place outside the sock or a gauge that no fabric of this yarn can have.
    """
    if not 0 <= done <= plan.count:
        raise CannotKnitError(Fault("round", str(done), f"this sock has {plan.count} rounds; allowed: 0 to that"))
    known = Known(plan, _with_an_assumption(plan, evidence), done)
    planned = planned_gauge(plan, in_pattern=known.in_pattern)
    refuse_miscounts(known)
    gauges = known.here
    request = measured_request(plan.request, known.plain, known.leg if known.pattern_was_counted else None)
    fabrics = fabrics_of(known)
    if_unchanged = sizes_as_knitted(sizes_at(plan, request), plan, done, fabrics)
    finished = done == plan.count
    clear = _differs_clearly(known, planned)
    looks_different = not finished and (clear or is_open(gauges, planned))
    ways = _ways(plan, request, done, fabrics, if_unchanged) if looks_different else []
    worth = any(way.recommended and is_felt(way, plan, if_unchanged) for way in ways)
    more = _to_count_again(known, planned, worth=worth) if not finished else None
    changes = clear and worth and not more
    verdict: Verdict = "measure again" if more else "change" if changes else "nothing to change"
    if clear and ways and (other := on_another_needle(plan, request, done, needle_steps(gauges, planned.stitches))):
        ways.append(other)
    pricing = Pricing(plan, done, fabrics, if_unchanged, seconds_per_stitch)
    leave = Way("leave", "Leave it as it is", LEFT, plan, done)
    options = [pricing.option(way, recommended=changes and way.recommended) for way in ways]
    return Recalculation(
        section=section_at(plan, done),
        gauge=_checks_alone(known, request),
        gauges=gauges,
        planned=planned,
        in_pattern=known.in_pattern,
        verdict=verdict,
        why=_why(verdict, gauges, finished=finished, clear=clear, more=more),
        sure=how_sure(gauges, planned),
        measure=more,
        if_unchanged=if_unchanged,
        ranges=ranges_of(if_unchanged, after_ripping(fabrics, plan, done)),
        options=(*options, pricing.option(leave, recommended=not changes)),
    )


def _ways(plan: Plan, request: PlanRequest, done: int, fabrics: Fabrics, if_unchanged: Sizes) -> list[Way]:
    """The ways on that change a round of the plan, each with the sizes that what is knitted leaves it."""
    ways = [_sized(way, fabrics) for way in ways_on(plan, request, done, fabrics)]
    rounds = plan.rounds()
    return keeping_the_length([way for way in ways if way.plan.rounds() != rounds], request, if_unchanged)


def _with_an_assumption(plan: Plan, evidence: Sequence[Evidence]) -> Sequence[Evidence]:
    """The evidence, after the plan's own gauge where nothing was assumed."""
    return evidence if any(isinstance(item, Assumed) for item in evidence) else (assumed(plan.request), *evidence)


def _differs_clearly(known: Known, planned: Planned) -> bool:
    """Whether the gauge found is surely not the one that was planned."""
    at = dict(planned.both())
    follows = not any(isinstance(item, Assumed) and _is_of(item, known.plan.request) for item in known.evidence)
    return any(differs(found, at[what], follows=follows) for what, found in known.here.both())


def _sized(way: Way, fabrics: Fabrics) -> Way:
    """A way with its sizes, of which those of finished parts are at their own gauge."""
    return replace(way, sizes=sizes_as_knitted(way.sizes or way.plan.sizes, way.plan, way.done, fabrics))


def _to_count_again(known: Known, planned: Planned, *, worth: bool) -> Measure | None:
    """What to count again before a change that is `worth` it; None where enough was counted, or nothing can be.

    Before the cast-on a swatch was counted, and another plan costs nothing.
    """
    plan, done, gauges = known.plan, known.done, known.here
    checks = [item for item in known.of_here if isinstance(item, Check)]
    stepped = contradicts(checks, plan.request.needles.size_mm)
    uneven = (gauges.stitches.uneven or gauges.rounds.uneven) and is_open(gauges, planned)
    enough = counted_enough(gauges, planned, spots_here(known.evidence))
    if not done or not (stepped or ((worth or uneven) and not enough)):
        return None
    room = room_below(plan, done)
    if room:
        return count_again(gauges, room, None)
    later = next_room(plan, done)
    room = room_below(plan, later) if later else None
    return count_again(gauges, room, later) if room else None


def measured_request(request: PlanRequest, gauges: Gauges, in_pattern: Gauges | None = None) -> PlanRequest:
    """The request with the estimated gauge, also that of its stitch pattern; what was never counted stays as it is.

    Raises CannotKnitError where no fabric of a sock can have that gauge.
    """
    gauge = request.gauge.model_dump()
    if gauges.stitches.counted:
        gauge |= {"stitches_per_10cm": round(gauges.stitches.per_10cm, DIGITS), "basis": "measured"}
    if gauges.rounds.counted:
        gauge |= {"rounds_per_10cm": round(gauges.rounds.per_10cm, DIGITS), "basis": "measured"}
    same = all(getattr(request.gauge, key) == value for key, value in gauge.items() if key != "basis")
    try:
        leg = _measured_leg(request, in_pattern) if in_pattern else request.leg
        if same and leg == request.leg:
            return request
        return request.model_copy(update={"gauge": Gauge.model_validate(gauge), "leg": leg})
    except ValidationError as error:
        fault = faults_of(error)[0]
        raise CannotKnitError(Fault(f"gauge.{fault.where}".rstrip("."), fault.given, fault.message)) from error


def _measured_leg(request: PlanRequest, in_pattern: Gauges) -> Leg:
    """The leg with the gauge of its pattern."""
    pattern = request.leg.stitch_pattern
    if pattern is None or not (in_pattern.stitches.counted or in_pattern.rounds.counted):
        return request.leg
    counted = {f"{what}_per_10cm": round(found.per_10cm, DIGITS) for what, found in in_pattern.both()}
    measured = StitchPattern.model_validate(pattern.model_dump() | counted)
    return request.leg.model_copy(update={"stitch_pattern": measured})


def _is_of(item: Assumed, request: PlanRequest) -> bool:
    """Whether a plan still has the gauge that was assumed at first."""
    gauge = request.gauge
    return (item.stitches_per_10cm, item.rounds_per_10cm) == (gauge.stitches_per_10cm, gauge.rounds_per_10cm)


def refuse_miscounts(known: Known) -> None:
    """Raises CannotKnitError for a check that no fabric can explain."""
    planned = planned_gauge(known.plan)
    for item in known.of_plain:
        if isinstance(item, Assumed):
            continue
        for what, at in planned.both():
            for seen in seen_in(item, what, FABRIC_SPREAD, None):
                if abs(seen.per_10cm / at - 1) > FARTHEST_OFF:
                    raise CannotKnitError(
                        Fault(
                            what,
                            per_10cm(seen.per_10cm),
                            STRAYS.format(planned=per_10cm(at)),
                        )
                    )


def _checks_alone(known: Known, request: PlanRequest) -> MeasuredGauge:
    checks = [item for item in known.of_here if isinstance(item, Check)]
    found = {}
    for what in get_args(What):
        counted = [item for item in checks if item.counts(what)]
        found[what] = estimate(counted, what, When(request.needles.size_mm)) if counted else None
    stitches, rounds = found["stitches"], found["rounds"]
    leg = fit_of(request).leg
    fabric = leg.fabric if known.in_pattern else leg.plain
    return MeasuredGauge(
        stitches_per_10cm=round(stitches.per_10cm if stitches else fabric.stitches * 10, 2),
        stitches_give_or_take=round(stitches.give_or_take if stitches else 0.0, 2),
        rounds_per_10cm=round(rounds.per_10cm if rounds else fabric.rounds * 10, 2),
        rounds_give_or_take=round(rounds.give_or_take if rounds else 0.0, 2),
    )


def _why(verdict: Verdict, gauges: Gauges, *, finished: bool, clear: bool, more: Measure | None) -> str:
    if finished:
        return "This sock is finished; the measured gauge is the one to plan the next sock with."
    if verdict == "change":
        drifts = " Sizes are given at your newest gauge, from which what you knitted earlier differs a little."
        moved = drifts if gauges.stitches.drifting or gauges.rounds.drifting else ""
        return f"The fabric differs from the plan by more than counting can be off by.{moved}"
    if verdict == "measure again" and more:
        if gauges.stitches.uneven or gauges.rounds.uneven:
            return (
                "The spots differ from one another by more than even knitting does. If one of them was a slip of the "
                f"pen, leave that check out below; {more.ask}."
            )
        return f"It may be as planned or not: {more.ask}. The gauge is not sure enough yet to calculate the rest."
    if clear:
        return "The gauge differs, but by too little to be worth a change of what lies ahead: knit on as planned."
    return "The difference lies within what counting can be off by: knit on as planned."
