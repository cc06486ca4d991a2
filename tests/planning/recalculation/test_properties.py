"""What holds of a recalculation in every construction, at every place, with any gauge."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from companion.planning import Check, Plan
from companion.planning.gauge.check import Spot
from companion.planning.gauge.estimate import gauges_of
from companion.planning.gauge.observations import Evidence, assumed
from tests.planning.asking import WHOLE_PLANS, knit_plan, planned, recalculated_or_leave
from tests.planning.requests import EVERY_CONSTRUCTION

PLACES = st.integers(1, 999).map(lambda number: number / 1000)
"""How far a sock is knitted."""

OFF = st.integers(-12, 12).map(lambda percent: 1 + percent / 100)


@cache
def plan_of(**construction: str) -> Plan:
    return planned(construction=construction)


PLANS = st.sampled_from(EVERY_CONSTRUCTION).map(lambda made: plan_of(**made))


def counted(plan: Plan, at: int, stitches: float, rounds: float, spots: int = 4) -> Check:
    """A check at so many spots, where the gauge is so many times the planned one."""
    gauge = plan.request.gauge
    assert gauge.rounds_per_10cm
    each = [
        (Spot(count=round(2 * per_10cm * off) / 2, over_cm=10),) * spots
        for per_10cm, off in ((gauge.stitches_per_10cm, stitches), (gauge.rounds_per_10cm, rounds))
    ]
    return Check(stitches=each[0], rounds=each[1], round=at, sock_round=at)


@WHOLE_PLANS
@given(PLANS, PLACES, OFF, OFF)
def test_what_is_knitted_stays_and_every_way_can_be_knitted(
    plan: Plan, part: float, stitches: float, rounds: float
) -> None:
    done = max(1, round(part * plan.count))
    found = recalculated_or_leave(plan, done, [assumed(plan.request), counted(plan, done, stitches, rounds)])
    for option in found.options:
        assert option.done <= done
        assert option.plan.rounds()[: option.done] == plan.rounds()[: option.done]
        knit_plan(option.plan)


@WHOLE_PLANS
@given(PLANS, PLACES, OFF, OFF)
def test_with_the_same_numbers_nothing_has_to_change_once_a_change_is_accepted(
    plan: Plan, part: float, stitches: float, rounds: float
) -> None:
    done = max(1, round(part * plan.count))
    evidence: list[Evidence] = [assumed(plan.request), counted(plan, done, stitches, rounds)]
    found = recalculated_or_leave(plan, done, evidence)
    accepted = found.recommended
    assert recalculated_or_leave(accepted.plan, accepted.done, evidence).verdict == "nothing to change"


@WHOLE_PLANS
@given(PLANS, st.permutations([0.2, 0.4, 0.6, 0.8]), st.lists(OFF, min_size=4, max_size=4))
def test_the_order_in_which_checks_are_written_down_does_not_matter(
    plan: Plan, order: list[float], off: list[float]
) -> None:
    told = assumed(plan.request)
    checks = {
        part: counted(plan, round(part * plan.count), by, by) for part, by in zip(sorted(order), off, strict=True)
    }
    done = round(0.8 * plan.count)
    in_order = recalculated_or_leave(plan, done, [told, *checks.values()])
    mixed = recalculated_or_leave(plan, done, [told, *(checks[part] for part in order)])
    assert (mixed.verdict, mixed.gauges, mixed.if_unchanged) == (
        in_order.verdict,
        in_order.gauges,
        in_order.if_unchanged,
    )


@WHOLE_PLANS
@given(PLANS, PLACES, OFF, st.integers(1, 3))
def test_two_equal_checks_are_no_surer_than_one_with_the_spots_of_both(
    plan: Plan, part: float, off: float, spots: int
) -> None:
    done = max(1, round(part * plan.count))
    told = assumed(plan.request)
    once = counted(plan, done, off, off, spots)
    both = counted(plan, done, off, off, 2 * spots)
    two, one = (gauges_of([told, *checks]) for checks in ([once, once], [both]))
    for (_, with_two), (_, with_one) in zip(two.both(), one.both(), strict=True):
        assert with_two.per_10cm == with_one.per_10cm
        assert with_two.deviation >= with_one.deviation


@WHOLE_PLANS
@given(PLANS, PLACES)
def test_a_tighter_fabric_never_gets_fewer_stitches_round_the_foot(plan: Plan, part: float) -> None:
    done = max(1, round(part * plan.count))
    told = assumed(plan.request)
    counts = [
        recalculated_or_leave(
            plan, done, [told, counted(plan, done, 1 + percent / 100, 1)]
        ).recommended.sizes.foot_stitches
        for percent in range(-12, 13, 3)
    ]
    assert all(fewer <= more for fewer, more in pairwise(counts)), counts
