"""A narrower leg for a narrow ankle: offered beside the usual counts, with what it does to heel and foot."""

from __future__ import annotations

import pytest

from companion.planning import make_plan
from companion.planning.construction.narrower_leg import LEG_ALONE, with_narrower_leg
from tests.planning.asking import knit_plan, planned
from tests.planning.requests import DIRECTIONS, HEELS

NARROW = {"ball_circumference_cm": 25.2, "length_cm": 27.1, "ankle_circumference_cm": 20.6, "heel_diagonal_cm": 34.3}


@pytest.mark.parametrize("heel", HEELS)
@pytest.mark.parametrize("direction", DIRECTIONS)
def test_a_leg_loose_on_the_ankle_has_a_narrower_one_beside_it_that_keeps_the_foot(direction: str, heel: str) -> None:
    plan = planned(foot=NARROW, construction={"direction": direction, "heel": heel})
    assert plan.fit[2].verdict == "loose"
    [offer] = [choice for choice in plan.choices if choice.why.startswith(LEG_ALONE)]
    taken = make_plan(with_narrower_leg(plan.request, offer.stitches))
    knit_plan(taken)
    assert taken.sizes.leg_stitches == offer.stitches < plan.sizes.leg_stitches
    assert taken.sizes.foot_stitches == plan.sizes.foot_stitches
    assert taken.fit[2].verdict == "good"
    assert f"{taken.sizes.heel_pass_cm:.1f}".removesuffix(".0") in offer.why
    assert f"{plan.sizes.foot_stitches - offer.stitches} stitches more" in offer.why


def test_where_the_ankle_is_not_measured_or_filled_no_leg_is_offered_alone() -> None:
    for ankle in (None, 25.0):
        plan = planned(foot=NARROW | {"ankle_circumference_cm": ankle})
        assert not [choice for choice in plan.choices if choice.why.startswith(LEG_ALONE)]


def test_a_long_leg_that_was_not_measured_is_shaped_for_the_calf_and_says_so() -> None:
    # ANSUR II: 11.4 + 1.19 x ball - 0.07 x length is the calf at its widest.
    plan = planned(leg={"length_cm": 35})
    calf = 11.4 + 1.19 * 23 - 0.07 * 25
    assert plan.sections[0].rounds()[0].after == pytest.approx(0.9 * calf * 3.2, abs=2)
    assert any("which was not measured: it is shaped for one of about 37" in warning for warning in plan.warnings)
    leg = plan.sections[1].rounds()
    shaped = [number for number, item in enumerate(leg) if item.before != item.after]
    # Straight for 5 cm above the ankle, and for 10 cm under the cuff: the calf is widest a foot's length up.
    assert (len(leg) - shaped[-1] - 1) / 4.4 >= 5
    assert shaped[0] / 4.4 == pytest.approx(10, abs=1)
    assert not any("calf" in warning for warning in planned(leg={"length_cm": 18}).warnings)


def test_a_short_leg_says_that_it_cannot_widen_to_the_calf() -> None:
    plan = planned(foot={"leg_circumference_cm": 36}, leg={"length_cm": 4})
    assert any("too short to widen to the 36 cm" in warning for warning in plan.warnings)
    assert [choice.stitches for choice in plan.choices if choice.chosen] == [plan.sizes.leg_stitches]
    assert all(choice.stitches <= plan.sizes.leg_stitches + 8 for choice in plan.choices)
