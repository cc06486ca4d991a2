"""Every plan can be knitted, and the knitted sock has the size that was asked for.

The knitter and the shape are independent of the planning core: they work from the document alone.
"""

from __future__ import annotations

import json
import math
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from companion.planning import Check, Plan, read_plan, recalculate
from companion.planning.gauge.check import Spot
from companion.planning.request.rib import rib_width
from tests.planning.asking import (
    WHOLE_PLANS,
    knit_plan,
    plan_or_leave,
    recalculated_or_leave,
    request_data,
    worked_out_again,
)
from tests.planning.requests import anything_allowed, requests
from tests.shape import shape

ROUND_OFF = 0.006  # cm; the document gives sizes to a tenth of a millimetre

UNFELT = 0.015
"""Part of the foot's circumference by which a foot that is begun may stay off.

With 10 % of ease the sock is then stretched by 8.5 to 11.5 %, and 5 to 15 % are usual (common practice).
"""


def knitted_shape(plan: Plan) -> Any:
    request = plan.request
    stitches = request.gauge.stitches_per_10cm / 10
    rounds = (request.gauge.rounds_per_10cm or request.gauge.stitches_per_10cm * 1.35) / 10
    return shape(knit_plan(plan), stitches, rounds)


OFF_BY_YARN_CM = 1.0
"""How far a leg by the yarn may end from where its calf was estimated: what its stitches take is a rough sum."""


def _at_the_cuff(ball: float, length: float, leg: dict[str, Any], knitted: float) -> float:
    """How round a leg is taken to be that was not measured, by the rule for the calf of a long one."""
    by_yarn = leg.get("until") == "half the yarn"
    high = knitted + OFF_BY_YARN_CM if by_yarn else float(leg["length_cm"])
    if high <= min(18, length) and not by_yarn:
        return ball
    up = max(0.0, min(1.0, (high - 5) / (length - 5)))
    calf = 11.4 + 1.19 * ball - 0.07 * length
    calf -= 7.1 * max(0, min(1, (22.6 - length) / (22.6 - 19.8)))  # a child's is less than a grown one's
    return ball + up * max(0, calf - ball)


NARROWED_TWICE = request_data(
    foot={"ball_circumference_cm": 15.6, "length_cm": 13.3, "leg_circumference_cm": 14.0},
    gauge={"stitches_per_10cm": 20.0, "rounds_per_10cm": None},
    ease={"circumference_percent": 0.0, "length_cm": 0.0},
    construction={"direction": "toe-up", "heel": "short-row", "toe": "wedge"},
    cuff={"rib": "k2 p2", "length_cm": 1.0},
    leg={"length_cm": 2.0, "until": "half the yarn", "chart": None},
    foot_pattern="plain",
    yarns=[{"key": "A", "grams": 30}],
)
"""A leg so much narrower than its foot that two rounds take the difference."""

SCARCE_MAIN_YARN = request_data(
    foot={"ball_circumference_cm": 17.5, "length_cm": 14.9},
    gauge={"stitches_per_10cm": 22.8, "rounds_per_10cm": 31.5},
    ease={"circumference_percent": 15.0, "length_cm": 0.3},
    construction={"direction": "toe-up", "heel": "flap", "toe": "wedge"},
    cuff={"rib": "k1tbl p1", "length_cm": 8.0},
    leg={
        "length_cm": 22.8,
        "until": "half the yarn",
        "chart": {"width": 6, "rows": ["BCBBCB", "ABAABB", "ABAABB", "BCAACC"], "swap": False},
    },
    foot_pattern="plain",
    yarns=[{"key": "A", "grams": 35}, {"key": "B", "grams": 106}, {"key": "C", "grams": 38}],
)
"""A leg by the yarn whose cuff takes most of the yarn that ends first."""


WIDENED_TWICE = request_data(
    foot={"ball_circumference_cm": 14.8, "length_cm": 13.5},
    gauge={"stitches_per_10cm": 24.6, "rounds_per_10cm": None},
    ease={"circumference_percent": 0.0, "length_cm": 0.0},
    construction={"direction": "toe-up", "heel": "flap", "toe": "wedge"},
    cuff={"rib": "k1 p1", "length_cm": 1.0},
    leg={"length_cm": 2.0, "chart": {"width": 5, "rows": ["AAAAA"], "swap": False}},
    foot_pattern="plain",
    yarns=[{"key": "A", "grams": 30}],
)
"""A leg that gets four stitches more than its foot for the repeat of a chart."""

