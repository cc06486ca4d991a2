"""Wedge toes as published patterns have them."""

from __future__ import annotations

import pytest

from companion.planning.construction.shaping import Toe, wedge_toe
from companion.planning.units import CM_PER_INCH
from tests.outside.fit.measured_feet import AVERAGE, LARGE, SMALL, MeasuredFoot
from tests.planning.asking import planned, section


def test_64_stitches_halve_in_16_rounds_and_halve_again_in_4_more() -> None:
    # flockworkshop.uk, wedge toe: four every other round until halved, then every round to about an inch wide, graft.
    # Computed from that: 64 -> 32 in 16 rounds -> 16 in 4 more.
    toe = wedge_toe(32, 32, 20, of=64)
    assert toe == Toe(evening=0, slow=8, fast=4, left=16)
    assert toe.rounds == 16 + 4
    assert 64 - 4 * toe.slow == 32


def test_a_plan_whose_toe_has_room_for_20_rounds_works_it_so() -> None:
    # The same toe through a whole plan: 24 cm of foot ask for 19 % of 44 rounds a decimetre, which is 20.06.
    plan = planned(foot={"ball_circumference_cm": 22.2, "length_cm": 24})
    assert plan.sizes.foot_stitches == 64
    rounds = section(plan, "toe").rounds()
    assert [item.kind for item in rounds] == [*["decrease", "plain"] * 8, *["decrease"] * 4, "finish"]
    assert [rounds[15].after, rounds[19].after] == [32, 16]


def test_a_long_toe_decreases_every_other_round_until_16_remain() -> None:
    # joybilee-farm.blogspot.com, 2011/03/22: alternate decrease and plain rounds until 16 stitches remain.
    # Computed for 64 stitches: twelve of each.
    assert wedge_toe(32, 32, 24, of=64) == Toe(evening=0, slow=12, fast=0, left=16)


@pytest.mark.parametrize("stitches", range(48, 97, 2))
def test_about_a_quarter_is_left_to_graft(stitches: int) -> None:
    # Common practice: about a quarter. nearlywrong.blogspot.com, 2010/02: until about a third remains.
    for rounds in range(12, 36):
        sole = stitches // 2 // 2 * 2
        left = wedge_toe(sole, stitches - sole, rounds, of=stitches).left
        assert 1 / 5 <= left / stitches <= 1 / 3


@pytest.mark.parametrize("foot", [*SMALL, *AVERAGE, *LARGE])
@pytest.mark.parametrize("stitches", [28, 30, 32])
def test_the_toe_is_as_long_as_toes_are(foot: MeasuredFoot, stitches: int) -> None:
    # gentlegull.blogspot.com, 2012/02: toes 1 3/4 to 2 1/4 in; common practice 1 1/2 to 2 in. Grown feet.
    plan = planned(foot=foot.ball_and_length(), gauge={"stitches_per_10cm": stitches, "rounds_per_10cm": None})
    assert 1.5 <= section(plan, "toe").length_cm / CM_PER_INCH <= 2.25


def test_the_toe_of_a_9_inch_foot_begins_about_7_inches_from_the_heel() -> None:
    # gentlegull.blogspot.com, 2012/02: 2 in before the end, 9 in foot, 7 in. Here the toe is a share of the foot,
    # so within three eighths of an inch.
    plan = planned(foot={"ball_circumference_cm": 8.5 * 2.54, "length_cm": 9 * 2.54}, ease={"length_cm": 0})
    toe = section(plan, "toe").length_cm
    assert (plan.sizes.foot_length_cm - toe) / CM_PER_INCH == pytest.approx(7, abs=3 / 8)
