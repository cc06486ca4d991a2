"""Where a round enters the repeat, as the knitter is told beside her chart: what the words of the round begin with."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given

from companion.planning.fabric.place_in_repeat import first_of_the_repeat
from companion.planning.pattern.stitch_pattern_text import pattern_lines
from companion.planning.recalculation.candidates import ways_on
from tests.planning.asking import WHOLE_PLANS, document_of, plan_or_leave, planned, section
from tests.planning.pattern.laid_out import described_rounds
from tests.planning.patterned import patterned_requests, takes
from tests.planning.test_patterned_plans import typed, written_out
from tests.written_plan import OPS

ARCHES = {
    "leg": {"stitch_pattern": {"rows": ["Round 1: k1, yo, k2, ssk, k2tog, k2, yo, k1, p1", "Rounds 2-4: k10, p1"]}},
    "foot_pattern": "instep follows the leg",
    "foot": {"ball_circumference_cm": 25, "length_cm": 26},
}


def from_stitch(row: list[str], stitch: int) -> list[str]:
    """A row of the pattern turned so that it begins with this stitch of the repeat, from 1."""
    for at in range(len(row)):
        before = row[:at]
        if sum(map(takes, before)) == sum(OPS[each][1] for each in before) == stitch - 1:
            return row[at:] + before
    raise AssertionError(f"stitch {stitch} is in the middle of a decrease or a cable")


@WHOLE_PLANS
@given(data=patterned_requests())
def test_the_stitch_that_is_told_is_the_one_the_pattern_begins_with(data: dict[str, Any]) -> None:
    plan = plan_or_leave(data)
    pattern = plan.request.leg.stitch_pattern
    assert pattern
    whole = pattern.placement is None
    rows = typed(plan) if whole else [[*row] for row in described_rounds(pattern_lines(pattern))]
    for item in {id(each): each for each in plan.rounds()}.values():
        first = first_of_the_repeat(plan, item)
        if first is None:
            continue
        assert item.chart_row
        part = next(part for part in document_of(item)["work"] if part["zone"] in ("leg", "instep"))
        names = written_out(part["ops"])
        row = from_stitch(rows[item.chart_row - 1], first)
        if part["zone"] == "leg" and whole and item.before == plan.sizes.leg_stitches == item.after:
            assert names[: len(row)] == row
        elif not whole or len(names) > 2 * len(row):
            assert any(names[at : at + len(row)] == row for at in range(len(names)))


@pytest.mark.parametrize("stitches", [29, 34])
def test_a_leg_that_changes_is_told_with_what_each_of_its_rounds_begins(stitches: float) -> None:
    """Up to the change the pattern lies on the front that it was begun on, and from there on its new one."""
    plan = planned(**ARCHES)
    pattern = plan.request.leg.stitch_pattern
    assert pattern
    gauge = {"gauge": plan.request.gauge.model_copy(update={"stitches_per_10cm": stitches})}
    found = ways_on(plan, plan.request.model_copy(update=gauge), plan.span("leg").start + 22)
    changed = [way.plan for way in found if way.key in ("here", "columns")]
    assert changed
    rows = typed(plan)
    for other, item in ((each, item) for each in changed for item in section(each, "leg").rounds() if item.chart_row):
        first = first_of_the_repeat(other, item)
        assert first
        assert item.chart_row
        row = from_stitch(rows[item.chart_row - 1], first)
        assert written_out(document_of(item)["work"][0]["ops"])[: len(row)] == row


def test_the_leg_begins_with_the_repeat_and_the_instep_with_its_last_stitch() -> None:
    """By hand: a leg of 66 is six repeats of 11; an instep of 34 is three and the purl that stands before the first."""
    plan = planned(**ARCHES)
    told = {
        key: {first_of_the_repeat(plan, item) for item in section(plan, key).rounds() if item.chart_row}
        for key in ("leg", "foot", "toe")
    }
    assert told == {"leg": {1}, "foot": {11}, "toe": set()}