FEWER_IN_THE_CUFF = request_data(
    foot={"ball_circumference_cm": 18.1, "length_cm": 15.4, "leg_circumference_cm": 20.1},
    gauge={"stitches_per_10cm": 22.4, "rounds_per_10cm": None},
    ease={"circumference_percent": 0.0, "length_cm": 0.0},
    construction={"direction": "cuff-down", "heel": "short-row", "toe": "short-row"},
    cuff={"rib": "k3 p3", "length_cm": 5.8},
    leg={"length_cm": 14.8, "chart": None},
    foot_pattern="plain",
    yarns=[{"key": "A", "grams": 30}],
)
"""A cuff of as many stitches as the narrowest of the leg, which widens below it first."""


@given(requests())
@example(NARROWED_TWICE)
@example(SCARCE_MAIN_YARN)
def test_every_plan_can_be_knitted_and_has_the_size_asked_for(data: dict[str, Any]) -> None:
    plan = plan_or_leave(data)
    found = knitted_shape(plan)
    foot, ease, leg = data["foot"], data["ease"], data["leg"]
    smaller = 1 - ease["circumference_percent"] / 100
    ball, stitch = foot["ball_circumference_cm"], 10 / data["gauge"]["stitches_per_10cm"]
    at_the_cuff = foot.get("leg_circumference_cm") or _at_the_cuff(ball, foot["length_cm"], leg, found.leg_length_cm)
    if 0.95 * ball <= at_the_cuff < ball:
        at_the_cuff = ball
    chart = math.lcm(leg["chart"]["width"] if leg["chart"] else 1, 2)
    repeat = math.lcm(rib_width(data["cuff"]["rib"]), chart)
    assert abs(found.leg_cm - min(at_the_cuff, ball) * smaller) <= repeat / 2 * stitch + 1e-9
    assert found.leg_cm <= found.top_cm <= max(found.leg_cm, at_the_cuff * smaller + repeat / 2 * stitch + 1e-9)
    # One count for leg and foot where they would differ by two stitches.
    off = 3 if found.foot_cm == found.leg_cm else 1
    assert abs(found.foot_cm - ball * smaller) <= off * stitch + 1e-9
    if not any("than asked" in warning for warning in plan.warnings):
        round_height = 10 / (data["gauge"]["rounds_per_10cm"] or data["gauge"]["stitches_per_10cm"] * 1.35)
        assert abs(found.foot_length_cm - (foot["length_cm"] - ease["length_cm"])) <= round_height + 1e-9


@WHOLE_PLANS
@given(requests())
@example(WIDENED_TWICE)
def test_the_sizes_in_the_document_are_those_of_the_knitted_sock(data: dict[str, Any]) -> None:
    plan = plan_or_leave(data)
    found = knitted_shape(plan)
    assert found.leg_cm == pytest.approx(plan.sizes.leg_cm, abs=ROUND_OFF)
    assert found.foot_cm == pytest.approx(plan.sizes.foot_circumference_cm, abs=ROUND_OFF)
    assert found.foot_length_cm == pytest.approx(plan.sizes.foot_length_cm, abs=ROUND_OFF)
    assert found.heel_pass_cm == pytest.approx(plan.sizes.heel_pass_cm, abs=ROUND_OFF)
    assert (found.heel_mirrored, found.gusset_mirrored, found.toe_mirrored) == (True, True, True)


@WHOLE_PLANS
@given(requests())
def test_the_document_reads_back_to_the_same_plan(data: dict[str, Any]) -> None:
    plan = plan_or_leave(data)
    again, faults = read_plan(json.loads(plan.model_dump_json()))
    assert not faults
    assert again == plan


@WHOLE_PLANS
@given(requests(), st.integers(0, 1000))
@example(FEWER_IN_THE_CUFF, 7)
def test_a_plan_worked_out_again_with_its_own_gauge_stays_the_same(data: dict[str, Any], part: int) -> None:
    plan = plan_or_leave(data)
    done = part * len(plan.rounds()) // 1000
    again = worked_out_again(plan, done)
    assert again.rounds() == plan.rounds()
    assert (again.sizes, again.yarn) == (plan.sizes, plan.yarn)
    rounds = data["gauge"]["rounds_per_10cm"] or data["gauge"]["stitches_per_10cm"] * 1.35
    as_planned = Check(
        stitches=(Spot(count=data["gauge"]["stitches_per_10cm"], over_cm=10),), rounds=(Spot(count=rounds, over_cm=10),)
    )
    found = recalculate(plan, done, [as_planned])
    assert found.verdict == "nothing to change"
    assert [option.plan for option in found.options] == [plan]


