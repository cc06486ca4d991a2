"""What sock two can be knitted by once sock one was changed: as planned, as knitted, or as it should have been."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from typing import Literal, TypeAlias

from ..construction.mirrored import mirrored
from ..construction.planner import Given, make_plan, plan_from, sizes_at
from ..faults import CannotKnitError
from ..fit.stitch_counts import foot_stitches
from ..fit.targets import fit_of
from ..frozen_model import FrozenModel
from ..gauge.estimate import Gauges
from ..gauge.parts import Fabrics
from ..plan.document import Plan, Sizes
from ..request.plan_request import PlanRequest
from .as_knitted import sizes_as_knitted
from .changes import Change, changes_of
from .figures import PlanFigures
from .recalculate import measured_request

MatchKey: TypeAlias = Literal["knitted", "measured", "planned"]


class Match(FrozenModel):
    """A plan for sock two from its cast-on, with its sizes at the gauge of sock one.

    `matches` says that it becomes sock one's twin, round for round, or its mirror image; `changes` are the differences,
    sock one before.
    """

    key: MatchKey
    title: str
    why: str
    matches: bool
    sizes: Sizes
    changes: tuple[Change, ...]
    plan: Plan


WORDS: dict[MatchKey, tuple[str, str]] = {
    "knitted": (
        "As sock one was knitted",
        "Round for round the same, with every change at the round where sock one has it: the two are twins.",
    ),
    "measured": (
        "As it should have been",
        "Planned from the cast-on with the gauge that sock one was found to have: no change in the middle, and the "
        "sizes nearest to the foot. It differs from sock one where that was changed too late.",
    ),
    "planned": (
        "As first planned",
        "The plan before any change. At the gauge that sock one was found to have it gets the sizes below; "
        "worth it when that gauge was not your usual one.",
    ),
}


def matches_for(planned: Plan, knitted: Plan, fabrics: Fabrics) -> tuple[Match, ...]:
    """The choices for a sock that is not begun; one that would be the same rounds as another is left out.

    `planned` is the plan that sock one was cast on by, `knitted` the one that it follows now, and `fabrics` what was
    found on its leg and foot, which sock two gets again. There is nothing to choose where sock one was not changed.
    A sock for another foot cannot be as sock one was knitted.
    """
    if same_sock(planned, knitted):
        return ()
    found: list[Match] = []
    for key, plan in _plans(planned, knitted, fabrics):
        if not any(same_sock(plan, other.plan) for other in found):
            found.append(_match(key, plan, knitted, fabrics))
    return tuple(found)


def same_sock(one: Plan, other: Plan) -> bool:
    """Whether two plans are knitted round for round the same, on the same needles."""
    return one.rounds() == other.rounds() and one.request.needles.size_mm == other.request.needles.size_mm


def _plans(planned: Plan, knitted: Plan, fabrics: Fabrics) -> Iterator[tuple[MatchKey, Plan]]:
    two_feet = knitted.request.two_feet
    if not knitted.request.other_foot.given():
        yield "knitted", mirrored(knitted) if two_feet else knitted
    # A chart that a leg on the needles could keep need not go into a new one, and no sock has some miscounts.
    with suppress(CannotKnitError):
        yield "measured", _as_it_should_have_been(_of_sock_two(knitted.request), fabrics)
    yield "planned", make_plan(planned.request.for_the_other_foot()) if two_feet else planned


def _of_sock_two(request: PlanRequest) -> PlanRequest:
    """The request that sock two is planned from, where this one is of sock one."""
    return request.for_the_other_foot() if request.two_feet else request


def _as_it_should_have_been(request: PlanRequest, fabrics: Fabrics) -> Plan:
    """A plan in which leg and foot have the stitches, and the foot the rounds, that their own fabrics ask for."""
    measured = measured_request(request, fabrics.ahead, fabrics.leg_in_pattern)
    longer = fit_of(measured).length_target * (1 - fabrics.foot.rounds.per_10cm / fabrics.ahead.rounds.per_10cm)
    if _are_alike(fabrics):
        return plan_from(measured, {}, Given(longer_cm=longer))
    in_pattern = fabrics.leg if fabrics.leg_in_pattern else None
    as_the_leg = measured_request(request, fabrics.ahead if in_pattern else fabrics.leg, in_pattern)
    leg = make_plan(as_the_leg).sizes.leg_stitches
    as_the_foot = measured_request(request, fabrics.foot, fabrics.leg_in_pattern)
    foot = foot_stitches(as_the_foot, fit_of(as_the_foot), leg)
    return plan_from(measured, {}, Given(leg, foot, longer_cm=longer))


def _are_alike(fabrics: Fabrics) -> bool:
    """Whether leg and foot are of one gauge: of plain knitting, or each of that which its own fabric has ahead."""

    def alike(one: Gauges, other: Gauges) -> bool:
        return one.stitches.per_10cm == other.stitches.per_10cm

    if fabrics.leg_in_pattern is None:
        return alike(fabrics.leg, fabrics.foot)
    return alike(fabrics.leg, fabrics.leg_in_pattern) and alike(fabrics.foot, fabrics.ahead)


def _sizes(plan: Plan, knitted: Plan, fabrics: Fabrics) -> Sizes:
    """The sizes of a whole sock whose leg and foot have the fabrics of sock one."""
    try:
        measured = measured_request(knitted.request, fabrics.ahead, fabrics.leg_in_pattern)
    except CannotKnitError:
        measured = knitted.request
    return sizes_as_knitted(sizes_at(plan, measured), plan, plan.count, fabrics)


def _match(key: MatchKey, plan: Plan, knitted: Plan, fabrics: Fabrics) -> Match:
    title, why = WORDS[key]
    twin = key == "knitted"
    sizes = _sizes(plan, knitted, fabrics)
    changes = differences(knitted, _sizes(knitted, knitted, fabrics), plan, sizes)
    return Match(
        key=key,
        title=title,
        why=why,
        matches=twin,
        sizes=sizes,
        changes=() if twin else changes,
        plan=plan,
    )


def differences(one: Plan, one_sizes: Sizes, two: Plan, two_sizes: Sizes) -> tuple[Change, ...]:
    """Every figure in which sock two, with these sizes, differs from sock one."""
    figures = PlanFigures(one, one_sizes, sock=1), PlanFigures(two, two_sizes, sock=2)
    return (*_cast_on(one, two), *changes_of(*figures))


def _cast_on(knitted: Plan, plan: Plan) -> tuple[Change, ...]:
    was, becomes = (each.rounds()[0].after for each in (knitted, plan))
    if was == becomes:
        return ()
    sums = (f"Sock one was cast on with {was} stitches.", _why_cast_on(plan, becomes))
    return (Change(what="Stitches cast on", before=f"{was}", after=f"{becomes}", sums=sums),)


def _why_cast_on(plan: Plan, stitches: int) -> str:
    begins = plan.sections[0]
    last = begins.rounds()[-1].after
    return f"{begins.title} begins with {stitches} stitches and ends with {last}."
