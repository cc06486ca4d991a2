"""Counts in a stitch pattern speak of the leg; of the plain sole only as far as the two are known to go together."""

from __future__ import annotations

from typing import Any

import pytest

from companion.planning import Check, Plan, recalculate
from companion.planning.gauge.check import Spot
from companion.planning.gauge.observations import assumed
from companion.planning.recalculation.answer import answer_of
from companion.planning.recalculation.recalculate import Recalculation
from tests.planning.asking import knit_plan, planned

COUNTED = {"stitches_per_10cm": 36.2, "rounds_per_10cm": 44}


def cabled(gauge: dict[str, float], direction: str = "cuff-down") -> Plan:
    return planned(
        leg={"length_cm": 14, "stitch_pattern": {"name": "cable rib", **gauge}},
        foot_pattern="instep follows the leg",
        construction={"direction": direction},
    )


def checked(plan: Plan, done: int, stitches: float, rounds: float = 44) -> Recalculation:
    """What four spots mean, counted over 10 cm after so many rounds."""

    def spots(count: float) -> tuple[Spot, ...]:
        return tuple(Spot(count=count, over_cm=10) for _ in range(4))

    check = Check(stitches=spots(stitches), rounds=spots(rounds), round=done, sock_round=done)
    return recalculate(plan, done, [assumed(plan.request), check])


def middle_of(plan: Plan, key: str) -> int:
    span = plan.span(key)
    return (span.start + span.stop) // 2


def test_a_count_on_the_leg_is_held_against_the_pattern_and_said_to_be() -> None:
    plan = cabled(COUNTED)
    done = middle_of(plan, "leg")
    found = checked(plan, done, 36.2)
    assert found.in_pattern
    assert found.planned.stitches == pytest.approx(36.2)
    assert found.verdict == "nothing to change"
    assert "over 10 cm in pattern, planned 36.2 and 44" in answer_of(found, plan, done, "cm").reason


def test_a_pattern_that_was_only_estimated_changes_the_leg_and_hardly_the_sole() -> None:
    """Knit to the planned 36.2 the leg has 33 in truth: 9 % looser. The swatch in plain knitting stands."""
    plan = cabled({})
    found = checked(plan, middle_of(plan, "leg"), 33)
    assert found.verdict == "change"
    option = found.recommended
    request = option.plan.request
    assert request.leg.stitch_pattern
    assert request.leg.stitch_pattern.stitches_per_10cm == pytest.approx(33, rel=0.01)
    assert request.gauge.stitches_per_10cm == pytest.approx(32, rel=0.025)
    assert option.plan.sizes.leg_stitches < plan.sizes.leg_stitches
    assert option.sizes.leg_cm == pytest.approx(option.plan.sizes.leg_stitches / 33 * 10, rel=0.01)
    knit_plan(option.plan)


def test_a_pattern_that_was_counted_takes_the_sole_with_it() -> None:
    """One pair of hands: both swatches are off, and the foot follows by most of what the leg is off."""
    plan = cabled(COUNTED)
    found = checked(plan, middle_of(plan, "leg"), 33.5)
    assert 29.5 < found.recommended.plan.request.gauge.stitches_per_10cm < 30.8


def test_a_count_on_the_foot_is_of_its_plain_sole() -> None:
    plan = cabled(COUNTED)
    found = checked(plan, middle_of(plan, "foot"), 32)
    assert not found.in_pattern
    assert found.verdict == "nothing to change"
    assert found.planned.stitches == pytest.approx(32)


def test_the_sizes_of_a_finished_leg_are_by_the_pattern_as_it_was_counted() -> None:
    plan = cabled(COUNTED)
    leg, foot = middle_of(plan, "leg"), middle_of(plan, "foot")

    def check(count: float, at: int) -> Check:
        return Check(stitches=(Spot(count=count, over_cm=10),) * 4, round=at, sock_round=at)

    evidence: list[Any] = [assumed(plan.request), check(34.5, leg), check(32, foot)]
    found = recalculate(plan, foot, evidence)
    assert found.if_unchanged.leg_cm == pytest.approx(plan.sizes.leg_stitches / 34.5 * 10, rel=0.012)
    assert found.if_unchanged.foot_circumference_cm == pytest.approx(plan.sizes.foot_circumference_cm, rel=0.02)


def test_from_the_toe_up_a_tighter_sole_tightens_the_leg_to_come() -> None:
    """Most of 34 / 32: the swatch in pattern still counts a little."""
    plan = cabled(COUNTED, "toe-up")
    found = checked(plan, middle_of(plan, "foot"), 34)
    pattern = found.recommended.plan.request.leg.stitch_pattern
    assert pattern
    assert pattern.stitches_per_10cm
    assert 36.2 * 33.2 / 32 < pattern.stitches_per_10cm < 36.2 * 34 / 32
