"""Which counts leg and foot get from the measurements, and what is offered beside them."""

from __future__ import annotations

from itertools import product
from typing import Any

import pytest

from companion.planning import CannotKnitError
from companion.planning.fit.feet import HEEL_DIAGONAL, body_of
from tests.planning.asking import asked, knit_plan, planned
from tests.planning.requests import HEELS_AND_TOES, names

BALL = 23.5


def counts(rib: str, measured: float | None, **others: Any) -> tuple[int, int]:
    """Stitches of leg and foot for a foot of usual length."""
    foot = {"ball_circumference_cm": BALL, "length_cm": 24.5} | ({"leg_circumference_cm": measured} if measured else {})
    sizes = planned(foot=foot, cuff={"rib": rib}, **others).sizes
    return sizes.leg_stitches, sizes.foot_stitches


@pytest.mark.parametrize("leg", [22.4, 23.0, 23.4])
def test_a_leg_up_to_five_percent_narrower_than_the_foot_gets_the_foots_count(leg: float) -> None:
    # Craft writing: one count for both, where the foot is up to 5 % larger. 23.5 cm less a tenth at 3.2 a cm: 67.7.
    assert counts("k1 p1", leg) == (68, 68)
    assert counts("k2 p2", leg) == counts("k2 p2", None) == (68, 68)


def test_a_leg_narrower_than_that_has_its_own_count_and_leaves_the_foot_the_right_one() -> None:
    # 22 cm less a tenth at 3.2 a cm: 63.4.
    assert counts("k1 p1", 22.0) == (64, 68)
    assert counts("k2 p2", 22.0) == (64, 68)


def test_where_the_ribbing_does_not_allow_the_foots_count_the_legs_serves_both() -> None:
    # 67.7 stitches: 68 is no multiple of three and two.
    assert counts("k2 p1", 23.0) == (66, 66)


@pytest.mark.parametrize("leg", [26.0, 28.0, 30.0])
def test_a_wider_leg_leaves_heel_and_foot_what_a_straight_sock_has(leg: float) -> None:
    for rib in ("k2 p2", "k3 p1", "k1 p1"):
        assert counts(rib, leg, leg={"length_cm": 20}) == counts(rib, None)


@pytest.mark.parametrize("leg", [22.0, 22.4, 23.0, 26.0])
def test_a_count_that_is_chosen_by_its_ease_becomes_the_legs(leg: float) -> None:
    foot = {"ball_circumference_cm": BALL, "length_cm": 24.5, "leg_circumference_cm": leg}
    plan = planned(foot=foot, leg={"length_cm": 20})
    assert len(plan.choices) >= 3
    for choice in plan.choices:
        ease = {"circumference_percent": choice.ease_percent}
        own = planned(foot=foot, leg={"length_cm": 20}, ease=ease)
        assert [each.stitches for each in own.choices if each.chosen] == [choice.stitches]


def test_an_estimated_heel_lets_every_toddlers_sock_go_on() -> None:
    # The tightest heel and the most ease, feet as long for their width as any of ANSUR II or a little more.
    for length, ratio, stitches in product((12.2, 13, 14.5, 16), (0.9, 1.1, 1.3, 1.35), (20, 24, 32, 40)):
        foot = {"ball_circumference_cm": round(length / ratio, 1), "length_cm": length}
        plan = planned(
            foot=foot,
            gauge={"stitches_per_10cm": stitches, "rounds_per_10cm": None},
            ease={"circumference_percent": 15},
            construction={"heel": "short-row"},
        )
        assert plan.fit[0].verdict in ("good", "snug"), (length, ratio, stitches)
        assert any("proportions of adult feet" in warning for warning in plan.warnings)


def test_a_small_foot_has_the_proportions_of_a_measured_one() -> None:
    for length, ratio in product((12.2, 14, 16, 19), (0.85, 1.0, 1.2, 1.35)):
        ball = round(length / ratio, 1)
        body = body_of(asked(foot={"ball_circumference_cm": ball, "length_cm": length}))
        assert HEEL_DIAGONAL.least * ball - 1e-9 <= body.heel_diagonal <= HEEL_DIAGONAL.most * ball + 1e-9


def wide(width: int, length: float = 10, **more: Any) -> dict[str, Any]:
    """A leg in lace of so many stitches, as wide and high as plain knitting, on a foot that asks for 66.2 of them."""
    pattern = {"rows": [f"k2tog, yo, k{width - 2}", "knit"], "stitches_per_10cm": 32, "rounds_per_10cm": 44}
    return {"leg": {"length_cm": length, "stitch_pattern": pattern}, "foot": {"ball_circumference_cm": 23, **more}}


@pytest.mark.parametrize("construction", HEELS_AND_TOES, ids=names)
def test_wide_repeats_come_in_an_odd_number_where_no_even_one_is_near(construction: dict[str, str]) -> None:
    """Five repeats of 13 are 65; four are 52 and six 78, each off by a fifth."""
    plan = planned(**wide(13), construction=construction, foot_pattern="instep follows the leg")
    assert plan.sizes.leg_stitches == 65
    for choice in plan.choices:
        again = planned(**wide(13), construction=construction, ease={"circumference_percent": choice.ease_percent})
        assert [each.stitches for each in again.choices if each.chosen] == [choice.stitches]
    knit_plan(plan)


def test_an_even_number_of_repeats_that_is_near_is_taken_and_a_shaped_leg_has_no_other() -> None:
    """Six repeats of 11 are 66. Of 9 there would be seven: pairs lead only from an even count to an even one."""
    assert planned(**wide(11)).sizes.leg_stitches == 66
    shaped = planned(**wide(9, 22, leg_circumference_cm=30), cuff={"rib": "k1 p1"})
    assert planned(**wide(9)).sizes.leg_stitches == 63
    assert shaped.sizes.leg_stitches == 72


def test_a_repeat_that_goes_into_no_leg_is_refused_with_a_way_out() -> None:
    with pytest.raises(
        CannotKnitError, match=r"66 stitches, and the nearest that the repeat gives is .*make it a panel"
    ):
        planned(**wide(25))
