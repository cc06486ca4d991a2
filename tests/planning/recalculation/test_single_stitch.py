"""A foot that comes after its heel gets the nearest count, odd or even, and every toe closes it."""

from __future__ import annotations

from itertools import cycle
from typing import Any

import pytest

from companion.planning import Check, Plan, recalculate
from companion.planning.fit.targets import fit_of
from companion.planning.gauge.check import Spot
from companion.planning.gauge.observations import Evidence, assumed
from companion.planning.recalculation.options import Option
from tests.planning.asking import FOLLOWS, LOZENGE, TWO, knit_plan, planned
from tests.planning.requests import CONSTRUCTIONS, HEELS_AND_TOES

CUFF_DOWN = [one for one in HEELS_AND_TOES if one["direction"] == "cuff-down"]
TOE_UP = [one for one in CONSTRUCTIONS if one["direction"] == "toe-up"]
PER_10CM = 30.5
"""Less 10 % of ease a ball of 23 cm makes a foot of 20.7 cm, and at this gauge 63.1 stitches."""


def checked(plan: Plan, done: int) -> list[Evidence]:
    """What was assumed, and a check that is sure enough."""
    spots = (Spot(count=2 * PER_10CM, over_cm=20),) * 8
    rounds = (Spot(count=44, over_cm=10),) * 8
    return [assumed(plan.request), Check(stitches=spots, rounds=rounds, round=done, sock_round=done)]


def advised(plan: Plan, done: int) -> Option:
    return recalculate(plan, done, checked(plan, done)).recommended


@pytest.mark.parametrize("construction", CUFF_DOWN, ids=lambda one: "-".join(one.values()))
def test_after_the_heel_an_odd_foot_is_knitted_where_it_comes_nearest(construction: dict[str, Any]) -> None:
    plan = planned(construction=construction)
    done = plan.span("leg").start + 30
    option = advised(plan, done)
    assert option.sizes.foot_stitches == 63
    knit_plan(option.plan)
    toe = option.plan.span("toe")
    first = option.plan.rounds()[toe.start]
    assert first.before == 63
    # A round toe comes down to a multiple of 8, a star toe to one of 4.
    assert first.after == {"round": 56, "star": 60}.get(construction["toe"], 62)


@pytest.mark.parametrize(("construction", "off"), [*zip(CUFF_DOWN, cycle((1, 0.95)), strict=False)])
def test_it_can_be_calculated_again_anywhere_up_to_the_tip(construction: dict[str, Any], off: float) -> None:
    plan = planned(construction=construction)
    changed = advised(plan, plan.span("leg").start + 30).plan
    foot, toe = changed.span("foot"), changed.span("toe")
    for done in (foot.start + 5, foot.stop, toe.start + 1, toe.start + 2, toe.start + 9):
        spots = (Spot(count=2 * off * PER_10CM, over_cm=20),) * 8
        again = Check(stitches=spots, rounds=(Spot(count=42, over_cm=10),) * 8, round=done, sock_round=done)
        for option in recalculate(changed, done, [assumed(plan.request), again]).options:
            assert option.plan.rounds()[: option.done] == changed.rounds()[: option.done]
            knit_plan(option.plan)


def test_from_the_toe_up_and_under_a_pattern_a_foot_stays_even() -> None:
    patterned = {"leg": {"length_cm": 16, "chart": LOZENGE}, "yarns": TWO, **FOLLOWS}
    for plan in (*(planned(construction=one) for one in TOE_UP[::4]), planned(**patterned)):
        done = plan.span("leg").start + 30
        for option in recalculate(plan, done, checked(plan, done)).options:
            assert option.sizes.foot_stitches % 2 == 0


def test_what_a_change_leaves_is_half_a_stitch_at_most() -> None:
    plan = planned()
    done = plan.span("leg").start + 30
    left = []
    for per_10cm in range(28, 37):
        spots = (Spot(count=2 * per_10cm, over_cm=20),) * 8
        check = Check(stitches=spots, rounds=(Spot(count=44, over_cm=10),) * 8, round=done, sock_round=done)
        option = recalculate(plan, done, [assumed(plan.request), check]).recommended
        fit = fit_of(option.plan.request)
        if option.sizes.foot_stitches != plan.sizes.foot_stitches:
            left.append(option.sizes.foot_stitches - fit.foot_target * fit.fabric.stitches)
    assert len(left) > 4
    assert all(abs(stitches) <= 0.5 for stitches in left)
