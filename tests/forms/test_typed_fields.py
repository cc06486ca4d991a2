"""Numbers as they are typed, in either unit, and the field that takes them."""

from __future__ import annotations

from typing import Any

import pytest
from flask import Flask
from pydantic import BaseModel, Field
from werkzeug.datastructures import MultiDict

from companion.forms.base import UnitForm
from companion.forms.typed_fields import NumberField, changed_unit, from_typed, outside, to_typed
from companion.planning.request.foot import Foot


class _Swatch(BaseModel):
    width_cm: float = Field(ge=2, le=60)


class _SwatchForm(UnitForm):
    width = NumberField("Width", _Swatch.model_fields["width_cm"], "length")
    needed = NumberField("Needed", _Swatch.model_fields["width_cm"], "length", needed="type the width")


@pytest.mark.parametrize(
    ("text", "unit", "cm"),
    [
        ("25", "cm", 25),
        ("25,5", "cm", 25.5),
        ("9 7/8", "in", 9.875 * 2.54),
        ("9⅞", "in", 9.875 * 2.54),
        ("9.875", "in", 9.875 * 2.54),
        # A length that says its unit means it, whatever the form is in.
        ("25 cm", "in", 25),
        ("10 in", "cm", 25.4),
        ('10"', "cm", 25.4),
    ],
)
def test_a_length_is_read_in_the_unit_it_is_in(text: str, unit: Any, cm: float) -> None:
    """1 in = 2.54 cm exactly: the international yard and pound agreement of 1959."""
    assert from_typed(text, "length", unit) == pytest.approx(cm)


def test_a_gauge_over_four_inches_is_turned_to_ten_centimetres() -> None:
    """4 in = 10.16 cm."""
    assert from_typed("30", "gauge", "in") == pytest.approx(30 / 10.16 * 10)
    assert to_typed(30 / 10.16 * 10, "gauge", "in") == "30"
    assert from_typed("30", "gauge", "cm") == 30


@pytest.mark.parametrize("unit", ["cm", "in"])
@pytest.mark.parametrize("name", [name for name, field in Foot.model_fields.items() if field.metadata])
def test_the_limits_that_are_named_are_accepted(name: str, unit: Any) -> None:
    field = Foot.model_fields[name]
    told = outside(0, field, "length", unit)
    assert told
    low, high = told.removeprefix("allowed: ").removesuffix(f" {unit}").split(" to ")
    assert outside(from_typed(low, "length", unit), field, "length", unit) is None
    assert outside(from_typed(high, "length", unit), field, "length", unit) is None


def test_another_unit_turns_numbers_and_leaves_the_rest() -> None:
    assert changed_unit("25.4", "length", "cm", "in") == "10"
    assert changed_unit("10", "length", "in", "cm") == "25.4"
    assert changed_unit("about 25", "length", "cm", "in") == "about 25"
    assert changed_unit("", "length", "cm", "in") == ""
    assert changed_unit("10", "number", "cm", "in") == "10"


@pytest.mark.parametrize("typed", ["7 1/2", "7.5", "7,5", " 7½ ", '7 1/2"'])
def test_a_number_is_read_in_the_unit_of_its_form_and_stays_as_it_was_typed(app: Flask, typed: str) -> None:
    """1 in = 2.54 cm exactly: the international yard and pound agreement of 1959."""
    with app.test_request_context():
        form = _SwatchForm(MultiDict({"width": typed, "needed": "4", "unit": "in"}))
        assert form.validate()
        assert form.width.value == pytest.approx(7.5 * 2.54)
        assert form.width.data == typed.strip()


def test_a_number_of_the_planning_is_shown_in_the_unit_of_the_form(app: Flask) -> None:
    with app.test_request_context():
        assert _SwatchForm(data={"unit": "in", "width": 7.5 * 2.54}).width.data == "7 1/2"
        assert _SwatchForm(data={"width": 19.05}).width.data == "19.1"
        assert _SwatchForm(data={"width": None}).width.data == ""


def test_what_is_refused_has_no_value_and_is_reported_once_however_often_it_is_read(app: Flask) -> None:
    with app.test_request_context():
        form = _SwatchForm(MultiDict({"width": "61"}))
        for _ in range(2):
            assert not form.validate()
            assert [(field.name, list(field.errors)) for field in form.refused()] == [
                ("width", ["allowed: 2 to 60 cm"]),
                ("needed", ["type the width"]),
            ]
        assert (form.width.value, form.needed.value) == (None, None)
