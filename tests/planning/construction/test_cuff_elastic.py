"""A cuff above the calf is held up with elastic, as long as the cuff lies by itself."""

from __future__ import annotations

import re

import pytest

from companion.planning import written_pattern
from companion.planning.construction.cuff_elastic import elastic_advice
from companion.planning.fit.leg_heights import HEIGHTS, lengths_of
from companion.planning.pattern.pattern import Size, pattern_of
from companion.planning.plan.document import Plan
from tests.planning.asking import planned, section
from tests.planning.requests import DIRECTIONS


def as_high_as(name: str, direction: str = "cuff-down", **cuff: str) -> Plan:
    leg, long = lengths_of(name, 25)
    return planned(construction={"direction": direction}, leg={"length_cm": leg}, cuff={"length_cm": long, **cuff})


@pytest.mark.parametrize("direction", DIRECTIONS)
def test_only_a_sock_below_the_knee_needs_elastic(direction: str) -> None:
    assert [name for name in HEIGHTS if elastic_advice(as_high_as(name, direction))] == ["knee"]


@pytest.mark.parametrize("direction", DIRECTIONS)
def test_elastic_thread_is_as_long_as_the_cuff_lies_by_itself(direction: str) -> None:
    plan = as_high_as("knee", direction)
    (told,) = elastic_advice(plan)
    count = max(item.after for item in section(plan, "cuff").rounds())
    long = float(re.findall(r"([\d.]+) cm \(", told)[0])
    assert long == pytest.approx(count / 3.2, abs=0.05)  # 32 stitches over 10 cm
    assert "without leaving a mark" in told
    assert "ask a professional" in told


@pytest.mark.parametrize("edge", ["folded hem", "picot hem"])
def test_a_hem_takes_a_flat_elastic_with_its_overlap(edge: str) -> None:
    thread, flat = (elastic_advice(as_high_as("knee", edge=each))[0] for each in ("any stretchy", edge))
    assert "flat elastic" in flat
    lengths = [float(re.findall(r"([\d.]+) cm \(", told)[0]) for told in (thread, flat)]
    assert lengths[1] - lengths[0] == pytest.approx(2, abs=0.11)


def test_the_pattern_says_it_and_lists_what_is_needed() -> None:
    plan = as_high_as("knee")
    assert "Note: The cuff sits above the calf" in written_pattern(plan, "cm")
    pattern = pattern_of([Size("25 cm", plan)], "in")
    assert "elastic thread" in dict(pattern.facts)["Notions"]
    assert any(note.startswith("The cuff sits above the calf") and " cm" not in note for note in pattern.notes)
    assert not any("elastic" in note for note in pattern_of([Size("25 cm", as_high_as("crew"))], "cm").notes)
