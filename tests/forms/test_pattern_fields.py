"""The stitch pattern in the plan form: what is chosen or typed becomes a plan request and comes back."""

from __future__ import annotations

from html import unescape
from typing import Any

import pytest
from flask import Flask
from werkzeug.datastructures import MultiDict

from companion.forms.pattern_fields import OWN
from companion.forms.plan_form import PlanForm, form_values
from companion.planning import read_request
from companion.planning.stitches.items import THROUGH
from companion.planning.stitches.operations import CABLES
from companion.planning.stitches.reading import read_row
from companion.planning.stitches.ready import READY
from companion.planning.stitches.tokens import COUNTED, NAMED
from tests.conftest import FORM, Browser

STITCHES = {"colour_pattern": "stitches"}
TYPED = {**STITCHES, "stitch_pattern": OWN, "pattern_rows": "k2tog, yo, k4\n\n k6 \n", "pattern_name": "wave"}


def data_of(app: Flask, typed: dict[str, str]) -> tuple[dict[str, Any], dict[str, list[str]]]:
    with app.test_request_context():
        form = PlanForm(MultiDict({**FORM, **typed}))
        data = form.request_data()
        form.take_faults(read_request(data)[1])
        return data, {field.name: list(field.errors) for field in form.refused()}


def test_a_ready_pattern_goes_by_its_name(app: Flask) -> None:
    data, errors = data_of(app, {**STITCHES, "stitch_pattern": "seed stitch"})
    assert not errors
    assert data["leg"]["stitch_pattern"] == {"name": "seed stitch"}


def test_typed_rows_are_rounds_without_empty_lines(app: Flask) -> None:
    data, errors = data_of(app, TYPED)
    assert not errors
    assert data["leg"]["stitch_pattern"] == {"name": "wave", "rows": ["k2tog, yo, k4", "k6"]}


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ("k2, p2\nk2, q2", "row 2, at “q2” a stitch is expected, like k2, p1, yo, k2tog, 2/2 RC or [k1, p1] x 3"),
        ("k2, p2\nk3", "round 2 has 3 stitches, and the widest round of the repeat has 4"),
        ("", "the rows are missing; type one line for each"),
    ],
)
def test_what_makes_no_repeat_is_said_at_the_rows(app: Flask, rows: str, said: str) -> None:
    data, errors = data_of(app, TYPED | {"pattern_rows": rows})
    assert "stitch_pattern" not in data.get("leg", {})
    assert list(errors) == ["pattern_rows"]
    assert said in errors["pattern_rows"][0]


def test_a_pattern_that_is_not_ready_is_refused_where_it_is_chosen(app: Flask) -> None:
    _, errors = data_of(app, {**STITCHES, "stitch_pattern": "moss"})
    assert errors["stitch_pattern"][0].startswith("allowed: k2 p2 rib, ")


def test_rows_that_are_hidden_do_not_count(app: Flask) -> None:
    for hidden in ({"colour_pattern": "none"}, {"stitch_pattern": "lace rib"}):
        _, errors = data_of(app, {**TYPED, "pattern_rows": "k2, q2", **hidden})
        assert not errors


GAUGE = {"pattern_stitches": "36.2", "pattern_rounds": "45"}


def test_the_pattern_has_the_gauge_that_was_counted_of_it(app: Flask) -> None:
    data, errors = data_of(app, {**STITCHES, "stitch_pattern": "cable rib", **GAUGE})
    assert not errors
    assert data["leg"]["stitch_pattern"] == {"name": "cable rib", "stitches_per_10cm": 36.2, "rounds_per_10cm": 45}


@pytest.mark.parametrize(
    ("typed", "field", "said"),
    [
        ({"pattern_stitches": "many"}, "pattern_stitches", "a number is needed"),
        ({"pattern_stitches": "36"}, "stitch_pattern", "count stitches and rounds of the pattern, or leave both out"),
    ],
)
def test_a_gauge_in_pattern_that_cannot_be_is_said_at_its_field(
    app: Flask, typed: dict[str, str], field: str, said: str
) -> None:
    _, errors = data_of(app, {**STITCHES, "stitch_pattern": "cable rib", **typed})
    assert list(errors) == [field]
    assert said in errors[field][0]


