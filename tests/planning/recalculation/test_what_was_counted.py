"""What checks tell together: on another needle, by tape, twice, without rounds, and while the gauge drifts."""

from __future__ import annotations

import pytest

from companion.planning import Check, read_check, recalculate
from companion.planning.gauge.observations import Evidence, assumed

from .test_recalculate import a_plan, counted, section_rounds


def test_what_was_counted_on_another_needle_counts_less_and_is_moved() -> None:
    plan = a_plan()
    [check] = counted(30, 42)
    assert isinstance(check, Check)
    before = check.model_copy(update={"needle_mm": plan.request.needles.size_mm + 0.25})
    stitches = recalculate(plan, 40, [before]).gauges.stitches
    assert 30 < stitches.per_10cm < 32
    assert stitches.error > recalculate(plan, 40, [check]).gauges.stitches.error


def test_a_length_by_tape_corrects_the_rounds() -> None:
    plan = a_plan()
    check, faults = read_check({"tape": [{"section": "leg", "rounds": 60, "length_cm": 15.5}], "round": 78})
    assert check, faults
    found = recalculate(plan, 78, [check, *counted(32, 40)])
    assert found.verdict == "change"
    assert found.gauge.rounds_per_10cm == pytest.approx(39.8, abs=0.4)
    assert section_rounds(found.recommended.plan, "foot") < section_rounds(plan, "foot")


def test_the_checks_behind_a_plan_do_not_count_twice() -> None:
    plan = a_plan()
    first, second = counted(30, 42), counted(30.2, 42.4)
    told = assumed(plan.request)
    changed = recalculate(plan, 40, first).recommended.plan
    again = recalculate(changed, 40, [told, *first, *second])
    at_once = recalculate(plan, 40, [told, *first, *second])
    assert again.gauges == at_once.gauges


def test_a_second_check_with_the_same_count_changes_nothing_more() -> None:
    first = recalculate(a_plan(), 40, counted(30, 42)).recommended.plan
    assert recalculate(first, 60, counted(30, 42)).verdict == "nothing to change"


def test_rounds_that_were_never_counted_are_estimated_from_the_counted_stitches_and_shown_so() -> None:
    plan = a_plan(gauge={"stitches_per_10cm": 32})
    found = recalculate(plan, 40, counted(30))
    used = found.recommended.plan
    assert used.request.gauge.rounds_per_10cm is None
    assert found.gauge.rounds_per_10cm == pytest.approx(30 * 1.35)
    assert found.gauge.rounds_give_or_take == 0
    assert found.if_unchanged.foot_length_cm == pytest.approx(plan.sizes.foot_length_cm * 32 / 30, abs=0.01)


def test_a_drift_says_of_which_gauge_the_sizes_are() -> None:
    plan = a_plan()
    checks: list[Evidence] = []
    for at, stitches in ((30, 31), (70, 30.6), (110, 30.2), (150, 29.8)):
        [check] = counted(stitches, over=9)
        assert isinstance(check, Check)
        checks.append(check.model_copy(update={"round": at}))
    found = recalculate(plan, 150, checks)
    assert found.gauges.stitches.drifting
    assert "Sizes are given at your newest gauge" in found.why
    assert "newest gauge" not in recalculate(plan, 150, counted(29.8)).why
