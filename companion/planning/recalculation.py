"""Working out the rest of a sock again when the fabric is not what was assumed.

What is knitted stays as it is; every option is a whole plan that begins with the very rounds on the needles.
"""

from __future__ import annotations

from typing import Literal

from pydantic import ValidationError

from .changes import Change, changes_between
from .check import Check, Estimate, Spot, estimate
from .document import Plan, Sizes, Value
from .faults import CannotKnitError, Fault, faults_of
from .fit import fit_of
from .planner import sizes_at
from .request import PlanRequest
from .units import CM_PER_INCH
from .ways import Way, WayKey, section_at, ways_on
from .work import all_ops, makes

FARTHEST_OFF = 0.35
"""A measured gauge farther from the plan's than this part of it is a miscount, not a fabric (ours)."""

INCHES_4 = 4 * CM_PER_INCH / 10
"""Four inches in units of 10 cm, the lengths that gauge is counted over (common practice)."""


class MeasuredGauge(Value):
    """What the check found over 10 cm, and how far off the counts may be.

    Where nothing was counted the number is the plan's, with no error; rounds that the plan had estimated from its
    stitches are then estimated from the counted ones.
    """

    stitches_per_10cm: float
    stitches_give_or_take: float
    rounds_per_10cm: float
    rounds_give_or_take: float


class Option(Value):
    """One way to go on, with its price and the plan that follows from it. `done` is the place after ripping."""

    key: WayKey
    title: str
    why: str
    recommended: bool
    sizes: Sizes
    changes: tuple[Change, ...]
    rounds_ripped: int
    stitches_ripped: int
    done: int
    plan: Plan


class Recalculation(Value):
    """What a check means for the sock: the verdict, the sizes if nothing is changed, and the ways to go on."""

    section: str
    gauge: MeasuredGauge
    verdict: Literal["nothing to change", "change"]
    why: str
    if_unchanged: Sizes
    options: tuple[Option, ...]

    @property
    def recommended(self) -> Option:
        """The option that we would take."""
        return next(option for option in self.options if option.recommended)


def recalculate(plan: Plan, done: int, check: Check) -> Recalculation:
    """The ways to go on from `done` knitted rounds with what a check has found.

    Raises CannotKnitError for a place outside the sock or a gauge that no fabric of this yarn can have.
    """
    rounds = plan.rounds()
    if not 0 <= done <= len(rounds):
        raise CannotKnitError(Fault("round", str(done), f"this sock has {len(rounds)} rounds; allowed: 0 to that"))
    planned = fit_of(plan.request).fabric
    stitches = _found(check.stitches, planned.stitches * 10, "stitches")
    heights = _found(check.rounds, planned.rounds * 10, "rounds")
    request = _measured_request(plan.request, stitches, heights, planned.rounds * 10)
    if_unchanged = sizes_at(plan, request)
    differs = request != plan.request
    ways = ways_on(plan, request, done) if differs and done < len(rounds) else []
    ways = [way for way in ways if way.plan.rounds() != rounds]
    changes = any(way.recommended for way in ways)
    kept = "Every count stays as planned, and the sock gets this size."
    leave = Way("leave", "Leave it as it is", kept, plan, done, recommended=not changes)
    return Recalculation(
        section=section_at(plan, done),
        gauge=MeasuredGauge(
            stitches_per_10cm=round(stitches.per_10cm, 2),
            stitches_give_or_take=round(stitches.give_or_take, 2),
            rounds_per_10cm=round(heights.per_10cm if check.rounds else fit_of(request).fabric.rounds * 10, 2),
            rounds_give_or_take=round(heights.give_or_take, 2),
        ),
        verdict="change" if changes else "nothing to change",
        why=_why(differs=differs, finished=done == len(rounds), changes=changes),
        if_unchanged=if_unchanged,
        options=tuple(_option(plan, way, if_unchanged, done) for way in [*ways, leave]),
    )


def _found(spots: tuple[Spot, ...], planned: float, name: str) -> Estimate:
    """The gauge from the spots; what was not counted is as planned, with no error."""
    found = estimate(spots) if spots else Estimate(planned, 0.0)
    if abs(found.per_10cm / planned - 1) > FARTHEST_OFF:
        raise CannotKnitError(
            Fault(
                name,
                f"{found.per_10cm:.1f} over 10 cm ({found.per_10cm * INCHES_4:.1f} over 4 in)",
                f"the plan has {planned:.1f} ({planned * INCHES_4:.1f}), and no yarn strays from its gauge by "
                "a third; count again, and look at the length you counted over and its unit",
            )
        )
    return found


def _measured_request(request: PlanRequest, stitches: Estimate, heights: Estimate, planned: float) -> PlanRequest:
    """The request with the measured gauge where it differs from the planned one by more than counting errors."""
    gauge = request.gauge.model_dump()
    if stitches.tells_apart(request.gauge.stitches_per_10cm):
        gauge |= {"stitches_per_10cm": stitches.per_10cm, "basis": "measured"}
    if heights.tells_apart(planned):
        gauge |= {"rounds_per_10cm": heights.per_10cm, "basis": "measured"}
    try:
        return PlanRequest.model_validate({**request.model_dump(), "gauge": gauge})
    except ValidationError as error:
        raise CannotKnitError(faults_of(error)[0]) from error


def _why(*, differs: bool, finished: bool, changes: bool) -> str:
    if finished:
        return "This sock is finished; the measured gauge is the one to plan the next sock with."
    if not differs:
        return "The difference lies within what counting can be off by: knit on as planned."
    if not changes:
        return "The gauge differs, but nothing from here on can be knitted better than as planned."
    return "The fabric differs from the plan by more than counting can be off by."


def _option(plan: Plan, way: Way, if_unchanged: Sizes, done: int) -> Option:
    leaves = way.key == "leave"
    return Option(
        key=way.key,
        title=way.title,
        why=way.why,
        recommended=way.recommended,
        sizes=if_unchanged if leaves else way.plan.sizes,
        changes=() if leaves else changes_between(plan, way.plan, if_unchanged),
        rounds_ripped=done - way.done,
        stitches_ripped=sum(makes(all_ops(item)) for item in plan.rounds()[way.done : done]),
        done=way.done,
        plan=way.plan,
    )
