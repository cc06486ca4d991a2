"""Yarns, stripes and charts in the plan form: what is typed becomes a plan request and comes back."""

from __future__ import annotations

from html import unescape
from typing import Any

import pytest
from flask import Flask
from hypothesis import given
from hypothesis import strategies as st
from werkzeug.datastructures import MultiDict

from companion.drawings.chart import COLOURS
from companion.forms.chart_text import MOST_ROUNDS, read_chart, read_stripes, show_chart, show_stripes
from companion.forms.plan_form import PlanForm, first_values, form_values
from companion.planning import PlanRequest, read_request
from companion.planning.request.plan_request import Chart

from ..conftest import FORM, Browser

TWO = {"yarn_count": "2", "yarn_name": "moss", "yarn_name_b": "sand"}
CHART = {**TWO, "colour_pattern": "chart", "chart": "ABBA\nBAAB\nAAAA"}


def data_of(app: Flask, typed: dict[str, str]) -> tuple[dict[str, Any], dict[str, list[str]]]:
    with app.test_request_context():
        form = PlanForm(MultiDict({**FORM, **typed}))
        data = form.request_data()
        read = read_request(data)
        form.take_faults(read[1])
        return data, {field.name: list(field.errors) for field in form.refused()}


def test_the_bottom_line_of_a_typed_chart_is_the_first_round(app: Flask) -> None:
    """Charts are read from the bottom up (common practice)."""
    data, errors = data_of(app, CHART)
    assert not errors
    assert data["leg"]["chart"] == {"width": 4, "rows": ["AAAA", "BAAB", "ABBA"], "swap": False}


@pytest.mark.parametrize("typed", ["A 4, B 2", "a4,b2", "A 4\nB 2", " A 4 ; B 2, "])
def test_stripes_are_a_chart_one_stitch_wide(app: Flask, typed: str) -> None:
    data, errors = data_of(app, {**TWO, "colour_pattern": "stripes", "stripes": typed})
    assert not errors
    assert data["leg"]["chart"] == {"width": 1, "rows": [*"AAAABB"], "swap": False}


@given(st.integers(1, 60).flatmap(lambda wide: st.lists(st.text("ABCD", min_size=wide, max_size=wide), min_size=1)))
def test_a_chart_that_is_shown_reads_back(rows: list[str]) -> None:
    assert read_chart(show_chart(rows)) == rows


@given(st.lists(st.sampled_from("ABCD"), min_size=1, max_size=MOST_ROUNDS))
def test_stripes_that_are_shown_read_back(rows: list[str]) -> None:
    assert read_stripes(show_stripes(rows)) == rows


def test_stripes_may_repeat_after_as_many_rounds_as_a_plan_takes() -> None:
    longest = read_stripes(f"A {MOST_ROUNDS}")
    assert Chart(width=1, rows=tuple(longest))
    with pytest.raises(ValueError, match="at most 120"):
        Chart(width=1, rows=(*longest, "A"))
    with pytest.raises(ValueError, match="120 rounds or fewer"):
        read_stripes(f"A {MOST_ROUNDS}, B 1")


@pytest.mark.parametrize(
    ("typed", "field", "says"),
    [
        ({"colour_pattern": "chart", "chart": ""}, "chart", "the chart is missing"),
        ({"colour_pattern": "chart", "chart": "ABBA\nAB\nBBBB"}, "chart", "row 2 has 2 stitches"),
        ({"colour_pattern": "chart", "chart": "ABBA\nAXXA"}, "chart", "round 1: allowed: the letters of yarns"),
        ({"colour_pattern": "chart", "chart": "ABCA"}, "chart", "there is no yarn C; choose more"),
        ({"colour_pattern": "chart", "chart": "AB" * 31}, "chart", "62 stitches by 1 round,"),
        ({"colour_pattern": "chart", "chart": "AB\n" * 121}, "chart", "at most 60 by 120"),
        ({"colour_pattern": "stripes", "stripes": ""}, "stripes", "the stripes are missing"),
        ({"colour_pattern": "stripes", "stripes": "A 4, six of B"}, "stripes", "“six of B” is no stripe"),
        ({"colour_pattern": "stripes", "stripes": "A 4, B 0"}, "stripes", "“B 0” is no stripe"),
        ({"colour_pattern": "stripes", "stripes": "A 4, D 4"}, "stripes", "there is no yarn D"),
        ({"colour_pattern": "tartan"}, "colour_pattern", "allowed: none, stitches, stripes, chart"),
        ({"yarn_count": "1", "colour_pattern": "stripes", "stripes": "A 4", "swap": "y"}, "swap", "no yarn B"),
        ({"metres_per_100g_b": "4"}, "metres_per_100g_b", "allowed: 50 to 1200"),
        ({"grams_b": "some"}, "grams_b", "a number is needed"),
        ({"yarn_colour_b": "sand"}, "yarn_colour_b", "a colour as #"),
    ],
)
def test_what_is_wrong_is_reported_at_its_field(app: Flask, typed: dict[str, str], field: str, says: str) -> None:
    _, errors = data_of(app, {**TWO, **typed})
    assert set(errors) == {field}
    assert says in errors[field][0]


def test_a_refused_chart_is_shown_again_with_what_is_wrong(browser: Browser) -> None:
    answer = browser.post("/plan", {**FORM, **CHART, "chart": "ABBA\nBBB", "yarn_name_b": "sand & <straw>"})
    page = unescape(answer.text)
    assert answer.status_code == 422
    assert "ABBA\nBBB</textarea>" in page
    assert 'id="chart-error"' in page
    assert 'value="sand & <straw>"' in page
    assert 'name="colour_pattern" value="chart" data-says="a chart" checked' in page


