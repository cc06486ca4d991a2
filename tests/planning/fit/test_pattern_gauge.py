"""A leg in a stitch pattern has a fabric of its own, beside a plain sole."""

from __future__ import annotations

from typing import Any

import pytest

from companion.planning import Plan, read_request
from companion.planning.plan.rounds import zone_stitches
from tests.planning.asking import planned, request_data, section

FOLLOWS = "instep follows the leg"


def cabled(stitches: float = 40, rounds: float = 44, **more: Any) -> Plan:
    """A sock in cables that were counted, where plain knitting has 32 stitches and 44 rounds."""
    pattern = {"name": "cable rib", "stitches_per_10cm": stitches, "rounds_per_10cm": rounds}
    return planned(leg={"length_cm": 12, "stitch_pattern": pattern}, **more)


def test_the_leg_has_the_stitches_of_its_pattern_and_the_cuff_those_of_a_plain_one() -> None:
    """By hand: 20.7 cm at 4 to the cm are 82.8, 14 repeats of 6 are 84 and 21 cm; a plain leg so wide has 67.2."""
    plan = cabled()
    assert plan.sizes.leg_stitches == 84
    assert plan.sizes.leg_cm == pytest.approx(21)
    assert section(plan, "cuff").rounds()[-1].after == 68
    assert not any("in the pattern" in warning for warning in plan.warnings)


def test_the_foot_adds_an_instep_in_pattern_to_a_plain_sole() -> None:
    """By hand: the 42 stitches of the front are 10.5 cm, and the 10.2 that are missing are 32.6 plain ones: 32."""
    plan = cabled(foot_pattern=FOLLOWS)
    foot = section(plan, "foot").rounds()[-1]
    assert {part.zone: zone_stitches(foot, part.zone) for part in foot.work} == {"sole": 32, "instep": 42}
    assert plan.sizes.foot_stitches == 42 + 32
    assert plan.sizes.foot_circumference_cm == pytest.approx(42 / 4 + 32 / 3.2)


def test_the_length_of_the_leg_is_in_the_rounds_of_its_pattern() -> None:
    """By hand: 12 cm at 5 rounds to the cm are 60."""
    assert section(cabled(rounds=50), "leg").count == 60


def test_a_sock_in_cables_goes_over_the_heel_less_easily_than_by_its_stitches_alone() -> None:
    """A short-row heel has no depth to make up for it."""
    short_rows = {"heel": "short-row"}
    drawn_in = cabled(foot_pattern=FOLLOWS, construction=short_rows)
    plain = planned(leg={"length_cm": 12}, construction=short_rows)
    assert drawn_in.sizes.leg_stitches > plain.sizes.leg_stitches
    across = (drawn_in.sizes.leg_stitches // 2) / 3.2 - (drawn_in.sizes.leg_stitches // 2) / 4
    as_plain = planned(
        leg={"length_cm": 12, "stitch_pattern": {"name": "cable rib", "stitches_per_10cm": 32, "rounds_per_10cm": 44}},
        foot={"ball_circumference_cm": 28.8},
        foot_pattern=FOLLOWS,
        construction=short_rows,
    )
    assert as_plain.sizes.leg_stitches == drawn_in.sizes.leg_stitches
    assert as_plain.sizes.heel_pass_cm - drawn_in.sizes.heel_pass_cm == pytest.approx(across)


def test_a_gauge_that_was_not_counted_is_said_to_be_estimated() -> None:
    plan = planned(leg={"stitch_pattern": {"name": "cable rib"}})
    [said] = [warning for warning in plan.warnings if "in the pattern" in warning]
    assert "cables draw in: where plain knitting has 10 stitches and 10 rounds, it has 11.3 and 10" in said


def test_a_leg_and_its_foot_that_one_heel_cannot_join_are_refused_with_a_way_out() -> None:
    with pytest.raises(Exception, match="let the instep go on in pattern"):
        cabled(46)
    assert cabled(46, foot_pattern=FOLLOWS).sizes.leg_stitches == 96


@pytest.mark.parametrize(
    ("gauge", "said"),
    [
        ({"stitches_per_10cm": 36}, "count stitches and rounds of the pattern, or leave both out"),
        (
            {"stitches_per_10cm": 64, "rounds_per_10cm": 44},
            "the stitches in pattern are 2 times those of plain knitting, and 0.6 to 1.7 times are usual; "
            "count both again",
        ),
        (
            {"stitches_per_10cm": 36, "rounds_per_10cm": 20},
            "the rounds in pattern are 0.455 times those of plain knitting, and 0.6 to 1.7 times are usual; "
            "count both again",
        ),
    ],
)
def test_a_gauge_that_no_pattern_has_is_refused(gauge: dict[str, float], said: str) -> None:
    request, faults = read_request(request_data(leg={"stitch_pattern": {"name": "cable rib", **gauge}}))
    assert request is None
    assert [fault.message for fault in faults] == [said]
