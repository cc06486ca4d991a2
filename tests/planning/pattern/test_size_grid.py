"""A size grid has the planner's own numbers, for every foot and every gauge."""

from __future__ import annotations

from itertools import takewhile

import pytest

from companion.planning import PlanRequest, make_plan
from companion.planning.pattern.size_grid import Grid, grid_of, table_of
from companion.planning.pattern.tables import Table
from companion.planning.request.plan_request import Gauge
from companion.planning.request.size_range import foot_for
from companion.planning.units import Unit
from tests.planning.asking import asked, section
from tests.planning.requests import CONSTRUCTIONS, HEELS_AND_TOES, names

FEET = tuple(foot_for(ball) for ball in (17, 20, 22.5, 26, 29))
GAUGES = (Gauge(stitches_per_10cm=24), Gauge(stitches_per_10cm=30, rounds_per_10cm=42), Gauge(stitches_per_10cm=34.5))


def grid(**sections: object) -> Grid:
    return grid_of(asked(**sections), FEET, GAUGES)


def cells(table: Table, title: str) -> list[list[str]]:
    [group] = [group for group in table.groups if group.title == title]
    return [list(row[2:]) for row in group.rows]


@pytest.mark.parametrize("construction", HEELS_AND_TOES)
def test_every_number_is_that_of_the_plan_for_this_foot_and_gauge(construction: dict[str, str]) -> None:
    design = asked(construction=construction, cuff={"rib": "k3 p1"})
    found = table_of(grid_of(design, FEET, GAUGES), "cm")
    for number, foot in enumerate(FEET):
        for column, gauge in enumerate(GAUGES):
            plan = make_plan(PlanRequest.model_validate({**dict(design), "foot": foot, "gauge": gauge}))

            def value_of(title: str, number: int = number, column: int = column) -> str:
                return cells(found, title)[number][column]

            assert value_of("Stitches round the foot") == str(plan.sizes.foot_stitches)
            assert value_of("Finished sock from heel to toe, cm") == f"{plan.sizes.foot_length_cm:.1f}".removesuffix(
                ".0"
            )
            assert value_of("Yarn for the pair, g with a tenth in hand") == f"{plan.yarn[0].grams_a_pair:.0f}"
            assert value_of("Yarn for the pair, m") == f"{2 * plan.yarn[0].metres_a_sock:.0f}"
            assert value_of("Over the heel") == plan.fit[0].verdict
            begun = next(group for group in found.groups if group.title.startswith("Stitches to cast on"))
            assert begun.rows[number][2 + column] == str(plan.rounds()[0].after)
            if construction["heel"] == "flap":
                assert value_of("Rows of the heel flap") == str(len(section(plan, "heel-flap").rounds()))
                widest = max(item.after for item in section(plan, "gusset").rounds())
                assert value_of("Stitches at the widest of the gusset") == str(widest)


@pytest.mark.parametrize("construction", CONSTRUCTIONS, ids=names)
def test_the_rounds_between_heel_and_toe_are_those_that_are_knitted_there(construction: dict[str, str]) -> None:
    design = asked(construction=construction, foot={"heel_diagonal_cm": 36})
    plan = make_plan(design)
    found = table_of(grid_of(design, [design.foot], [design.gauge]), "cm")
    keys = [section.key for section in plan.sections]
    if construction["direction"] == "toe-up":
        between = takewhile(lambda key: not key.startswith("heel"), keys[keys.index("toe") + 1 :])
    else:
        between = takewhile(lambda key: not key.startswith("heel"), keys[keys.index("toe") - 1 :: -1])
    rounds = sum(section(plan, key).count for key in between)
    assert cells(found, "Rounds between heel and toe") == [[str(rounds)]]


def test_what_a_sock_does_not_have_is_left_out() -> None:
    titles = [
        group.title for group in table_of(grid(construction={"heel": "short-row"}, cuff={"rib": "k1 p1"}), "cm").groups
    ]
    assert not any("flap" in title or "gusset" in title for title in titles)
    assert "Stitches to cast on and round the leg" in titles


def test_a_leg_that_is_not_cast_on_has_a_line_of_its_own() -> None:
    titles = [group.title for group in table_of(grid(construction={"direction": "toe-up"}), "cm").groups]
    assert titles[:2] == ["Stitches to cast on, for the toe", "Stitches round the leg"]


def test_the_published_count_is_in_the_grid() -> None:
    # wabi-sabi.ca, "ease-y socks": 9 in round the ball, ten percent of ease, 7 1/2 stitches an inch: 60 stitches.
    found = grid_of(asked(), [foot_for(9 * 2.54)], [Gauge(stitches_per_10cm=7.5 / 2.54 * 10)])
    assert cells(table_of(found, "in"), "Stitches to cast on and round the leg") == [["60"]]


def test_the_ribbing_is_repeated_whole_in_every_cell() -> None:
    for row in cells(table_of(grid(cuff={"rib": "k3 p3"}), "cm"), "Stitches to cast on"):
        assert all(int(stitches) % 6 == 0 for stitches in row)


def test_a_cell_that_cannot_be_knitted_says_why() -> None:
    found = table_of(
        grid_of(asked(cuff={"rib": "k1 p1"}), [foot_for(9), foot_for(22)], [Gauge(stitches_per_10cm=15)]), "cm"
    )
    assert cells(found, "Stitches to cast on and round the leg") == [["too few stitches"], ["30"]]
    assert cells(found, "Rows of the heel flap") == [["–"], ["12"]]


def test_a_grid_of_nothing_but_such_cells_is_still_a_grid() -> None:
    found = table_of(grid_of(asked(cuff={"rib": "k1 p1"}), [foot_for(9)], [Gauge(stitches_per_10cm=15)]), "cm")
    assert cells(found, "Stitches to cast on and round the leg") == [["too few stitches"]]


@pytest.mark.parametrize(
    ("unit", "feet", "gauges"),
    [
        ("cm", [("20", "21.6"), ("22.5", "24.3")], ["24 × 32.4", "30 × 42"]),
        ("in", [("7 7/8", "8 1/2"), ("8 7/8", "9 5/8")], ["24.4 × 32.9", "30.5 × 42.7"]),
    ],
)
def test_feet_and_gauges_head_their_rows_and_columns(
    unit: Unit, feet: list[tuple[str, str]], gauges: list[str]
) -> None:
    found = table_of(grid_of(asked(cuff={"rib": "k1 p1"}), FEET[1:3], GAUGES[:2]), unit)
    assert [row[:2] for row in found.groups[0].rows] == feet
    assert list(found.columns[2:]) == gauges
    assert f"over {'4 in' if unit == 'in' else '10 cm'}" in found.caption


def test_a_pattern_all_round_is_counted_in_the_repeats_that_are_knitted() -> None:
    """Each repeat of this lace has one double decrease in its first round."""
    design = asked(leg={"stitch_pattern": {"name": "lace rib"}})
    found = cells(table_of(grid_of(design, FEET, GAUGES), "cm"), "Repeats of the stitch pattern round the leg")
    for foot, row in zip(FEET, found, strict=True):
        for gauge, told in zip(GAUGES, row, strict=True):
            plan = make_plan(PlanRequest.model_validate({**dict(design), "foot": foot, "gauge": gauge}))
            assert max(item.uses("s2kpo") for item in section(plan, "leg").rounds()) == int(told)
    placed = {"name": "lace rib", "placement": {"on": "front"}}
    assert "Repeats" not in str(table_of(grid(leg={"stitch_pattern": placed}), "cm"))
