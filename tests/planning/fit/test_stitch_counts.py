"""Which counts leg and foot get from the measurements, and what is offered beside them."""

from __future__ import annotations

from itertools import product
from typing import Any

import pytest

from companion.planning.fit.feet import HEEL_DIAGONAL, body_of
from tests.planning.asking import asked, planned

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
