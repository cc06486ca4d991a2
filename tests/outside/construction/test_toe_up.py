"""Socks from the toe up as published patterns have them."""

from __future__ import annotations

import pytest

from companion.planning import Plan
from companion.planning.construction.shaping import wedge_toe
from companion.planning.plan.rounds import zone_stitches
from tests.planning.asking import planned, section


def sock_of(stitches: int, **construction: str) -> Plan:
    """A sock from the toe up with so many stitches in the foot and in the leg."""
    around = round(stitches / 3.2 / 0.9, 1)
    return planned(
        foot={"ball_circumference_cm": around, "length_cm": 25}, construction={"direction": "toe-up"} | construction
    )


@pytest.mark.parametrize("rounds", range(14, 30))
def test_a_foot_of_56_is_begun_on_about_a_quarter(rounds: int) -> None:
    # heidibearscreative.blogspot.com, 2010/08: a quarter of 56 is cast on, 14. Ours grows by four a round, so it
    # begins on 12 or 16.
    assert abs(wedge_toe(28, 28, rounds, of=56).left - 14) <= 2


@pytest.mark.parametrize("stitches", [48, 56, 64, 72])
def test_the_toe_of_a_whole_plan_is_begun_on_about_a_quarter(stitches: int) -> None:
    # The same rule through a whole plan; 4 stitches a round cannot meet every quarter.
    toe = section(sock_of(stitches), "toe").rounds()
    assert abs(toe[0].after - stitches / 4) <= 4
    assert toe[-1].after == stitches


def test_increases_come_every_round_at_the_tip_and_every_other_round_after() -> None:
    # b-ark.ca/socknitters/toe-up, lesson two: four increases a round, two at either side, the first rounds without a
    # plain one between them in fine yarn, then every other round.
    toe = section(sock_of(64), "toe").rounds()[1:]
    kinds = "".join("+" if item.kind == "increase" else "." for item in toe)
    every_round = len(kinds) - len(kinds.lstrip("+"))
    assert every_round >= 1
    assert kinds[every_round:] == ".+" * ((len(kinds) - every_round) // 2)
    assert {item.after - item.before for item in toe} == {0, 4}


@pytest.mark.parametrize(("stitches", "half"), [(48, 24), (64, 32)])
def test_half_the_stitches_are_cast_on_provisionally_for_a_toe_of_short_rows(stitches: int, half: int) -> None:
    # knittingmagic.biz, short-row toe: 32 of 64. slippedstitches.wordpress.com, tag "toes": 24 of 48.
    toe = section(sock_of(stitches, toe="short-row"), "toe").rounds()
    assert toe[0].uses("co") == half
    assert toe[-1].uses("resume") == half
    assert toe[-1].after == stitches


def test_the_gusset_grows_by_two_every_other_round_on_the_half_of_the_heel() -> None:
    # southerncrossfibre.com, toe-up socks with heel flap, part IV: increase at either end of the heel half in every
    # alternate round.
    gusset = section(sock_of(64), "gusset").rounds()
    kinds = [item.kind for item in gusset]
    assert kinds == ["increase", "plain"] * (len(gusset) // 2)
    assert {item.after - item.before for item in gusset} == {0, 2}
    assert {zone_stitches(item, "instep") for item in gusset} == {32}


def test_the_flap_takes_the_gusset_in_until_the_foot_stitches_are_back() -> None:
    # southerncrossfibre.com, as above: gusset stitches are worked together with the last heel stitch of each row.
    plan = sock_of(64)
    gusset, flap = section(plan, "gusset").rounds(), section(plan, "heel-flap").rounds()
    assert {item.before - item.after for item in flap} == {1}
    assert len(flap) == gusset[-1].after - gusset[0].before
    assert flap[-1].after == 64
