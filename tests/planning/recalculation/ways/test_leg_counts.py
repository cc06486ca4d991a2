"""A leg in a stitch pattern changes to whole repeats, or to the nearest count with columns beside them at the back."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.planning import Check, Plan
from companion.planning.gauge.check import Spot
from companion.planning.pattern.rounds_text import round_words
from companion.planning.plan.document import Round
from companion.planning.recalculation.candidates import ways_on
from companion.planning.recalculation.options import Option
from companion.planning.recalculation.ways.way import Way
from tests.planning.asking import (
    WHOLE_PLANS,
    asked,
    document_of,
    knit_plan,
    plan_or_leave,
    planned,
    recalculated_or_leave,
    section,
)
from tests.planning.patterned import patterned_requests, takes
from tests.planning.test_patterned_plans import beginnings, typed, written_out
from tests.reader import read_zones

FOLLOWS = "instep follows the leg"
BLOCKS = ("Rounds 1-4: k3, p3", "Rounds 5-8: p3, k3")
CABLE = ("Round 1: 2/2 RC, p2", "Rounds 2-6: k4, p2")


def leg_in(rows: Sequence[str], stitches_per_10cm: float = 32, **more: Any) -> dict[str, Any]:
    """A leg in a pattern that is as wide and high as plain knitting."""
    counted = {"stitches_per_10cm": stitches_per_10cm, "rounds_per_10cm": 44}
    return {"length_cm": 14, "stitch_pattern": {"rows": [*rows], **counted}, **more}


def ways(plan: Plan, stitches_per_10cm: float, done: int = 20) -> dict[str, Way]:
    """The ways to go on after so many rounds of the leg, where plain knitting and pattern both have this gauge."""
    request = plan.request
    pattern = request.leg.stitch_pattern
    assert pattern
    measured = request.model_copy(
        update={
            "gauge": request.gauge.model_copy(update={"stitches_per_10cm": stitches_per_10cm}),
            "leg": request.leg.model_copy(
                update={"stitch_pattern": pattern.model_copy(update={"stitches_per_10cm": stitches_per_10cm})}
            ),
        }
    )
    return {way.key: way for way in ways_on(plan, measured, plan.span("leg").start + done)}


def in_pattern_again(way: Way) -> list[Round]:
    """The rounds of the leg in pattern on its new count."""
    leg = section(way.plan, "leg").rounds()
    return [item for item in leg if item.chart_row and item.before == way.plan.sizes.leg_stitches]


def changed(way: Way) -> Round:
    rounds = way.plan.rounds()[way.done :]
    return next(item for item in rounds if item.before != item.after)


def test_a_leg_of_eleven_repeats_changes_to_ten_or_to_ten_and_a_column() -> None:
    """Worked by hand: 23 cm less 10 % are 20.7 cm, 66.24 stitches at 32 over 10 cm: 66, which are 11 repeats of 6.

    At 29.5 the same 20.7 cm are 61.07 stitches: 61, which are 10 repeats and 1 over. The nearest whole repeats are 60:
    20.34 cm, 1.7 % too narrow, and 61 are 20.68 cm.
    """
    plan = planned(leg=leg_in(BLOCKS), foot_pattern=FOLLOWS)
    assert plan.sizes.leg_stitches == 66
    found = ways(plan, 29.5)
    here, columns = found["here"], found["columns"]
    assert (here.plan.sizes.leg_stitches, columns.plan.sizes.leg_stitches) == (60, 61)
    assert here.plan.sizes.leg_cm == pytest.approx(20.34, abs=0.005)
    assert columns.plan.sizes.leg_cm == pytest.approx(20.68, abs=0.005)
    assert (here.recommended, columns.recommended) == (True, False)
    assert here.title == "Change the leg here, to 10 repeats"
    assert columns.title == "Change the leg here, to 10 repeats and 1 plain stitch"
    note = "Evenly spread: 66 stitches become 61, for 10 repeats of the pattern and 1 plain stitch at the centre back."
    assert changed(columns).note == note
    # 30 of the 61 become the heel; 31 are the front, which ends the round.
    assert {round_words(item) for item in in_pattern_again(columns)} == {
        "[k3, p3] x 2, k4, p3, [k3, p3] x 7",
        "[p3, k3] x 2, p3, k4, [p3, k3] x 7",
    }


def test_where_both_come_out_equal_whole_repeats_alone_are_offered() -> None:
    """20.7 cm at 29 over 10 cm are 60.03 stitches."""
    found = ways(planned(leg=leg_in(BLOCKS)), 29)
    assert found["here"].plan.sizes.leg_stitches == 60
    assert "columns" not in found


def test_a_leg_that_widens_can_keep_its_repeats_and_get_columns_beside_them() -> None:
    """20.7 cm at 33.8 over 10 cm are 69.97 stitches: 12 repeats of 6, 2.9 % off, or 11 and 4 columns; 66 are 5.7 % off.

    Its cables lie between purls in every round, so the columns are purled, in one gutter with those of the pattern.
    """
    found = ways(planned(leg=leg_in(CABLE), foot_pattern=FOLLOWS), 33.8)
    assert (found["here"].plan.sizes.leg_stitches, found["columns"].plan.sizes.leg_stitches) == (72, 70)
    assert found["columns"].title == "Change the leg here, to 11 repeats and 4 purl stitches"
    assert "lie out of sight at the centre back" in found["columns"].why
    assert any("p6, " in round_words(item) for item in in_pattern_again(found["columns"]))


def test_a_repeat_that_goes_nowhere_near_leaves_the_columns_alone_to_be_taken() -> None:
    """20.7 cm at 36.7 are 75.97 stitches, and repeats of 22 give 66 or 88: three of them and ten columns."""
    found = ways(planned(leg=leg_in(["p1, k2tog, yo, k19", "p1, k21"]), foot_pattern=FOLLOWS), 36.7)
    assert "here" not in found
    assert found["columns"].recommended
    assert found["columns"].title == "Change the leg here, to 3 repeats and 10 plain stitches"


def test_a_second_change_goes_on_from_the_columns_of_the_first() -> None:
    plan = planned(leg=leg_in(CABLE), foot_pattern=FOLLOWS)
    first = ways(plan, 29.5)["columns"]
    begun = [round_words(item) for item in in_pattern_again(first)]
    again = ways(first.plan, 33.8, done=46)["columns"]
    assert again.plan.sizes.leg_stitches == 70
    kept = {round_words(item) for item in section(again.plan, "leg").rounds()[46:] if item.after == 61}
    assert kept
    assert kept <= set(begun)


def test_a_pattern_that_cannot_be_finished_in_the_leg_is_not_changed_in_the_middle_of_its_rows() -> None:
    """With 62 rounds in the leg, rows of 40 are finished after 40, and those begun then are not."""
    tall = leg_in(["k3, p3", *["k6"] * 39])
    plan = planned(leg=tall)
    assert len(plan.span("leg")) == 62
    before = ways(plan, 29.5, done=30)["columns"]
    rounds = before.plan.rounds()
    at = rounds.index(changed(before))
    assert (rounds[at - 1].chart_row, rounds[at].before, rounds[at].after) == (40, 66, 61)
    assert not {"here", "columns"} & set(ways(plan, 29.5, done=45))


def test_narrow_columns_of_a_pattern_that_draws_in_are_counted_as_plain_ones() -> None:
    """Cables at 38.4 beside plain knitting at 32: 20.7 cm are 79.5 stitches, 78 of which are 13 repeats.

    At 35.4 and 29.5 they are 73.3: 72, 12 repeats, are 20.34 cm, and a plain stitch beside them is 0.34 cm more.
    """
    plan = planned(leg=leg_in(CABLE, 38.4))
    request = plan.request.model_copy(
        update={
            "gauge": plan.request.gauge.model_copy(update={"stitches_per_10cm": 29.5}),
            "leg": asked(leg=leg_in(CABLE, 35.4)).leg,
        }
    )
    found = {way.key: way for way in ways_on(plan, request, plan.span("leg").start + 20)}
    assert (plan.sizes.leg_stitches, found["columns"].plan.sizes.leg_stitches) == (78, 73)
    assert found["columns"].plan.sizes.leg_cm == pytest.approx(20.34 + 0.34, abs=0.005)


def splits(ops: list[str], row: list[str], over: int) -> set[tuple[str, int, int]]:
    """How a round can be whole repeats but for so many stitches alike.

    Each way with these, the stitches before them, and the one of the repeat that the round begins with.
    """
    return {
        (op if over else "", sum(map(takes, ops[:at])), begins)
        for at, op in enumerate(ops)
        if op in ("k", "p") or not over
        if ops[at : at + over] == [op] * over
        for begins in beginnings(ops[:at] + ops[at + over :], row)
    }


def check_change(way: Option, rows: list[list[str]]) -> None:
    """Holds the rounds of a leg from its change on against the rows of its pattern."""
    knit_plan(way.plan)
    width, stitches = sum(map(takes, rows[0])), way.plan.sizes.leg_stitches
    leg = section(way.plan, "leg").rounds()
    at = next(number for number, item in enumerate(leg) if item.before != item.after and item.after == stitches)
    assert at == 0 or leg[at - 1].chart_row in (None, len(rows))
    toe_up = way.plan.request.construction.direction == "toe-up"
    front = stitches - (stitches // 2 if toe_up else stitches // 4 * 2)
    over = stitches % width
    assert (over > 0) == (way.key == "columns")
    common: set[tuple[str, int, int]] | None = None
    for item in {item for item in leg[at + 1 :] if item.chart_row}:
        assert item.chart_row
        ops = written_out(document_of(item)["work"][0]["ops"])
        assert read_zones(round_words(item)) == [{"zone": "", "ops": document_of(item)["work"][0]["ops"]}]
        found = splits(ops, rows[item.chart_row - 1], over)
        common = found if common is None else common & found
    assert common is None or any(before + over <= max(over, stitches - front) for _, before, _ in common)


@WHOLE_PLANS
@given(patterned_requests(placed=False), st.integers(0, 1000), st.integers(80, 125))
def test_every_change_of_a_leg_is_whole_repeats_with_columns_behind_and_finished_rows(
    data: dict[str, Any], part: int, percent: int
) -> None:
    """The columns over lie at one place behind the front, all of one kind, and the pattern was finished before."""
    plan = plan_or_leave(data)
    leg = plan.span("leg")
    if any(item.before != item.after for item in plan.rounds()[leg.start + 1 : leg.stop]):
        return  # shaped, or on its way to its count
    spot = Spot(count=round(data["gauge"]["stitches_per_10cm"] * percent / 50, 1), over_cm=20)
    done = leg.start + max(1, part * len(leg) // 1000)  # before it, a leg from the toe up comes to its count in steps
    found = recalculated_or_leave(plan, done, [Check(stitches=(spot,) * 4)])
    for option in found.options:
        if option.key in ("here", "columns") and option.plan.sizes.leg_stitches != plan.sizes.leg_stitches:
            check_change(option, typed(plan))


@pytest.mark.parametrize("name", ["k2 p2 rib", "k3 p1 rib", "lace rib", "cable rib", "basketweave"])
@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_the_middle_of_the_pattern_stays_on_the_middle_of_the_front(name: str, direction: str) -> None:
    """A repeat of these mirrors about the middle of its first knit stitches; one lies within 1.5 of the front's."""
    plan = planned(
        leg={"length_cm": 14, "stitch_pattern": {"name": name, "stitches_per_10cm": 32, "rounds_per_10cm": 44}},
        foot_pattern=FOLLOWS,
        construction={"direction": direction},
    )
    checked = 0
    for gauge in (28.5, 29, 29.5, 30, 34, 34.5, 35, 35.5):
        found = ways(plan, gauge)
        for way in (found[key] for key in ("here", "columns") if key in found):
            stitches = way.plan.sizes.leg_stitches
            front = (stitches + 1) // 2 if direction == "toe-up" else stitches - stitches // 4 * 2
            item = next(item for item in in_pattern_again(way) if item.chart_row == 2 or name.startswith("k"))
            columns = written_out(document_of(item)["work"][0]["ops"])[-front:]
            edges = [at for at in range(1, front) if (columns[at - 1] == "p") != (columns[at] == "p")]
            middles = [sum(pair) / 2 for pair in pairwise(edges)]
            assert min(abs(middle - front / 2) for middle in middles) <= 1.5, (way.title, columns)
            checked += 1
    assert checked > 8
