"""What is recommended keeps the foot's length at least as well as leaving the sock as it is."""

from __future__ import annotations

from itertools import cycle, product

import pytest

from companion.planning import Plan, make_plan, recalculate
from companion.planning.fit.targets import fit_of
from companion.planning.recalculation.recalculate import Recalculation
from tests.conftest import fully
from tests.planning.asking import asked
from tests.planning.recalculation.test_recalculate import counted, place_in
from tests.planning.requests import TOES

INFANT = {"ball_circumference_cm": 12.4, "length_cm": 11.9}
CHILD = {"ball_circumference_cm": 17.0, "length_cm": 18.0}
WOMAN = {"ball_circumference_cm": 22.8, "length_cm": 24.6}


OFF = (-0.14, 0.12, 0.15)
"""By how much the stitches are off."""


def worse_by(found: Recalculation, plan: Plan) -> float:
    """By how many cm the recommended sock misses the foot's length more than the unchanged one does."""
    target = fit_of(plan.request).length_target
    missed = (abs(sizes.foot_length_cm - target) for sizes in (found.recommended.sizes, found.if_unchanged))
    return next(missed) - next(missed)


@pytest.mark.parametrize("foot", [INFANT, CHILD, WOMAN], ids=["infant", "child", "woman"])
@pytest.mark.parametrize(("heel", "part"), [("flap", "gusset"), ("short-row with gusset", "gusset-increases")])
def test_a_gusset_is_not_calculated_again_at_the_cost_of_the_length(
    foot: dict[str, float], heel: str, part: str
) -> None:
    for toe, off in product(TOES, OFF) if fully() else zip(TOES, cycle(OFF), strict=False):
        plan = make_plan(asked(foot=foot, construction={"direction": "toe-up", "heel": heel, "toe": toe}))
        stitches = plan.request.gauge.stitches_per_10cm * (1 + off)
        found = recalculate(plan, place_in(plan, part, 4), counted(stitches))
        assert worse_by(found, plan) <= 10 / found.gauges.rounds.per_10cm, (toe, off)


def test_an_infants_sock_on_a_toe_that_leaves_it_far_too_long_is_cast_on_again() -> None:
    plan = make_plan(
        asked(
            foot={"ball_circumference_cm": 14, "length_cm": 11.5},
            gauge={"stitches_per_10cm": 28, "rounds_per_10cm": 37.8},
            ease={"length_cm": 1.5},
            construction={"direction": "toe-up", "heel": "flap", "toe": "short-row"},
        )
    )
    found = recalculate(plan, place_in(plan, "toe", 5), counted(28 * 0.87, 37.8 * 0.87))
    assert (found.recommended.key, found.recommended.done) == ("rip", 0)
    assert worse_by(found, plan) < 0
