"""Another needle or other hands, of which nobody said anything: which checks still count."""

from __future__ import annotations

import random

import pytest

from companion.planning import Check, recalculate
from companion.planning.gauge.check import Spot
from companion.planning.gauge.estimate import gauges_of
from companion.planning.gauge.observations import assumed
from companion.planning.gauge.steps import believed, contradicts
from tests.planning.asking import planned


def check(stitches: float, at: int | None, spots: int = 3, rounds: float | None = None) -> Check:
    """Spots of 9 cm with the same count."""
    return Check(
        stitches=(Spot(count=stitches * 0.9, over_cm=9),) * spots,
        rounds=(Spot(count=(rounds or stitches * 1.4) * 0.9, over_cm=9),) * spots,
        round=at,
    )


OLD = [check(32, 30), check(32.2, 80)]


def test_a_step_that_a_second_count_confirms_takes_the_weight_of_all_before_it() -> None:
    first, again = check(30, 150), check(30.1, 150)
    assert believed([*OLD, first, again]) == [first, again]
    found = gauges_of([*OLD, first, again]).stitches
    assert 29.8 < found.per_10cm < 30.3
    assert [seen.counts for seen in found.seen] == [False, False, True]


def test_a_count_that_the_second_contradicts_is_left_out_as_a_miscount() -> None:
    slip, again = check(29, 150, 1), check(32, 150)
    assert believed([*OLD, slip, again]) == [*OLD, again]


def test_the_same_checks_read_again_mean_the_same() -> None:
    slip, again = check(29, 150, 1), check(32, 150)
    read_again = [Check.model_validate(item.model_dump()) for item in (*OLD, slip, again)]
    assert gauges_of(read_again) == gauges_of([*OLD, slip, again])


def test_a_count_that_agrees_leaves_all_as_it_is() -> None:
    checks = [*OLD, check(31.8, 150), check(32, 150)]
    assert believed(checks) == checks
    assert not contradicts(checks[:-1])


def test_one_count_that_contradicts_is_asked_for_again_also_where_nothing_would_change() -> None:
    assert contradicts([*OLD, check(30, 150)])
    assert not contradicts([*OLD, check(30, 150), check(30, 150)])
    plan = planned()
    at = plan.span("foot").start + 20
    gauge = plan.request.gauge.stitches_per_10cm
    found = recalculate(plan, at, [assumed(plan.request), check(gauge * 0.95, 40), check(gauge * 1.02, at)])
    assert found.verdict == "measure again"


def test_stitches_and_rounds_that_move_a_little_together_are_a_step() -> None:
    """A needle moves both: 1.6 deviations each are 2.3 of their sum, and by chance one in fifty."""
    moved = next(by for by in (1 - 0.001 * n for n in range(100)) if contradicts([*OLD, check(32 * by, 150)]))
    alone = next(
        by for by in (1 - 0.001 * n for n in range(100)) if contradicts([*OLD, check(32 * by, 150, rounds=32 * 1.4)])
    )
    assert moved > alone


def test_a_step_stays_one_at_the_places_that_follow_in_whatever_order_the_checks_come() -> None:
    after = [check(30, 150), check(30.1, 150), check(30, 200)]
    mixed = [*OLD, *after]
    random.Random(7).shuffle(mixed)
    assert sorted(believed(mixed), key=repr) == sorted(after, key=repr)


@pytest.mark.parametrize("checks", [[], [check(30, None)], [check(32, 30), check(28, None)]])
def test_where_it_is_not_known_when_a_check_was_made_all_of_them_count(checks: list[Check]) -> None:
    assert believed(checks) == checks
    assert not contradicts(checks)
