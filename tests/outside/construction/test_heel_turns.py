"""Round heel turns as published patterns have them."""

from __future__ import annotations

import pytest

from companion.planning.construction.shaping import heel_turn
from companion.planning.plan.rounds import zone_stitches
from tests.planning.asking import planned, section

PUBLISHED = [
    (30, 18),  # joyfulintribulation.wordpress.com, 2021/03/13
    (32, 18),  # knittingunplugged.com, 2015/04/29
    (34, 20),  # joyfulintribulation.wordpress.com, 2021/03/13
]


@pytest.mark.parametrize(("heel", "left"), PUBLISHED)
def test_a_turn_leaves_as_many_stitches_as_published(heel: int, left: int) -> None:
    assert heel_turn("round", heel).left == left


@pytest.mark.parametrize(("heel", "left"), PUBLISHED)
def test_the_turn_of_a_whole_plan_leaves_as_many_stitches_as_published(heel: int, left: int) -> None:
    plan = planned(foot={"ball_circumference_cm": round(2 * heel / 3.2 / 0.9, 1)}, cuff={"rib": "k1 p1"})
    assert plan.sizes.leg_stitches == 2 * heel
    pick_up = section(plan, "gusset").rounds()[0]
    assert zone_stitches(pick_up, "heel") == left
    assert len(section(plan, "heel-turn").rounds()) == heel - left


def test_a_turn_over_thirty_stitches_takes_twelve_rows() -> None:
    # colourchoices.blogspot.com, basic sock pattern 1: full twelve rows for 30 -> 18.
    assert len(heel_turn("round", 30).rows) == 12


def test_the_series_goes_on_with_the_usual_start() -> None:
    # Computed from the usual start: knit to one or two beyond the middle, decrease, knit one, turn.
    series = {24: 14, 26: 16, 28: 16, 30: 18, 32: 18, 34: 20, 36: 20, 38: 22, 40: 22}
    assert {heel: heel_turn("round", heel).left for heel in series} == series


def test_a_square_turn_over_28_leaves_10() -> None:
    # thepottyknitter.com, basic sock: the square turn takes 28 heel stitches to 10.
    assert heel_turn("square", 28).left == 10


@pytest.mark.parametrize("heel", range(16, 48, 2))
def test_a_v_turn_begins_narrower_and_leaves_fewer_than_a_round_one(heel: int) -> None:
    # Common practice: the V starts from the very middle.
    narrow, usual = heel_turn("V", heel), heel_turn("round", heel)
    assert narrow.rows[0].across == heel // 2
    assert narrow.left <= usual.left


def test_a_v_turn_over_20_goes_to_the_middle_and_then_one_stitch_further_each_row() -> None:
    # howtodothings.com, "How to turn a sock heel", the V: over 20 stitches the first row works 10 before its decrease,
    # and each row after it slips one and works 1, then 2, then 3, before it decreases and works one more.
    rows = heel_turn("V", 20).rows
    assert [row.across for row in rows[:4]] == [10, 1, 2, 3]
    assert all(row.one_more for row in rows[:4])