def test_only_the_yarns_that_there_are_count(app: Flask) -> None:
    """What stands in the fields of a yarn that was taken away again does not count, wrong or not."""
    data, errors = data_of(app, {**TWO, "yarn_name_c": "rust", "grams_c": "lots"})
    assert not errors
    assert [(yarn["key"], yarn["name"]) for yarn in data["yarns"]] == [("A", "moss"), ("B", "sand")]
    data, _ = data_of(app, {**TWO, "yarn_count": "1"})
    assert data["yarns"] == [{"key": "A", "name": "moss"}]


def test_a_yarn_has_its_colour_only_when_it_is_another_than_the_usual(app: Flask) -> None:
    data, _ = data_of(app, {**TWO, "yarn_colour": COLOURS["A"], "yarn_colour_b": "#123abc"})
    assert "colour" not in data["yarns"][0]
    assert data["yarns"][1]["colour"] == "#123abc"


COLOURFUL = {
    "yarns": [{"key": key, "name": f"yarn {key}", "colour": f"#{number}a2b3c"} for number, key in enumerate("ABC")],
    "foot_pattern": "instep follows the leg",
    "construction": {"direction": "toe-up"},
    "gauge": {"stitches_per_10cm": 30, "rounds_per_10cm": 42},
    "foot": {"ball_circumference_cm": 23, "length_cm": 25},
}


@pytest.mark.parametrize(
    ("leg", "ease"),
    [
        ({"chart": {"width": 4, "rows": ["AABC", "ABBA"], "swap": True}}, {}),
        ({"chart": {"width": 1, "rows": [*"AABBBC"]}}, {"circumference_percent": 10}),
        ({"chart": {"width": 4, "rows": ["AABC"]}}, {"circumference_percent": 10}),
        ({"chart": {"width": 4, "rows": ["AABC"]}}, {"circumference_percent": 5}),
        ({"length_cm": 12}, {"circumference_percent": 5}),
    ],
    ids=str,
)
def test_a_request_in_colour_fills_the_form_and_comes_back(
    app: Flask, leg: dict[str, Any], ease: dict[str, Any]
) -> None:
    wanted, faults = read_request({**COLOURFUL, "leg": leg, "ease": ease})
    assert wanted, faults
    with app.test_request_context():
        form = PlanForm(data=form_values(wanted, "cm"))
        assert read_request(form.request_data()) == (wanted, [])


def test_the_usual_ease_is_halved_as_soon_as_yarns_lie_behind(app: Flask) -> None:
    """10 % is usual, and stranded knitting stretches less (common practice)."""

    def planned(typed: dict[str, str]) -> PlanRequest:
        read, faults = read_request(data_of(app, typed)[0])
        assert read, faults
        return read

    assert first_values("cm")["ease_percent"] == ""
    assert planned({}).ease.circumference_percent == 10
    assert planned({**TWO, "colour_pattern": "stripes", "stripes": "A 2, B 2"}).ease.circumference_percent == 10
    assert planned(CHART).ease.circumference_percent == 5
    assert planned({**CHART, "ease_percent": "8"}).ease.circumference_percent == 8


def test_the_form_says_what_ease_is_usual(browser: Browser) -> None:
    assert 'placeholder="10"' in browser.get("/plan").text
    assert 'placeholder="5"' in browser.post("/plan", {**FORM, **CHART, "foot_length": ""}).text


def test_a_chart_is_not_repeated_in_the_line_that_says_what_is_wrong_with_it(browser: Browser) -> None:
    told = unescape(browser.post("/plan/choices", {**FORM, **CHART, "chart": "ABBA\nBBB"}).text)
    assert "Chart: Row 2 has 4 stitches" in told


def test_a_part_gets_one_of_the_yarns_typed_and_comes_back(app: Flask) -> None:
    data, errors = data_of(app, {**TWO, "heel_yarn": "B", "cuff_yarn": "", "toe_yarn": "A"})
    assert not errors
    assert data["parts"] == {"heel": "B", "toe": "A"}
    request, faults = read_request(data)
    assert request, faults
    values = form_values(request, "cm")
    assert {name: values[name] for name in ("cuff_yarn", "heel_yarn", "toe_yarn")} == {
        "cuff_yarn": None,
        "heel_yarn": "B",
        "toe_yarn": "A",
    }


@pytest.mark.parametrize(
    ("chosen", "says"),
    [("C", "there is no yarn C; choose more yarns under Yarn"), ("Q", "allowed: A, B, C or D")],
)
def test_a_part_in_a_yarn_that_is_not_typed_is_refused_at_its_field(app: Flask, chosen: str, says: str) -> None:
    _, errors = data_of(app, {**TWO, "toe_yarn": chosen})
    assert [says in " ".join(errors.get("toe_yarn", []))] == [True]


def test_the_form_has_the_parts_folded_until_one_has_its_own_yarn(browser: Browser) -> None:
    page = browser.get("/plan").text
    assert '<details class="part-yarns">' in page
    link = browser.make_pair(**TWO, heel_yarn="B")
    changed = browser.get(f"/pair/{link}/change").text
    assert '<details class="part-yarns" open>' in changed
    assert "; heel in B" in changed


def test_a_reinforcing_thread_goes_from_the_form_to_the_plan_and_comes_back_in_the_form(browser: Browser) -> None:
    link = browser.make_pair(thread_heel="y", thread_metres="500")
    plan = unescape(browser.get(f"/pair/{link}").text)
    assert "Reinforcing thread: heel" in plan
    changed = browser.get(f"/pair/{link}/change").text
    folded = changed[changed.index("Reinforcing thread") :]
    assert "checked" in folded[: folded.index("thread_toe")]
    assert 'value="500"' in folded
