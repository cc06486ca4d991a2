"""A straight leg goes on in the columns that it was begun in, up to where its stitches change."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from companion.planning import Check, Plan
from companion.planning.gauge.check import Spot
from companion.planning.plan.document import Round
from companion.planning.recalculation.options import Option
from tests.planning.asking import (
    FOLLOWS,
    TWO,
    WHOLE_PLANS,
    document_of,
    plan_or_leave,
    planned,
    recalculated_or_leave,
)
from tests.planning.patterned import patterned_requests
from tests.planning.requests import requests

ROWS = ("AAABAA", "AABBBA", "ABBABB", "AABBBA", "AAABAA", "AAAAAA")
CABLE = {"stitch_pattern": {"rows": ["3/3 RC, p2", *["k6, p2"] * 7]}}
LEGS: dict[str, dict[str, Any]] = {
    "cable": {"leg": {"length_cm": 16, **CABLE}, "foot_pattern": "instep follows the leg"},
    "panel": {
        "leg": {"length_cm": 16, "stitch_pattern": {"rows": ["2/2 LC"] + ["k4"] * 5, "placement": {"on": "front"}}}
    },
    "chart": {"leg": {"length_cm": 16, "chart": {"width": 6, "rows": ROWS}}} | {"yarns": TWO} | FOLLOWS,
}


def worked(item: Round, *, in_stripes: bool) -> list[tuple[str, str]]:
    """The operations of a round one by one, with their yarns unless these come in stripes."""

    def written(ops: Sequence[Any]) -> Iterator[tuple[str, str]]:
        for op in ops:
            if "ops" in op:
                yield from [*written(op["ops"])] * op["times"]
            else:
                yield from [(op["op"], "" if in_stripes else op.get("yarn", "A"))] * op.get("n", 1)

    return [each for part in document_of(item)["work"] for each in written(part["ops"])]


def ways(plan: Plan, done: int, stitches: float, rounds: float = 1.0) -> Iterator[Option]:
    """The ways to go on at so many times the planned gauge, counted four times."""
    gauge = plan.request.gauge
    high = gauge.rounds_per_10cm or gauge.stitches_per_10cm * 1.35
    check = Check(
        stitches=(Spot(count=round(gauge.stitches_per_10cm * stitches * 2, 1), over_cm=20),) * 4,
        rounds=(Spot(count=round(high * rounds * 2, 1), over_cm=20),) * 4,
    )
    return (option for option in recalculated_or_leave(plan, done, [check]).options if option.key != "leave")


def compared(plan: Plan, option: Option) -> int:
    """Holds the rounds ahead in the leg, up to an even change of its stitches, against those of the plan.

    Returns how many of them there are: none where all that is knitted of the leg looks the same in every column.
    """
    in_stripes = plan.request.leg.stitch_pattern is not None
    leg, rounds = plan.span("leg"), option.plan.rounds()
    as_planned: dict[tuple[int, int | None], list[tuple[str, str]]] = {}
    for item in plan.rounds()[leg.start : leg.stop]:
        if item.before == item.after and item.chart_row:
            as_planned[item.before, item.chart_row] = worked(item, in_stripes=in_stripes)
    begun = [worked(item, in_stripes=in_stripes) for item in rounds[leg.start : option.done] if item.chart_row]
    if all(len(set(columns)) == 1 for columns in begun):
        return 0
    found = 0
    for item in rounds[option.done : option.plan.span("leg").stop] if option.done > leg.start else ():
        if (item.note or "").startswith("Evenly spread"):
            break
        if item.before == item.after and (item.before, item.chart_row) in as_planned:
            assert worked(item, in_stripes=in_stripes) == as_planned[item.before, item.chart_row]
            found += 1
    return found


@WHOLE_PLANS
@given(patterned_requests() | requests(), st.integers(0, 1000), st.integers(-15, 15), st.integers(-15, 15))
def test_up_to_a_change_of_its_stitches_a_straight_leg_keeps_its_columns(
    data: dict[str, Any], part: int, stitches_off: int, rounds_off: int
) -> None:
    plan = plan_or_leave(data)
    leg = plan.span("leg")
    changes = [item.note for item in plan.rounds()[leg.start : leg.stop] if item.before != item.after]
    assume(all(note and note.startswith("Evenly spread") for note in changes))
    for option in ways(plan, leg.start + part * len(leg) // 1000, 1 + stitches_off / 100, 1 + rounds_off / 100):
        compared(plan, option)


@pytest.mark.parametrize("off", [0.88, 0.93, 1.07, 1.12])
@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
@pytest.mark.parametrize("leg", LEGS)
def test_the_rounds_that_finish_a_repeat_before_the_change_lie_over_those_that_began_it(
    leg: str, direction: str, off: float
) -> None:
    plan = planned(**LEGS[leg], construction={"direction": direction})
    changed = [
        compared(plan, option)
        for begun in (17, 20)
        for option in ways(plan, plan.span("leg").start + begun, off)
        if option.key == "here"
    ]
    assert not changed or max(changed) > 0
