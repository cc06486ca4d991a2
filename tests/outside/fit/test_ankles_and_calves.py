"""Legs of socks beside ankles and calves of a second survey, on which no estimate was fitted.

260 women and 247 men: Heinz, Peterson, Johnson and Kerk, Exploring Relationships in Body Dimensions, Journal of
Statistics Education 11 (2003), ankle at its least and calf at its widest; the 5th, 50th and 95th percentile, in cm, of
its open table, which the R package openintro has as `bdims`.
"""

from __future__ import annotations

from typing import NamedTuple

import pytest

from companion.planning.construction.sizes import round_the_top
from companion.planning.fit.feet import ANKLE, CALF
from tests.outside.fit.measured_feet import AVERAGE
from tests.planning.asking import asked, planned


class Girths(NamedTuple):
    """A measure of small, middling and large people."""

    small: float
    middle: float
    large: float


ANKLES = {"M": Girths(20.9, 23.0, 26.1), "F": Girths(18.9, 21.1, 23.7)}
CALVES = {"M": Girths(32.9, 37.3, 41.8), "F": Girths(31.0, 34.9, 39.4)}
FEET = {foot.sex: foot.ball_and_length() for foot in AVERAGE}


@pytest.mark.parametrize("sex", "MF")
def test_estimated_ankles_and_calves_are_those_of_the_second_survey(sex: str) -> None:
    foot = asked(foot=FEET[sex]).foot
    assert ANKLE.at(foot) == pytest.approx(ANKLES[sex].middle, abs=ANKLE.residual)
    assert CALF.at(foot) == pytest.approx(CALVES[sex].middle, abs=1.1 * CALF.residual)
    assert CALVES[sex].small < CALF.at(foot) < CALVES[sex].large


@pytest.mark.parametrize("sex", "MF")
def test_the_leg_of_the_usual_sock_goes_round_nine_ankles_in_ten(sex: str) -> None:
    verdicts = []
    for ankle in ANKLES[sex]:
        plan = planned(foot=FEET[sex] | {"ankle_circumference_cm": ankle})
        [verdict] = [one.verdict for one in plan.fit if one.what == "Round the ankle"]
        verdicts.append(verdict)
    assert verdicts[0] == "loose", "narrow ankles are those that a narrower leg is offered for"
    assert set(verdicts[1:]) <= {"loose", "good", "snug"}


@pytest.mark.parametrize("sex", "MF")
@pytest.mark.parametrize(
    "leg", [{"length_cm": 30}, {"until": "half the yarn"}], ids=["of a length", "by half of the yarn"]
)
def test_a_long_leg_goes_round_nine_calves_in_ten_that_were_not_measured(sex: str, leg: dict[str, object]) -> None:
    # Plain jersey stretches by 30 to 60 % in width; 2 % of ease is the least that stays up.
    plan = planned(foot=FEET[sex], leg=leg, construction={"direction": "toe-up"}, yarns=[{"grams": 150}])
    for calf in (CALVES[sex].middle, CALVES[sex].large):
        assert 1 < calf / round_the_top(plan) < 1.3
