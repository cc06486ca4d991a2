"""A foot that turns out too wide or too narrow when it is knitted: what is advised, at what price."""

from __future__ import annotations

from itertools import cycle

import pytest

from companion.planning import Check, Plan, recalculate
from companion.planning.fit.targets import fit_of
from companion.planning.gauge.check import Spot
from companion.planning.recalculation.recalculate import Recalculation
from companion.planning.units import both_units
from tests.planning.asking import knit_plan, planned
from tests.planning.requests import CONSTRUCTIONS, names

STITCHES, ROUNDS = 32, 44


def counted(off: float, rounds_off: float | None = None) -> Check:
    """A gauge off by a part, counted at four spots; rounds by the same part unless theirs is given."""
    each = (STITCHES * off, ROUNDS * (rounds_off or off))
    spots = [(Spot(count=count, over_cm=10),) * 4 for count in each]
    return Check(stitches=spots[0], rounds=spots[1])


def found_at(plan: Plan, done: int, off: float) -> Recalculation:
    return recalculate(plan, done, [counted(off)], seconds_per_stitch=2)


@pytest.mark.parametrize(
    ("construction", "off"), [*zip(CONSTRUCTIONS, cycle((0.89, 1.11)), strict=False)], ids=[*map(names, CONSTRUCTIONS)]
)
def test_a_foot_eleven_percent_off_is_knitted_again_wherever_it_is_seen(
    construction: dict[str, str], off: float
) -> None:
    """Every heel and every toe once too tight and once too loose."""
    plan = planned(construction=construction)
    begun = plan.span("foot").start + 20
    for done in (begun, plan.span("foot").stop, *range(begun, plan.count, 60)):
        found = found_at(plan, done, off)
        best = found.recommended
        assert found.verdict == "change"
        assert best.done <= begun - 20 or best.key == "rip"
        knit_plan(best.plan)
        assert best.plan.rounds()[: best.done] == plan.rounds()[: best.done]
        size = best.sizes.foot_circumference_cm
        assert abs(size / fit_of(plan.request).foot_target - 1) <= 0.02
        ripping = [option.done for option in found.options if option.rounds_ripped]
        assert len(ripping) == len(set(ripping))


def wide(plan: Plan, by: float) -> float:
    """The part of the planned stitches at which the planned foot is too wide by a part."""
    return plan.sizes.foot_stitches / fit_of(plan.request).foot_target / (1 + by) * 10 / STITCHES


@pytest.mark.parametrize("by", [-0.03, -0.036])
def test_a_foot_less_than_four_percent_off_is_left_and_that_is_said_first(by: float) -> None:
    plan = planned(construction={"direction": "toe-up", "heel": "flap", "toe": "wedge"})
    found = recalculate(plan, plan.span("leg").start + 20, [counted(wide(plan, by), 1)])
    assert all(option.title != "Knit the foot again" for option in found.options)
    [rest] = [option for option in found.options if option.key == "rest"]
    width = both_units(plan.sizes.foot_stitches / found.gauges.stitches.per_10cm * 10)
    assert rest.why.startswith(f"What is knitted leaves the foot {width} round")


def test_what_may_be_a_miscount_rips_no_foot() -> None:
    """One spot of 5 cm: 3 % give or take, so that 5 % off may well be 2 %."""
    plan = planned(construction={"direction": "toe-up"})
    off = wide(plan, 0.05)
    spots = [(Spot(count=each * off / 2, over_cm=5),) for each in (STITCHES, ROUNDS)]
    found = recalculate(plan, plan.span("leg").start + 20, [Check(stitches=spots[0], rounds=spots[1])])
    assert found.verdict != "change"
    assert all(option.title != "Knit the foot again" for option in found.options)


def test_after_the_foot_was_left_as_it_is_it_is_not_advised_again() -> None:
    plan = planned(construction={"direction": "toe-up", "heel": "flap", "toe": "wedge"})
    done = plan.span("leg").start + 20
    found = found_at(plan, done, 0.89)
    keeps = next(option for option in found.options if option.key == "rest")
    assert recalculate(keeps.plan, done, [counted(0.89)]).verdict == "nothing to change"