def test_what_belongs_to_a_panel_does_not_count_where_there_is_none(app: Flask) -> None:
    typed = {"pattern_where": "all round", "panel_repeats": "many", "panel_beside": "lace"}
    data, errors = data_of(app, {**STITCHES, "stitch_pattern": "cable rib", **typed})
    assert not errors
    assert data["leg"]["stitch_pattern"] == {"name": "cable rib"}


def test_a_gauge_in_pattern_that_is_hidden_does_not_count(app: Flask) -> None:
    data, errors = data_of(app, {"colour_pattern": "none", **GAUGE, "pattern_rounds": "none"})
    assert not errors
    assert "stitch_pattern" not in data.get("leg", {})


PLACED = {"pattern_where": "front", "panel_repeats": "2", "panel_beside": "p2 k2", "ends_before_toe": "4"}


def test_a_panel_is_placed_as_it_is_asked_for(app: Flask) -> None:
    data, errors = data_of(app, {**STITCHES, "stitch_pattern": "cable rib", **PLACED})
    assert not errors
    assert data["leg"]["stitch_pattern"] == {
        "name": "cable rib",
        "placement": {"on": "front", "repeats": 2, "beside": "p2 k2"},
        "ends_before_toe_cm": 4,
    }


@pytest.mark.parametrize(
    ("typed", "field", "said"),
    [
        ({"panel_beside": "lace"}, "panel_beside", "allowed: plain, purl, or a ribbing"),
        ({"panel_repeats": "1.5"}, "panel_repeats", "a whole number"),
        ({"panel_repeats": "30"}, "panel_repeats", "1 to 20"),
        ({"pattern_where": "the heel"}, "pattern_where", "allowed"),
    ],
)
def test_what_no_panel_can_be_is_said_at_its_field(app: Flask, typed: dict[str, str], field: str, said: str) -> None:
    _, errors = data_of(app, {**STITCHES, "stitch_pattern": "cable rib", **PLACED, **typed})
    assert list(errors) == [field]
    assert said in errors[field][0]


@pytest.mark.parametrize(
    "typed", [{**STITCHES, "stitch_pattern": name} for name in READY] + [TYPED, {**TYPED, **GAUGE}, {**TYPED, **PLACED}]
)
def test_what_is_asked_for_stands_in_the_form_again(app: Flask, typed: dict[str, str]) -> None:
    data, _ = data_of(app, typed)
    request, _ = read_request(data)
    assert request
    values = form_values(request, "cm")
    assert values["stitch_pattern"] == typed["stitch_pattern"]
    again, _ = data_of(app, {**FORM, **{name: str(values.get(name) or "") for name in (*TYPED, *GAUGE, *PLACED)}})
    assert again["leg"]["stitch_pattern"] == data["leg"]["stitch_pattern"]


@pytest.mark.parametrize("pattern", ["lace rib", "cable rib"])
def test_a_patterned_pair_is_made_with_the_form_and_shown_on_its_pages(browser: Browser, pattern: str) -> None:
    link = browser.make_pair(**STITCHES, stitch_pattern=pattern, foot_pattern="instep follows the leg")
    plan = unescape(browser.get(f"/pair/{link}").text)
    assert "The stitch pattern" in plan
    assert f"{pattern[0].upper()}{pattern[1:]}: 6 stitches and" in plan
    for page in ("/pattern", "/pattern.md", "/pattern.txt"):
        written = unescape(browser.get(f"/pair/{link}{page}").text)
        assert "pattern from round 1 on" in written
        assert "Row 1 (RS), read from the right: k1, " in written.replace("\\", "")
    script = browser.get(f"/pair/{link}/pair.json").get_json()["scripts"][0]
    assert script["chart"] is None
    rounds = {each["chart_row"] for each in script["instructions"] if each["chart_row"]}
    assert rounds == set(range(1, script["pattern"]["height"] + 1))
    crossed = "2/2 RC" if pattern == "cable rib" else "s2kpo"
    assert crossed in script["meanings"]
    for page in ("/knit", "/check", "/yarn", "/fit", "/second", "/logbook", "/next", "/change"):
        assert browser.get(f"/pair/{link}{page}").status_code == 200, page


