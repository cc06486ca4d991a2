"""The written pattern as plain text and as Markdown: the same words, in the order in which they are needed."""

from __future__ import annotations

import re
from typing import Any

import pytest

from companion.planning import PlanRequest, pattern_of
from companion.planning.pattern.pattern import Pattern, Size, size_name
from companion.planning.pattern.render import as_markdown_text, as_text
from companion.planning.request.size_range import foot_for
from companion.planning.units import Unit, show_number
from tests.planning.asking import asked, planned

CHARTED: dict[str, Any] = {
    "leg": {"chart": {"width": 4, "rows": ["AABB", "ABBB"], "swap": True}},
    "yarns": [{"key": "A", "name": "*heather* [fine]"}, {"key": "B"}],
}


def graded(unit: Unit = "cm", **sections: Any) -> Pattern:
    design = asked(**sections)
    requests = [PlanRequest.model_validate({**dict(design), "foot": foot_for(ball)}) for ball in (20.0, 23.0, 26.0)]
    plans = [planned(**request.model_dump(mode="json")) for request in requests]
    return pattern_of([Size(size_name(plan, unit), plan) for plan in plans], unit)


def test_the_parts_come_in_the_order_of_the_trade() -> None:
    # Sizes, finished measurements, gauge, needles, yarn, notions, notes, abbreviations, chart, directions, finishing:
    # what the guidelines of the trade want a pattern to have, before and after its directions (common practice).
    pattern = graded(**CHARTED)
    facts = ["Sizes", "To fit", "Finished sock", "Gauge", "Needles", "Yarn A", "Yarn B", "Notions"]
    parts = ["Cuff, ", "Leg, ", "Heel flap, ", "Heel turn, ", "Gusset, ", "Foot, ", "Toe, "]
    before = ["Notes\n", "Measurements of ", "Abbreviations\n", "Chart\n"]
    headings = [f"\n{heading}" for heading in (*(f"{fact}: " for fact in facts), *before, *parts, "To finish\n")]
    text = as_text(pattern)
    places = [text.index(heading) for heading in headings]
    assert places == sorted(places)
    assert all(text.count(heading) == 1 for heading in headings)


def test_plain_text_has_no_layout_that_would_be_read_aloud() -> None:
    text = as_text(graded(**CHARTED))
    assert not re.search(r"[|#_=~^<>]|\*\*|--|  |\t", text.replace("*heather*", "heather"))
    assert text.endswith("\n")
    assert "\n\n\n" not in text
    assert max(map(len, re.split(r"\n\n", text)[0].splitlines())) < 81


@pytest.mark.parametrize("sections", [{}, CHARTED], ids=["plain", "charted"])
def test_both_forms_have_every_line_once_and_in_order(sections: dict[str, Any]) -> None:
    pattern = graded(**sections)
    told = [f"{line.label}: {line.text}" for section in pattern.sections for line in section.lines]
    plain = [line for line in as_text(pattern).splitlines() if line in set(told)]
    assert plain == told
    unmarked = re.sub(r"\\(.)", r"\1", as_markdown_text(pattern))
    marked = [f"{label}: {text}" for label, text in re.findall(r"\*\*(.+?):\*\* (.+)", unmarked)]
    assert [line for line in marked if line in set(told)] == told


def test_what_a_knitter_named_stays_as_it_is_in_markdown() -> None:
    text = as_markdown_text(graded(**CHARTED))
    assert "\\*heather\\* \\[fine\\]" in text


def test_the_chart_is_written_row_by_row_as_it_is_knitted() -> None:
    # Charts are read from the bottom up, right-side rows from right to left (common practice).
    text = as_text(graded(**CHARTED))
    assert "\nRow 1: 2 B, 2 A\nRow 2: 3 B, 1 A\n" in text
    assert "second sock in the same way, with yarns A and B exchanged throughout" in text
    assert "\nChart\n" not in as_text(graded())


def test_stripes_are_written_by_their_rounds() -> None:
    striped: dict[str, Any] = {
        "leg": {"chart": {"width": 1, "rows": [*"AAAABBC"]}},
        "yarns": [{"key": key} for key in "ABC"],
    }
    text = as_text(graded(**striped))
    assert "after 7 rounds they begin again" in text
    assert "\nRows 1 to 4: A\nRows 5 to 6: B\nRow 7: C\n" in text


def test_every_measurement_of_the_schematic_is_that_of_its_size() -> None:
    pattern = graded()
    rows = {row[0]: row[1:] for group in pattern.measurements.groups for row in group.rows}
    for number, ball in enumerate((20.0, 23.0, 26.0)):
        plan = planned(foot=foot_for(ball).model_dump())
        assert rows["Round the foot"][number] == show_number(plan.sizes.foot_circumference_cm, "cm")
        assert rows["Heel pass"][number] == show_number(plan.sizes.heel_pass_cm, "cm")
        for section in plan.sections:
            assert rows[section.title][number] == show_number(section.length_cm, "cm")


def test_yarn_is_listed_for_each_size_and_colour() -> None:
    pattern = graded(**CHARTED)
    for number, key in enumerate("AB"):
        words = dict(pattern.facts)[f"Yarn {key}"]
        for size, ball in enumerate((20.0, 23.0, 26.0)):
            plan = planned(**{**CHARTED, "foot": foot_for(ball).model_dump()})
            found = re.search(r"(\d+) \((\d+), (\d+)\) g with a tenth in hand", words)
            assert found
            assert found[size + 1] == f"{plan.yarn[number].grams_a_pair:.0f}"


def test_notions_are_those_that_the_sock_needs() -> None:
    assert "waste yarn" in dict(graded(construction={"heel": "afterthought"}).facts)["Notions"]
    assert "waste yarn" not in dict(graded().facts)["Notions"]


def test_a_doubt_about_one_size_names_it() -> None:
    plans = [planned(foot={"ball_circumference_cm": ball, "length_cm": 25}) for ball in (15.0, 23.0)]
    notes = pattern_of([Size(size_name(plan, "cm"), plan) for plan in plans], "cm").notes
    [doubt] = [note for note in notes if "measure both again" in note]
    assert doubt.startswith("Size 15 cm: ")


def test_the_pattern_ends_with_the_usual_cautions() -> None:
    closing = as_text(graded()).split("\nTo finish\n")[1]
    for word in ("Wool", "slippery", "Rest hands", "ask a professional"):
        assert word in closing


def test_inches_are_inches_throughout() -> None:
    text = as_text(graded("in"))
    assert " cm" not in text
    assert re.search(r"To fit: a foot 7 7/8 \(9, 10 1/4\) in round the ball", text)
