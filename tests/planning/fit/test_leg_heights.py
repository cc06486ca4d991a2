"""Socks by the names of their heights: lengths that the trade gives, and in proportion on other feet."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.planning.construction.sizes import round_the_top
from companion.planning.fit.feet import LONG_LEG_CM
from companion.planning.fit.leg_heights import HEIGHTS, lengths_of
from tests.planning.asking import asked, knit_plan, planned, section

IN = 2.54


def test_a_crew_sock_is_as_long_as_the_trade_has_it_and_as_one_that_nothing_is_said_of() -> None:
    # yarnbecomewhatyouare.wordpress.com, and common practice: ribbing of 1.5 to 2 in, leg of 6 to 8 in with it or
    # without it.
    leg, cuff = lengths_of("crew", 25)
    assert 1.5 * IN <= cuff <= 2 * IN
    assert 6 * IN <= leg + cuff <= 8 * IN
    request = asked()
    assert (leg, cuff) == (request.leg.length_cm, request.cuff.length_cm)


def test_only_socks_that_reach_the_calf_are_shaped_for_it() -> None:
    # A leg of 4 to 8 in is typical (knitting.about.com, "sock leg"), and is not shaped (common practice).
    assert [name for name in HEIGHTS if lengths_of(name, 25)[0] > LONG_LEG_CM] == ["mid-calf", "knee"]
    shaped = {}
    for name in HEIGHTS:
        leg, cuff = lengths_of(name, 25)
        plan = planned(leg={"length_cm": leg}, cuff={"length_cm": cuff})
        knit_plan(plan)
        shaped[name] = any(item.before > item.after for item in plan.rounds()[: plan.span("leg").stop])
    assert [name for name, narrows in shaped.items() if narrows] == ["mid-calf", "knee"]


def test_a_knee_sock_is_as_long_as_the_trade_has_it() -> None:
    # For a woman 12 in of leg and 3 in of cuff: diananatters.blogspot.com, "making a knee sock".
    leg, cuff = lengths_of("knee", 25)
    assert leg == pytest.approx(12 * IN, abs=IN)
    assert cuff == pytest.approx(3 * IN, abs=IN / 2)


def test_a_mid_calf_sock_is_as_long_as_the_longer_half_hose() -> None:
    # 11 to 15 in (knittingmagic.biz, "types of hosiery"), from the bottom of the heel to the top (ho-hose.co.uk).
    leg, cuff = lengths_of("mid-calf", 27)
    plan = planned(
        foot={"ball_circumference_cm": 25, "length_cm": 27}, leg={"length_cm": leg}, cuff={"length_cm": cuff}
    )
    assert 11 * IN <= sum(section(plan, part).length_cm for part in ("cuff", "leg", "heel-flap")) <= 15 * IN


def test_short_socks_have_almost_no_leg_and_the_ankle_sock_the_least_of_ribbing() -> None:
    # "Almost nothing on shortie socks", where 4 in are typical: knitting.about.com, "sock leg". An inch of ribbing at
    # least: slippedstitches.wordpress.com, "cuff down socks". From memory: the footlet has less of both.
    (footlet, narrow), (ankle, ribbed) = (lengths_of(name, 25) for name in ("footlet", "ankle"))
    assert footlet < ankle < 4 * IN / 2
    assert narrow < ribbed == pytest.approx(IN, abs=0.05)


@pytest.mark.parametrize("length", [11, 16, 20])
def test_a_childs_knee_sock_is_shaped_for_the_calf_too(length: float) -> None:
    leg, cuff = lengths_of("knee", length)
    foot = {"ball_circumference_cm": 0.92 * length, "length_cm": length}
    plan = planned(foot=foot, leg={"length_cm": leg}, cuff={"length_cm": cuff})
    # A calf as round as the fit estimates it, which has its sources, less 10 % of ease, in whole repeats of k2 p2.
    calf = 11.4 + 1.19 * foot["ball_circumference_cm"] - 0.07 * length - 7.1 * min(1, (22.6 - length) / (22.6 - 19.8))
    assert round_the_top(plan) == pytest.approx(max(calf, foot["ball_circumference_cm"]) * 0.9, abs=1.0)
    knit_plan(plan)


@given(st.integers(80, 360).map(lambda tenths: tenths / 10))
def test_every_foot_has_socks_that_are_each_higher_than_the_one_before(length: float) -> None:
    both = [lengths_of(name, length) for name in HEIGHTS]
    assert all(cm * 2 == int(cm * 2) for pair in both for cm in pair)
    for (leg, cuff), (higher, deeper) in pairwise(both):
        assert leg <= higher
        assert cuff <= deeper
    for leg, cuff in both:
        asked(
            foot={"ball_circumference_cm": min(max(length, 9), 35), "length_cm": length},
            leg={"length_cm": leg},
            cuff={"length_cm": cuff},
        )


@pytest.mark.parametrize("name", HEIGHTS)
def test_a_foot_half_as_long_has_a_sock_half_as_high(name: str) -> None:
    leg, cuff = lengths_of(name, 25)
    smaller = lengths_of(name, 12.5)
    assert smaller[0] == pytest.approx(max(1, leg / 2), abs=0.25)
    assert smaller[1] == pytest.approx(max(1.5, cuff / 2), abs=0.25)
