"""The sums that the numbers of a plan open to: what is said is calculated again."""

from __future__ import annotations

import re

import pytest

from companion.planning import make_plan
from companion.planning.recalculation.changes import Change
from companion.planning.recalculation.figures import PlanFigures
from companion.planning.request.construction import Construction
from companion.planning.units import in_one_unit
from tests.planning.requests import DIRECTIONS, HEELS, TOES

from .test_sums import checked, planned

EVERY = [
    {"heel": heel, "direction": direction, "toe": toe} for direction in DIRECTIONS for heel in HEELS for toe in TOES
]


def figures(**made: str) -> tuple[PlanFigures, dict[str, str], dict[str, str]]:
    request = planned().request.model_copy(update={"construction": Construction.model_validate(made)})
    numbers = PlanFigures(plan := make_plan(request), plan.sizes)
    return (
        numbers,
        {figure.what: figure.value for figure in numbers.figures},
        {figure.what: figure.sum() for figure in numbers.figures},
    )


def in_10cm(sentence: str) -> float:
    return float(re.findall(r"at ([\d.]+) over 10 cm", sentence, re.IGNORECASE)[-1])


@pytest.mark.parametrize("made", EVERY, ids=lambda made: " ".join(made.values()))
def test_what_is_asked_for_is_multiplied_out(made: dict[str, str]) -> None:
    """A leg and a foot of 23 cm that are to be 10 % smaller: 20.7 cm, at 30 over 10 cm 62.1 stitches."""
    _, values, told = figures(**made)
    for what in ("Leg stitches", "Foot stitches"):
        assert "10 % smaller, are 20.7 cm" in told[what]
        assert "these are 62.1 stitches" in told[what]
        assert told[what].endswith(f"it has {values[what]}.")
    assert "25 cm (9 7/8 in) of foot less 1 cm (3/8 in) are 24 cm" in told["Foot"]
    assert "these are 100.8 rounds" in told["Foot"]


@pytest.mark.parametrize("made", EVERY, ids=lambda made: " ".join(made.values()))
def test_the_rounds_of_each_part_have_the_height_that_is_reported(made: dict[str, str]) -> None:
    numbers, values, told = figures(**made)
    for section in numbers.plan.sections:
        found = told[section.title]
        assert values[section.title].startswith(f"{len(section.rounds())} ")
        plain = re.findall(r"as high as (\d+) rounds", found) or [len(section.rounds())]
        height = float(re.findall(r"that is ([\d.]+) cm", found)[0])
        assert int(plain[0]) / in_10cm(found) * 10 == pytest.approx(height, abs=0.06)
        assert height == pytest.approx(section.length_cm, abs=0.06)


@pytest.mark.parametrize("made", EVERY, ids=lambda made: " ".join(made.values()))
def test_the_parts_of_the_foot_are_the_whole_foot(made: dict[str, str]) -> None:
    numbers, _, told = figures(**made)
    others, whole = map(int, re.findall(r"take (\d+) of the (\d+)", told["Foot"])[0])
    rounds = next(len(section.rounds()) for section in numbers.plan.sections if section.key == "foot")
    assert others + rounds == whole
    assert f"{whole} rounds from the back of the heel" in told["Foot, heel to toe"]
    assert whole / 42 * 10 == pytest.approx(numbers.plan.sizes.foot_length_cm, abs=0.01)


@pytest.mark.parametrize("made", EVERY, ids=lambda made: " ".join(made.values()))
def test_shaping_rounds_take_the_stitches_that_are_reported(made: dict[str, str]) -> None:
    _, values, told = figures(**made)
    for what in (what for what in told if what.endswith("shaping")):
        steps = [tuple(map(int, found)) for found in re.findall(r"(\d+) rounds? of (\d+) stitches", told[what])]
        shaped = sum(times for times, _ in steps)
        assert values[what] == f"{shaped} shaping round{'' if shaped == 1 else 's'}"
        if steps:
            total = int(re.findall(r"(?:is|are) (\d+) stitches\.$", told[what])[0])
            assert total == sum(times * step for times, step in steps)


def test_the_grams_follow_from_the_metres() -> None:
    _, _, told = figures()
    said = in_one_unit(told["Yarn A for the pair"], "cm")
    metres = int(re.findall(r"(\d+) m for sock 1", said)[0])
    per_100g, grams = re.findall(r"at ([\d.]+) m in 100 g, are (\d+) g", said)[0]
    assert metres * 2 * 1.1 / float(per_100g) * 100 == pytest.approx(int(grams), abs=1)


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_each_number_that_changes_opens_to_a_sum_before_and_after(direction: str) -> None:
    """Both are told at the gauge that was counted, 27 over 10 cm, and on another needle at about what that brings."""
    found = checked(planned(direction=direction))
    changes: list[tuple[str, Change]] = [(option.key, change) for option in found.options for change in option.changes]
    assert {"Leg stitches", "Foot stitches"} & {change.what for _, change in changes}
    for key, change in changes:
        was, becomes = change.sums
        assert was.endswith(".")
        assert becomes.endswith(".")
        if change.what.endswith("stitches"):
            assert was.endswith(f"it has {change.before}.")
            more = int(change.after) - int(change.before)
            assert becomes.endswith(f"it has {change.after}. That is {abs(more)} {'more' if more > 0 else 'fewer'}.")
        if change.what.endswith("stitches") and key != "needle":
            assert in_10cm(was) == pytest.approx(in_10cm(becomes), abs=0.05)
            assert in_10cm(was) == pytest.approx(found.gauges.stitches.per_10cm, abs=0.06)
