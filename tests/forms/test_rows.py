"""The fields that a form has several times over: what they are called, and what of them counts."""

from __future__ import annotations

import pytest
from flask import Flask
from werkzeug.datastructures import MultiDict

from companion.forms.check_form import CheckForm
from companion.forms.design_form import DesignForm
from companion.forms.plan_form import PlanForm

from ..conftest import FORM, Browser
from ..web.checking import LOOSE
from ..web.designing import DESIGN

NAMES = {
    CheckForm: [f"{name}_{spot}" for spot in "123" for name in ("stitches", "stitches_over", "rounds", "rounds_over")],
    PlanForm: [
        f"{name}{yarn}"
        for yarn in ("", "_b", "_c", "_d")
        for name in ("yarn_name", "yarn_colour", "metres_per_100g", "grams", "nylon_percent")
    ],
    DesignForm: [f"stage_{name}_{stage}" for stage in range(1, 9) for name in ("name", "by", "until", "sock")],
}
"""The names under which phones send the fields of rows, and keep them."""


@pytest.mark.parametrize("form", NAMES, ids=lambda form: form.__name__)
def test_the_fields_of_rows_stand_side_by_side_under_names_of_their_own(app: Flask, form: type[CheckForm]) -> None:
    with app.test_request_context():
        fields = list(form().every_field())
        named = {field.name: field for field in fields}
        assert len(named) == len(fields)
        assert all(named[name].id == named[name].label.field_id == name for name in NAMES[form])


@pytest.mark.parametrize(
    "name", ["spots-\u00b2-stitches", "spots-99-stitches", f"spots-{'9' * 5000}", "spots-0-stitches"]
)
def test_no_name_that_is_sent_makes_a_row(app: Flask, name: str) -> None:
    with app.test_request_context():
        form = CheckForm(MultiDict({name: "27", "stitches_2": "28"}))
        assert [row.stitches.data for row in form.spots] == ["", "28", ""]


def test_names_of_rows_that_there_are_not_are_passed_over(browser: Browser) -> None:
    link = browser.make_pair()
    for address, form in ((f"/pair/{link}/check", LOOSE), ("/plan", FORM), ("/design", DESIGN)):
        more = {f"{rows}-{row}": "1" for rows in ("spots", "yarns", "stages") for row in ("\u00b2", "77", "9" * 300)}
        assert browser.post(address, {**form, **more}).status_code == 303


def test_only_what_was_counted_needs_a_length(app: Flask) -> None:
    with app.test_request_context():
        form = CheckForm(MultiDict({"stitches_2": "28", "stitches_over_1": "x", "rounds_over_2": "x"}))
        assert not form.validate()
        assert [field.name for field in form.refused()] == ["stitches_over_2"]


def test_rows_start_from_what_they_are_given_and_are_always_all_there(app: Flask) -> None:
    with app.test_request_context():
        form = DesignForm(data={"stages": [{"stage_name": "Leg done"}]})
        names = [row.stage_name for row in form.stages]
        assert [name.data for name in names] == ["Leg done", *[""] * (len(names) - 1)]
        assert [name.label.text for name in names][:2] == ["Stage 1", "Stage 2"]
