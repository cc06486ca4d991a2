"""How far fabric stretches, and how much smaller than the foot socks are, beside published figures."""

from __future__ import annotations

from typing import Any

import pytest

from companion.planning.construction.sections.edges import FIRM_EDGE
from companion.planning.construction.verdicts import GOOD_PASS, SNUG_PASS
from companion.planning.request.plan_request import usual_length_ease
from companion.planning.units import CM_PER_INCH
from tests.outside.fit.measured_feet import AVERAGE, LARGE, SMALL, MeasuredFoot
from tests.planning.asking import planned

PLAIN = (1.30, 1.60)
"""Times its width that plain jersey stretches to, by textile handbooks."""

RIBS = {"k1 p1": 1.96, "k2 p2": 2.233}
"""gulfcoastmakers.com, on how ribbing is measured: times its width that a ribbing stretches to."""


def test_a_sock_goes_on_as_far_as_any_plain_fabric_stretches() -> None:
    assert 1 < GOOD_PASS < SNUG_PASS <= PLAIN[0]
    assert PLAIN[0] >= FIRM_EDGE


@pytest.mark.parametrize("foot", [*SMALL, *AVERAGE, *LARGE])
@pytest.mark.parametrize("rib", RIBS)
def test_the_ribbing_of_the_usual_sock_stretches_over_the_heel(foot: MeasuredFoot, rib: str) -> None:
    plan = planned(foot=foot.all_measures(), cuff={"rib": rib})
    assert foot.heel_diagonal / 10 / plan.sizes.leg_cm < RIBS[rib]


@pytest.mark.parametrize("heel", ["short-row", "flap"])
def test_what_is_said_of_the_stretch_of_stranded_fabric_is_called_an_assumption(heel: str) -> None:
    """No published figure was found: colourwork stretches less, without a percentage (technique articles)."""
    chart = {"width": 4, "rows": ["ABBA", "BAAB"]}
    shape: dict[str, Any] = {"construction": {"heel": heel}, "foot": {"ball_circumference_cm": 23}}
    stranded = planned(leg={"chart": chart}, yarns=[{"key": "A"}, {"key": "B"}], **shape)
    [minded] = [warning for warning in stranded.warnings if "Stranded knitting" in warning]
    assert "assumed" in minded
    over_the_heel = stranded.fit[0].why
    assert ("assumed" in over_the_heel) == ("has to stretch" in over_the_heel) == (heel == "short-row")
    plain = planned(**shape)
    assert not any("assumed" in said for said in (*plain.warnings, *(verdict.why for verdict in plain.fit)))


@pytest.mark.parametrize(("length", "inches"), [(12.0, 0.5), (25.0, 1.0)])
def test_a_sock_is_shorter_than_the_foot_by_no_more_than_published(length: float, inches: float) -> None:
    # bartonriveryarn.com: an inch for adults, half of that for children; wabi-sabi.ca: 1 cm.
    ease = usual_length_ease(length)
    assert 0.4 * inches * 2.54 * 0.9 <= ease <= inches * CM_PER_INCH
    assert planned(foot={"ball_circumference_cm": 0.9 * length, "length_cm": length}).request.ease.length_cm == ease


@pytest.mark.parametrize(("ball", "warned"), [(14.1, True), (22.8, False)])
def test_a_sock_that_does_not_reach_round_a_short_circular_needle_is_reported(ball: float, *, warned: bool) -> None:
    # 12.7 cm of sock on a needle of 20 cm. Sold from 20 cm (8 in) on: common practice.
    foot = {"ball_circumference_cm": ball, "length_cm": 1.08 * ball}
    plan = planned(foot=foot, needles={"arrangement": "short circular"})
    assert any("short circular needle" in warning for warning in plan.warnings) == warned
    assert not any("short circular needle" in warning for warning in planned(foot=foot).warnings)
