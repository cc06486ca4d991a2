"""Which changes are worth it: those that bring the sock nearer to what was asked for, sums by hand."""

from __future__ import annotations

import pytest

from companion.planning import Plan, PlanRequest, make_plan
from companion.planning.plan.document import Sizes
from companion.planning.recalculation.options import is_felt
from companion.planning.recalculation.ways.sock_in_progress import SockInProgress
from companion.planning.recalculation.ways.way import Way
from companion.planning.request.foot import Foot
from companion.planning.request.plan_request import Gauge


def asked(ball_cm: float, stitches: float) -> PlanRequest:
    return PlanRequest(
        foot=Foot(ball_circumference_cm=ball_cm, length_cm=24.5),
        gauge=Gauge(stitches_per_10cm=stitches, rounds_per_10cm=42),
    )


@pytest.fixture(scope="module")
def plan() -> Plan:
    """A foot of 23 cm less a tenth is 20.7 cm, at 30 stitches 62.1; one count for leg and foot makes it 64."""
    plan = make_plan(asked(23.0, 30))
    assert plan.sizes.foot_stitches == 64
    return plan


def test_a_foot_gets_its_own_count_where_that_of_the_leg_is_too_wide(plan: Plan) -> None:
    """At 30.2 stitches 64 are 21.2 cm, 2.4 % too wide; 62.5 would be right, and the half goes up."""
    assert SockInProgress(plan, 40, asked(23.0, 30.2)).foot_wanted == 63


def test_a_foot_keeps_its_count_where_it_suits(plan: Plan) -> None:
    """At 30.4 stitches 64 are 21.1 cm, 1.7 % too wide."""
    assert SockInProgress(plan, 40, asked(23.0, 30.4)).foot_wanted == 64


def test_a_foot_keeps_its_count_where_only_rounds_were_counted(plan: Plan) -> None:
    assert SockInProgress(plan, 40, asked(23.0, 30)).foot_wanted == 64


def sizes(plan: Plan, **others: float) -> Sizes:
    return plan.sizes.model_copy(update={"foot_circumference_cm": 20.7, "foot_length_cm": 23.5, **others})


@pytest.mark.parametrize(
    ("entry", "was", "becomes", "felt"),
    [
        ("foot_circumference_cm", 21.2, 20.8, True),
        ("foot_circumference_cm", 21.0, 20.8, False),
        ("foot_circumference_cm", 20.6, 21.2, False),
        ("foot_circumference_cm", 20.3, 21.1, False),
        ("foot_length_cm", 23.9, 23.6, True),
        ("foot_length_cm", 23.65, 23.5, False),
        ("foot_length_cm", 23.5, 24.0, False),
        ("leg_cm", 22.5, 20.8, True),
    ],
)
def test_a_change_is_felt_by_what_it_brings_nearer(
    plan: Plan, entry: str, was: float, becomes: float, felt: bool
) -> None:
    """Asked for are 20.7 cm round and 23.5 cm long; 1.2 % of the one are 2.5 mm."""
    way = Way("rest", "", "", plan, 40, sizes=sizes(plan, **{entry: becomes}))
    assert is_felt(way, plan, sizes(plan, **{entry: was})) == felt