@st.composite
def rechecked(draw: st.DrawFn) -> tuple[dict[str, Any], float, float, float]:
    """A request, a place as a part of the sock, and how far off stitches and rounds are: up to 15 % either way."""
    off = st.integers(-15, 15).map(lambda percent: 1 + percent / 100)
    return draw(requests()), draw(st.integers(0, 1000)) / 1000, draw(off), draw(off)


@WHOLE_PLANS
@given(rechecked())
def test_a_recalculation_keeps_what_is_knitted_and_meets_the_size(
    case: tuple[dict[str, Any], float, float, float],
) -> None:
    data, part, stitches_off, rounds_off = case
    plan = plan_or_leave(data)
    done = int(part * len(plan.rounds()))
    planned_rounds = data["gauge"]["rounds_per_10cm"] or data["gauge"]["stitches_per_10cm"] * 1.35
    check = Check(
        stitches=(Spot(count=data["gauge"]["stitches_per_10cm"] * stitches_off * 2, over_cm=20),),
        rounds=(Spot(count=planned_rounds * rounds_off * 2, over_cm=20),),
    )
    found = recalculated_or_leave(plan, done, [check])
    for option in found.options:
        assert option.done <= done
        assert option.plan.rounds()[: option.done] == plan.rounds()[: option.done]
        knit_plan(option.plan)
    target, round_height = data["foot"]["length_cm"] - data["ease"]["length_cm"], 10 / found.gauges.rounds.per_10cm
    missed, if_left = (abs(sizes.foot_length_cm - target) for sizes in (found.recommended.sizes, found.if_unchanged))
    assert missed <= if_left + round_height + ROUND_OFF
    # Ripping back to the foot is for its length: it keeps the stitches that the foot was knitted on.
    if found.recommended.key != "foot":
        _meets_the_target(found.recommended.plan, done)


def _rounds_to_change_the_foot_in(plan: Plan) -> int:
    """Rounds up to the end of the foot's tube: from the cuff down it ends at the toe, else at the heel."""
    keys = [section.key for section in plan.sections]
    last = "foot" if "foot" in keys else "toe" if keys[0] == "toe" else keys[keys.index("toe") - 1]
    return sum(len(section.rounds()) for section in plan.sections[: keys.index(last) + 1])


def _meets_the_target(plan: Plan, done: int) -> None:
    """Foot stitches within one of the target while the foot is open; length within a round unless it is said.

    On a fine fabric a foot that is begun may be further off than a stitch before a step in it is worth its while.
    """
    request = plan.request
    found = knitted_shape(plan)
    stitch = 10 / request.gauge.stitches_per_10cm
    if done < _rounds_to_change_the_foot_in(plan):
        target = request.foot.ball_circumference_cm * (1 - request.ease.circumference_percent / 100)
        one = 3 if found.foot_cm == found.leg_cm else 1
        assert abs(found.foot_cm - target) <= max(one * stitch, UNFELT * target if done else 0.0) + 1e-9
        if not any("than asked" in warning for warning in plan.warnings):
            rounds = request.gauge.rounds_per_10cm or request.gauge.stitches_per_10cm * 1.35
            assert abs(found.foot_length_cm - (request.foot.length_cm - request.ease.length_cm)) <= 10 / rounds + 1e-9


@WHOLE_PLANS
@given(anything_allowed(), st.integers(0, 1000), st.integers(-34, 34), st.integers(-34, 34))
def test_whatever_is_allowed_is_planned_or_refused_in_words(
    data: dict[str, Any], part: int, stitches_off: int, rounds_off: int
) -> None:
    plan = plan_or_leave(data)
    knit_plan(plan)
    stitches = data["gauge"]["stitches_per_10cm"]
    rounds = data["gauge"]["rounds_per_10cm"] or stitches * 1.35
    check = Check(
        stitches=(Spot(count=round(stitches * (100 + stitches_off) / 100, 1), over_cm=10),),
        rounds=(Spot(count=round(rounds * (100 + rounds_off) / 100, 1), over_cm=10),),
    )
    found = recalculated_or_leave(plan, part * len(plan.rounds()) // 1000, [check])
    for option in found.options:
        knit_plan(option.plan)
        assert read_plan(option.plan.model_dump(mode="json")) == (option.plan, [])