def test_rows_from_the_wrong_side_are_shown_as_rounds_and_said_to_be_turned(browser: Browser) -> None:
    typed = {
        "pattern_rows": "Row 1 (RS): k1, *k2tog, yo, k1, p1; repeat from *, k1\nWS rows: p1, *k1, p3; rep from *, p1",
        "pattern_name": "ladder",
    }
    link = browser.make_pair(**STITCHES, stitch_pattern=OWN, **typed)
    for page in ("", "/pattern", "/pattern.md", "/pattern.txt"):
        shown = unescape(browser.get(f"/pair/{link}{page}").text)
        assert "Rows from the wrong side are turned into rounds. Stitches beside the repeat are left out" in shown
        assert "Round 2: k3, p1" in shown
    told = browser.post("/plan/stitches", {"pattern_rows": typed["pattern_rows"]}).get_json()
    assert told["rows"] == [["k2tog", "yo", "k", "p"], ["k", "k", "k", "p"]]


def test_rows_with_edges_that_say_no_side_are_said_to_be_read_from_the_right_side(browser: Browser) -> None:
    typed = {"pattern_rows": "k1, *k2tog, yo, k1, p1; repeat from *, k1\nknit", "pattern_name": "ladder"}
    link = browser.make_pair(**STITCHES, stitch_pattern=OWN, **typed)
    assert "All rows are read from the right side" in unescape(browser.get(f"/pair/{link}").text)


IN_STRIPES = {**STITCHES, "stitch_pattern": "k3 p1 rib", "stripes": "A 3, B 2", "yarn_count": "2"}


def test_a_pattern_in_stripes_is_asked_for_and_stands_in_the_form_again(app: Flask) -> None:
    data, errors = data_of(app, IN_STRIPES)
    assert not errors
    assert data["leg"]["chart"] == {"width": 1, "rows": [*"AAABB"], "swap": False}
    request, _ = read_request(data)
    assert request
    values = form_values(request, "cm")
    assert [values[name] for name in IN_STRIPES] == [*IN_STRIPES.values()]
    _, errors = data_of(app, {**IN_STRIPES, "stripes": "A 3, C 2"})
    assert "there is no yarn C" in errors["stripes"][0]


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_a_pair_in_a_pattern_and_stripes_has_all_its_pages(browser: Browser, direction: str) -> None:
    more = {"foot_pattern": "instep follows the leg", "direction": direction, "swap": "y"}
    link = browser.make_pair(**IN_STRIPES, **more)
    plan = unescape(browser.get(f"/pair/{link}").text)
    assert "The stitch pattern" in plan
    assert "In the order in which they are knitted, over and over." in plan
    script = browser.get(f"/pair/{link}/pair.json").get_json()["scripts"][0]
    assert script["chart"] is None
    assert script["pattern"]["width"] == 4
    told = {(words, each["yarn"]) for each in script["instructions"] for _, words in each["lines"] or ()}
    assert {("[k3, p1] x 16", None), ("[k3, p1] x 16", "B")} <= told
    for page in ("/knit", "/check", "/yarn", "/fit", "/second", "/logbook", "/next", "/change", "/pattern"):
        assert browser.get(f"/pair/{link}{page}").status_code == 200, page


@pytest.mark.parametrize(
    ("rows", "answer"),
    [
        ("k1, yo\n\n p2 ", {"rows": [["k", "yo"], ["p", "p"]]}),
        (
            "Round 1: k2\n\nRound 5: k1, q",
            {"rows": None, "wrong": "Line 3, at “q” a stitch is expected, like k2, p1, yo, k2tog, 2/2 RC"},
        ),
        (" ", {"rows": None, "wrong": "The rows are missing; type one line for each, or draw them"}),
        ("k2\n" * 121, {"rows": None, "wrong": "121 rows, and a repeat may have 120 rounds; type one repeat only"}),
        ("k1," * 400, {"rows": None, "wrong": "Line 1 has 1200 letters, and may have 1000; type one repeat only"}),
    ],
)
def test_typed_rows_are_told_to_who_draws_them(browser: Browser, rows: str, answer: dict[str, Any]) -> None:
    told = browser.post("/plan/stitches", {"pattern_rows": rows}).get_json()
    assert told["rows"] == answer["rows"]
    assert told.get("wrong", "").startswith(answer.get("wrong", ""))


def test_every_stitch_that_can_be_typed_can_be_drawn(browser: Browser) -> None:
    drawn = browser.get("/plan/stitches").get_json()
    words = {stitch["name"]: stitch["words"] for stitch in drawn}
    for name, (one, many) in words.items():
        assert read_row(one).names == (name,)
        assert read_row(many.replace("97", "3")).names == (name,) * 3
    assert set(words) == {*NAMED.values(), *COUNTED.values(), *THROUGH.values(), "slwyif", *CABLES}
