"""Short-row heels and toes as published patterns have them."""

from __future__ import annotations

import pytest

from companion.planning import Plan
from companion.planning.construction.shaping import short_row_middle
from companion.planning.units import CM_PER_INCH
from tests.planning.asking import knit_plan, planned, section
from tests.shape import shape

# rhyflowerknits.com, short row heel: stitches of the sock, those left in the middle of the heel, and how many inches
# before its length a foot stops for the heel, at 8 stitches and 10 rounds an inch.
PUBLISHED = [
    (48, 8, 1.75),
    (52, 8, 2),
    (56, 8, 2),
    (60, 10, 2),
    (64, 10, 2.25),
    (68, 10, 2.5),
    (72, 12, 2.5),
    (76, 12, 2.75),
    (80, 12, 3),
    (84, 14, 3),
    (88, 14, 3),
]


def sock_of(stitches: int, direction: str = "cuff-down", toe: str = "wedge") -> Plan:
    """A sock of so many stitches at 8 stitches and 10 rounds an inch, without ease."""
    return planned(
        foot={"ball_circumference_cm": round(stitches / 8 * CM_PER_INCH, 2), "length_cm": 24},
        gauge={"stitches_per_10cm": 80 / CM_PER_INCH, "rounds_per_10cm": 100 / CM_PER_INCH},
        ease={"circumference_percent": 0},
        cuff={"rib": "k2 p2"},
        construction={"direction": direction, "heel": "short-row", "toe": toe},
    )


def worked_in_each_row(plan: Plan, key: str) -> list[int]:
    """Stitches worked in each row of a section, without the one that is slipped to turn."""
    rows = knit_plan(plan).section(key)
    return [sum(op in {"k", "p", "kds", "pds"} for op in worked.written.ops) for worked in rows]


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_the_heel_of_60_stitches_is_worked_over_30_down_to_10(direction: str) -> None:
    # knitmuch.com, "the perfect heel quest", short rows heel: 60 stitches, 30 for the heel, 10 left in the middle.
    plan = sock_of(60, direction)
    assert plan.sizes.leg_stitches == plan.sizes.foot_stitches == 60
    heel = worked_in_each_row(plan, "heel")
    assert (heel[0], min(heel)) == (30, 10)


@pytest.mark.parametrize(("stitches", "middle", "inches"), PUBLISHED)
def test_about_as_many_are_left_in_the_middle_as_published(stitches: int, middle: int, inches: float) -> None:
    # Published are even numbers, mostly rounded down; ours go to the nearest third that leaves both sides alike.
    del inches
    assert short_row_middle(stitches // 2) - middle in (0, 2)
    assert min(worked_in_each_row(sock_of(stitches), "heel")) == short_row_middle(stitches // 2)


@pytest.mark.parametrize(("stitches", "middle", "inches"), PUBLISHED)
def test_a_foot_from_the_toe_up_stops_as_long_before_its_length_as_published(
    stitches: int, middle: int, inches: float
) -> None:
    del middle
    plan = sock_of(stitches, "toe-up")
    left = plan.sizes.foot_length_cm - sum(section(plan, key).length_cm for key in ("toe", "foot"))
    assert left / CM_PER_INCH == pytest.approx(inches, abs=0.25)


def test_24_stitches_of_a_toe_are_three_parts_of_8() -> None:
    # slippedstitches.wordpress.com, tag "toes": a sock of 48 stitches, 24 cast on, three sections of 8.
    assert min(worked_in_each_row(sock_of(48, "toe-up", "short-row"), "toe")[1:]) == 8


@pytest.mark.parametrize("stitches", range(10, 61))
def test_the_middle_is_about_a_third_and_leaves_both_sides_alike(stitches: int) -> None:
    # A craft magazine, Simply Knitting: about a third is left in the middle.
    middle = short_row_middle(stitches)
    assert abs(middle - stitches / 3) <= 1
    assert (stitches - middle) % 2 == 0


def test_a_short_row_heel_is_tighter_than_a_flap_and_a_gusset_gives_the_room_back() -> None:
    # lotsofyarn.blogspot.com, 2008/04: a small gusset is added where a standard short-row heel is a little tight on
    # a high instep.
    high_instep = {"ball_circumference_cm": 23, "length_cm": 25, "heel_diagonal_cm": 34}
    through = {
        heel: shape(knit_plan(plan), 3.2, 4.4).heel_pass_cm
        for heel in ("flap", "short-row", "short-row with gusset")
        for plan in [planned(foot=high_instep, construction={"heel": heel})]
    }
    assert through["short-row"] < 0.85 * through["flap"]
    assert through["short-row with gusset"] == pytest.approx(34, abs=0.35)
