"""Socks by the names of their heights: lengths that the trade gives, and in proportion on other feet."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.planning.fit.feet import LONG_LEG_CM
from companion.planning.fit.leg_heights import HEIGHTS, lengths_of
from tests.planning.asking import asked, knit_plan, planned

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
