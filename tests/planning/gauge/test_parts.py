"""Leg and foot keep the gauge that was measured on them."""

from __future__ import annotations

import pytest

from companion.planning import Check, Plan, recalculate
from companion.planning.gauge.check import Spot
from companion.planning.gauge.estimate import gauges_of
from companion.planning.gauge.observations import assumed
from companion.planning.gauge.parts import gauges_on
from companion.planning.recalculation.recalculate import Recalculation
from tests.planning.asking import planned


def check(stitches: float, at: int, spots: int = 4) -> Check:
    """Spots of 10 cm with the same count, after so many rounds of the first sock."""
    each = [(Spot(count=count, over_cm=10),) * spots for count in (stitches, stitches * 1.4)]
    return Check(stitches=each[0], rounds=each[1], round=at, sock_round=at)


def of_part(part: range, *checks: Check) -> float:
    return gauges_on(part, checks, gauges_of(checks)).stitches.per_10cm


def test_a_part_that_was_checked_keeps_what_was_found_on_it() -> None:
    alone = of_part(range(20, 80), check(30, 60))
    assert of_part(range(20, 80), check(30, 60), check(28, 150), check(28, 150)) == alone
    assert alone == pytest.approx(30)


def test_a_part_between_two_checks_lies_between_them() -> None:
    between = of_part(range(70, 120), check(30, 60), check(29.4, 150))
    assert 29.5 < between < 29.9


def test_a_part_before_the_first_check_is_as_that_but_less_surely() -> None:
    checks = [check(30, 150)]
    ahead = gauges_of(checks)
    found = gauges_on(range(20, 60), checks, ahead)
    assert found.stitches.per_10cm == ahead.stitches.per_10cm
    assert found.stitches.deviation > ahead.stitches.deviation


def test_without_rounds_all_parts_are_as_what_is_ahead() -> None:
    checks = [check(30, 60).model_copy(update={"round": None})]
    ahead = gauges_of(checks)
    assert gauges_on(range(20, 80), checks, ahead) is ahead


def found_with(plan: Plan, done: int, *checks: Check) -> Recalculation:
    return recalculate(plan, done, [assumed(plan.request), *checks])


def test_a_finished_leg_is_as_wide_as_it_was_measured() -> None:
    plan = planned()
    gauge, leg, foot = plan.request.gauge.stitches_per_10cm, plan.span("leg"), plan.span("foot")
    in_the_leg = check(gauge, leg.stop)
    in_the_foot = [check(gauge * 0.93, foot.start + 30)] * 2
    before = found_with(plan, leg.stop, in_the_leg).if_unchanged.leg_cm
    after = found_with(plan, foot.start + 30, in_the_leg, *in_the_foot)
    assert after.verdict == "change"
    assert after.if_unchanged.leg_cm == pytest.approx(before, abs=0.02)
    assert after.recommended.sizes.leg_cm == pytest.approx(before, abs=0.02)
    assert all("leg" not in option.why.partition(".")[0] for option in after.options)


def test_a_good_foot_is_not_ripped_because_the_leg_becomes_looser() -> None:
    plan = planned(construction={"direction": "toe-up", "heel": "flap", "toe": "wedge"})
    gauge, leg, foot = plan.request.gauge.stitches_per_10cm, plan.span("leg"), plan.span("foot")
    later = [check(gauge * 0.9, leg.start + 30)] * 2
    found = found_with(plan, leg.start + 30, check(gauge, foot.stop), *later)
    assert found.verdict == "change"
    assert found.recommended.stitches_ripped == 0
    alone = found_with(plan, leg.start + 30, *later)
    assert alone.recommended.title == "Knit the foot again"


def test_a_foot_of_two_fabrics_is_as_long_as_both_of_them() -> None:
    """By hand: each round is 10 cm / its gauge high; the leg was checked at 30, the middle of the foot at 28."""
    plan = planned(gauge={"stitches_per_10cm": 30, "rounds_per_10cm": 42, "basis": "swatch"})
    leg, foot = plan.span("leg"), plan.span("foot")
    first, done = foot.start + 16, foot.start + 40
    checks = [check(30, leg.stop), *[check(30, first)] * 2, *[check(28, done)] * 2]
    found = found_with(plan, done, *checks)
    ahead = found.gauges.rounds.per_10cm
    assert ahead == pytest.approx(28 * 1.4, rel=0.003)
    # What is counted lies 20 rounds below the needles on average: 42 four rounds before the foot, 39.2 in its round 20.
    begins = 42 - (42 - ahead) * 4 / 24
    mean = 400 / (20 * 10 / ((begins + ahead) / 2) + 20 * 10 / ahead)
    rest = plan_rounds_ahead(plan, done) * 10 / ahead
    behind = (whole_rounds(plan) - plan_rounds_ahead(plan, done)) * 10 / mean
    assert found.if_unchanged.foot_length_cm == pytest.approx(behind + rest, abs=0.05)
    wanted = plan.request.foot.length_cm - plan.request.ease.length_cm
    going_on = [option for option in found.options if option.done == done and option.key != "leave"]
    assert going_on
    for option in going_on:
        assert option.sizes.foot_length_cm == pytest.approx(wanted, abs=10 / ahead)
        assert option.plan.rounds()[:done] == plan.rounds()[:done]


def plan_rounds_ahead(plan: Plan, done: int) -> int:
    """Rounds of the plain foot and of a wedge toe from here on, but for grafting."""
    return sum(item.kind != "finish" for item in plan.rounds()[done:])


def whole_rounds(plan: Plan) -> int:
    """Rounds from the back of the heel to the tip of the toe, at the gauge that was planned."""
    return round(plan.sizes.foot_length_cm * 4.2)
