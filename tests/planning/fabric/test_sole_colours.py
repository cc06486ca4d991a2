"""The sole beside a charted instep: its pinstripe or checks, whichever yarn a row begins with."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import Any

import pytest

from companion.planning import Plan
from tests.planning.asking import (
    LOZENGE,
    charted,
    colourful,
    knit_plan,
    made_in,
    worked_out_again,
)
from tests.planning.requests import DIRECTIONS, HEELS, alternately

MIXED = {"width": 6, "rows": ["AAABAA", "BABBBB", "AAABAA", "ABAAAB"]}
"""A chart of which some rows begin with one yarn, at their right end, and some with the other."""


CHECKS: dict[str, Any] = {"foot_pattern": "instep follows the leg, sole in checks"}


def sole_columns(plan: Plan) -> list[list[str]]:
    """The yarns of the sole of every charted round of the foot, in the order of knitting."""
    return [list(made_in(item, "sole")) for item in charted(plan, "foot")]


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
@pytest.mark.parametrize("chart", [LOZENGE, MIXED], ids=["lozenge", "mixed"])
def test_a_sole_in_a_pinstripe_keeps_its_columns_whichever_yarn_a_row_begins_with(
    chart: dict[str, Any], direction: str
) -> None:
    plan = colourful(chart, foot_pattern="instep follows the leg", construction={"direction": direction})
    in_two = [row for row in sole_columns(plan) if len(set(row)) == 2]
    assert len(in_two) > 20
    assert all(row == in_two[0] for row in in_two)
    assert all(one != other for one, other in pairwise(in_two[0]))


ODD = {"width": 4, "rows": ["AAAB", "ABBB", "ABAB"]}
"""A chart of an odd number of rows, in which each takes both yarns."""

APART = 5
"""Rounds from one place to go on from to the next: in turn after every row of a chart of 3 or 4, and in each part."""


@pytest.mark.parametrize(("heel", "chart", "direction"), alternately(HEELS, (MIXED, ODD), DIRECTIONS))
def test_a_sole_in_checks_changes_its_yarns_in_each_round(heel: str, chart: dict[str, Any], direction: str) -> None:
    """Also where the chart begins again: beside an odd one its last row and its first would else be alike."""
    plan = colourful(chart, construction={"direction": direction, "heel": heel}, **CHECKS)
    on_the_sole = [item for item in plan.rounds() if item.chart_row and item.work[0].zone == "sole"]
    soles = [made_in(item, "sole") for item in on_the_sole if item.kind != "pick-up"]
    # From the middle, where the sole is not shaped.
    rows = [sole[len(sole) // 2 - 10 : len(sole) // 2 + 10] for sole in soles]
    assert len(rows) > 40
    for one, other in pairwise(rows):
        assert all(below != above for below, above in zip(one, other, strict=True))
    rounds = plan.rounds()
    for done in range(0, len(rounds), APART):
        assert worked_out_again(plan, done).rounds() == rounds


@pytest.mark.parametrize(("pattern", "told"), [("", "keeps its column"), (", sole in checks", "change places")])
@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_the_first_round_with_yarns_in_turn_tells_which_of_them_begins(direction: str, pattern: str, told: str) -> None:
    plan = colourful(
        MIXED, foot_pattern=f"instep follows the leg{pattern}", construction={"direction": direction, "toe": "round"}
    )
    knit_plan(plan)
    for key in ("gusset", "foot"):
        notes = [(item, item.note) for item in charted(plan, key) if item.note and "begins with yarn" in item.note]
        [(item, note)] = notes
        named = re.search(r"The (sole|heel) begins with yarn ([AB]):.*" + told, note)
        assert named
        assert made_in(item, named[1])[0] == named[2]
