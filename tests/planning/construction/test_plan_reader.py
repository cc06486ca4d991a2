"""A plan document from outside is whole, or is refused with what is wrong."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest

from companion.planning import read_plan
from tests.planning.asking import planned


def document() -> dict[str, Any]:
    found: dict[str, Any] = json.loads(planned().model_dump_json())
    return found


def _without(key: str) -> Callable[[dict[str, Any]], None]:
    def change(data: dict[str, Any]) -> None:
        data["sections"] = [section for section in data["sections"] if section["key"] != key]

    return change


def _no_sections(data: dict[str, Any]) -> None:
    data["sections"] = []


def _unknown_section(data: dict[str, Any]) -> None:
    data["sections"].append({"key": "fringe", "title": "Fringe", "flat": False, "length_cm": 1, "steps": []})


def _no_rounds(data: dict[str, Any]) -> None:
    data["sections"][-1]["steps"] = []


def _never_closed(data: dict[str, Any]) -> None:
    data["sections"][-1]["steps"].pop()


def _a_stitch_lost(data: dict[str, Any]) -> None:
    data["sections"][1]["steps"][0]["rounds"][0]["before"] -= 1


def _a_yarn_too_many(data: dict[str, Any]) -> None:
    data["yarn"] *= 2


def _no_such_row(data: dict[str, Any]) -> None:
    data["sections"][1]["steps"][0]["rounds"][0]["chart_row"] = 1


def _sizes_of_another_sock(data: dict[str, Any]) -> None:
    data["sizes"]["foot_stitches"] = 1


def _an_unknown_entry(data: dict[str, Any]) -> None:
    data["sections"][1]["steps"][0]["rounds"][0]["beads"] = 12


def _worked_no_time(data: dict[str, Any]) -> None:
    data["sections"][1]["steps"][0]["rounds"][0]["work"][0]["ops"] = [{"op": "k", "n": 0}]


def _leg_of_a_heel(data: dict[str, Any]) -> None:
    """As many stitches as there are in a row of the heel turn."""
    turn = next(section for section in data["sections"] if section["key"] == "heel-turn")
    data["sizes"]["leg_stitches"] = turn["steps"][0]["rounds"][0]["after"]


def _nothing_worked(data: dict[str, Any]) -> None:
    data["sections"][1]["steps"][0]["rounds"][0]["work"] = []


def _no_operation(data: dict[str, Any]) -> None:
    data["sections"][1]["steps"][0]["rounds"][0]["work"][0]["ops"] = []


def _nothing_repeated(data: dict[str, Any]) -> None:
    data["sections"][1]["steps"][0]["rounds"][0]["work"][0]["ops"].append({"times": 2, "ops": []})


def _no_round(data: dict[str, Any]) -> None:
    data["sections"][1]["steps"][0]["rounds"] = ["knit"]


def _no_size(data: dict[str, Any]) -> None:
    data["sizes"]["leg_cm"] = 0


def _far_too_long(data: dict[str, Any]) -> None:
    for section in data["sections"]:
        section["steps"][0]["times"] = 2000


def _written_out_without_end(data: dict[str, Any]) -> None:
    """A thousand times a thousand times a thousand stitches in a few bytes."""
    ops = [{"op": "k", "n": 1000}]
    for _ in range(20):
        ops = [{"times": 1000, "ops": ops}]
    data["sections"][1]["steps"][0]["rounds"][0]["work"][0]["ops"] = ops


def _far_too_wide(data: dict[str, Any]) -> None:
    """A round of 2,000 stitches, 1,000 times, within a leg that begins and ends as before."""
    leg = data["sections"][1]
    plain = leg["steps"][0]["rounds"][0]
    ends = {"work": [{"zone": "leg", "ops": [{"op": "k", "n": 1}]}], "before": 2000, "after": 2000}
    wide = {**plain, **ends}
    more = {"times": 1000, "rounds": [wide]}
    leg["steps"] = [{"times": 1, "rounds": [{**wide, "before": plain["before"]}]}, more, *leg["steps"]]
    leg["steps"].insert(2, {"times": 1, "rounds": [{**wide, "after": plain["before"]}]})


def test_a_plan_reads_back_whole() -> None:
    plan, faults = read_plan(document())
    assert not faults
    assert plan == planned()


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (_no_sections, "missing"),
        (_without("cuff"), "but 0 come from the round before"),
        (_without("heel-flap"), "Heel flap missing"),
        (_without("toe"), "Toe missing"),
        (_unknown_section, "allowed: cuff, leg"),
        (_no_rounds, "no rounds"),
        (_never_closed, "stitches are left"),
        (_a_stitch_lost, "come from the round before"),
        (_a_yarn_too_many, "others than those of the request"),
        (_no_such_row, "a row that the pattern does not have"),
        (_sizes_of_another_sock, "no round has as many stitches"),
        (_leg_of_a_heel, "no round has as many stitches"),
        (_an_unknown_entry, "beads: 12 given; not an entry"),
        (_worked_no_time, "n: 0 given; allowed from 1 up"),
        (_nothing_worked, "rounds.0.work: at least 1 is needed"),
        (_no_operation, "ops: at least 1 is needed"),
        (_nothing_repeated, "ops.1.Op.op: needed, but missing"),
        (_no_round, "knit given; an object with entries of its own"),
        (_no_size, "leg_cm: 0"),
        (_far_too_long, "rounds, and a sock has at most 5000"),
        (_written_out_without_end, "works more stitches than it has"),
        (_far_too_wide, "at most 1000000 stitches are in a sock"),
    ],
)
def test_a_damaged_plan_is_refused_in_one_line(change: Callable[[dict[str, Any]], None], words: str) -> None:
    data = document()
    change(data)
    plan, faults = read_plan(data)
    assert plan is None
    assert words in str(faults[0])
    assert len(str(faults[0]).splitlines()) == 1


@pytest.mark.parametrize("data", [None, [], "plan", 3, {}, {"schema": 2}])
def test_what_is_no_plan_is_refused(data: object) -> None:
    plan, faults = read_plan(data)
    assert plan is None
    assert faults
