"""A sock whose request is changed: before its cast-on it is planned anew, later only what lies ahead is."""

from __future__ import annotations

from collections.abc import Iterator
from operator import attrgetter

from pydantic import ValidationError

from ..construction.constructions import built
from ..construction.planner import Given, make_plan, plan_from
from ..construction.sections.leg import LEG
from ..faults import CannotKnitError, Fault, faults_of
from ..fit.stitch_counts import foot_stitches
from ..fit.targets import fit_of
from ..plan.document import PartOfSock, Plan
from ..request.plan_request import PlanRequest
from .ways.sock_in_progress import knitted_part

ON_THE_NEEDLES = "The sock is begun {was}, and that can only be changed before the cast-on."
KNITTED = "The {part} is begun. Leave this as it was, or rip back to before it first."
FINISHED = "The {part} is knitted. Leave this as it was, or rip back into it first."
BY_A_CHECK = "The sock is begun. Make a gauge check instead: it knows what is knitted."
BEHIND = "This would change rounds that are knitted. Change less, or rip back first."

_BEGUN: dict[str, PartOfSock] = {
    "cuff.rib": "cuff",
    "cuff.edge": "cuff",
    "parts.cuff": "cuff",
    "leg.chart": "leg",
    "leg.stitch_pattern": "leg",
    "construction.heel": "heel",
    "construction.turn": "heel",
    "construction.flap": "heel",
    "construction.garter_edge": "heel",
    "parts.heel": "heel",
    "reinforcing_thread.heel": "heel",
    "foot_pattern": "foot",
    "construction.sole": "foot",
    "construction.sole_from_heel": "gusset",
    "construction.toe": "toe",
    "parts.toe": "toe",
    "reinforcing_thread.toe": "toe",
}
"""Entries that settle how a part begins, with that part."""

_HEEDED = ("short_rows", "rounds_between", "toe_start")
"""Entries of the construction that settle how every part begins that follows them."""

_FINISHED: dict[str, PartOfSock] = {"cuff.length_cm": "cuff", "leg.length_cm": "leg", "leg.until": "leg"}
"""Entries that only settle how long a part becomes."""


def change_plan(plan: Plan, done: int, request: PlanRequest) -> Plan:
    """The plan for a changed request, which goes on from `done` knitted rounds; they stay as they are.

    A leg that is begun keeps its stitches, and a foot too while the changed request asks for the same width.
    Raises CannotKnitError where what is asked for is settled by what is knitted, or cannot be knitted.
    """
    if not done:
        return make_plan(request)
    if faults := settled(plan, done, request):
        raise CannotKnitError(faults[0])
    knitted = knitted_part(plan, done)
    was, fit = fit_of(plan.request), fit_of(request)
    same_foot = was.foot_target == fit.foot_target
    as_wide = same_foot and was.leg_target == fit.leg_target
    leg = plan.sizes.leg_stitches if LEG.key in knitted or as_wide else None
    foot = plan.sizes.foot_stitches if same_foot else foot_stitches(request, fit, leg) if leg else None
    changed = plan_from(request, knitted, Given(leg, foot))
    if changed.rounds()[:done] != plan.rounds()[:done]:
        raise CannotKnitError(Fault("", "", BEHIND))
    return changed


def change_the_other(other: Plan, done: int, request: PlanRequest) -> Plan:
    """The plan of the other sock, of which `done` rounds are knitted, for the changed request of the first one.

    Raises CannotKnitError.
    """
    wanted = request.for_the_other_foot()
    return change_plan(other, done, what_lies_ahead(other, done, wanted) if done else wanted)


def what_lies_ahead(plan: Plan, done: int, request: PlanRequest) -> PlanRequest:
    """A request as far as it still can be followed: what the first `done` rounds settle stays as it is knitted.

    Raises CannotKnitError where the rest does not go together with that.
    """
    for fault in settled(plan, done, request):
        part, _, entry = fault.where.partition(".")
        knitted = getattr(plan.request, part)
        if entry:
            knitted = getattr(request, part).model_copy(update={entry: getattr(knitted, entry)})
        request = request.model_copy(update={part: knitted})
    try:
        return PlanRequest.model_validate(request.model_dump(by_alias=True))
    except ValidationError as error:
        raise CannotKnitError(faults_of(error)[0]) from error


def settled(plan: Plan, done: int, request: PlanRequest) -> list[Fault]:
    """What is asked for otherwise than the first `done` rounds of a plan are knitted."""
    return list(_settled(plan, done, request)) if done else []


def _settled(plan: Plan, done: int, request: PlanRequest) -> Iterator[Fault]:
    def differs(where: str) -> bool:
        return bool(attrgetter(where)(plan.request) != attrgetter(where)(request))

    if differs("construction.direction"):
        down = plan.request.construction.direction == "cuff-down"
        was = "from the cuff down" if down else "from the toe up"
        yield Fault("construction.direction", "", ON_THE_NEEDLES.format(was=was))
    for where in ("gauge.stitches_per_10cm", "gauge.rounds_per_10cm"):
        if differs(where):
            yield Fault(where, "", BY_A_CHECK)
    # A gusset is a part of its heel, whichever of them is knitted first.
    spans: list[tuple[PartOfSock, range]] = [
        ("heel" if part.of == "gusset" else part.of, plan.span(section.key)) for section, part in built(plan)
    ]
    begun = {part for part, span in spans if span.start < done}
    ahead = {part for part, span in spans if span.stop > done}
    following = {
        f"construction.{entry}": part.of
        for _, part in built(plan)
        for entry in part.follows
        if entry in _HEEDED and part.of in begun
    }
    for where, part in (_BEGUN | following).items():
        if part in begun and differs(where):
            yield Fault(where, "", KNITTED.format(part=part))
    for where, part in _FINISHED.items():
        if part not in ahead and differs(where):
            yield Fault(where, "", FINISHED.format(part=part))
