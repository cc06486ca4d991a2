"""The plan form: what is typed, in either unit, becomes a plan request and comes back."""

from __future__ import annotations

import re
from typing import Any

import pytest
from flask import Flask
from werkzeug.datastructures import MultiDict

from companion.forms.body_fields import wheres
from companion.forms.plan_form import WORDS, PlanForm, first_values, form_values
from companion.planning import PlanRequest, read_request

from ..conftest import FORM, Browser


def data_of(app: Flask, typed: dict[str, str]) -> tuple[dict[str, Any], dict[str, list[str]]]:
    with app.test_request_context():
        return read(PlanForm(MultiDict(typed)))


def read(form: PlanForm) -> tuple[dict[str, Any], dict[str, list[str]]]:
    data = form.request_data()
    return data, {field.name: list(field.errors) for field in form.refused()}


def test_every_entry_of_the_request_has_its_field(app: Flask) -> None:
    """The form leaves out only what has one possible value or fills others in, and the key of the only yarn."""
    entries = set()
    for name, part in PlanRequest.model_fields.items():
        inside = getattr(part.annotation, "model_fields", None)
        entries |= {f"{name}.{entry}" for entry in inside} if inside else {name}
    fixed = {"schema_", "leg.chart", "leg.stitch_pattern", "yarns", "foot.shoe_size"}
    asked = wheres(PlanForm) | WORDS
    assert set(asked.values()) == entries - fixed
    with app.test_request_context():
        assert set(asked) <= {field.name for field in PlanForm()}


def test_a_filled_in_form_is_a_request(app: Flask, request_data: dict[str, Any]) -> None:
    data, errors = data_of(app, FORM)
    assert not errors
    expected, _ = read_request(request_data)
    assert read_request(data) == (expected, [])


def test_what_is_left_empty_gets_the_usual_value(app: Flask) -> None:
    data, errors = data_of(app, {"ball_circumference": "23", "foot_length": "25", "stitches": "30", "rib": " "})
    assert not errors
    assert data == {"foot": {"ball_circumference_cm": 23, "length_cm": 25}, "gauge": {"stitches_per_10cm": 30}}


@pytest.mark.parametrize("unit", ["cm", "in"])
def test_a_request_fills_the_form_and_comes_back(app: Flask, unit: str) -> None:
    """A length shown to 1/8 in is off by up to 1/16 in, 0.16 cm; a gauge to 0.1 by 0.05; yarn by 0.5 yd, 0.005 oz.

    A repeat of colours is off by up to 0.05 yd.
    """
    wanted, _ = read_request(
        {
            "title": "All given",
            "foot": {"ball_circumference_cm": 23.4, "length_cm": 25.1, "heel_diagonal_cm": 32.7},
            "gauge": {"stitches_per_10cm": 31.5, "rounds_per_10cm": 44, "basis": "measured"},
            "ease": {"circumference_percent": 7.5, "length_cm": -0.5},
            "construction": {
                "direction": "toe-up",
                "heel": "flap",
                "toe": "round",
                "turn": "square",
                "flap": "plain",
                "garter_edge": True,
                "sole": "offset slipped",
                "sole_from_heel": True,
            },
            "cuff": {"rib": "k1tbl p1", "length_cm": 5.5},
            "foot_pattern": "instep follows the leg",
            "leg": {"length_cm": 16, "until": "half the yarn"},
            "needles": {"arrangement": "long circular", "size_mm": 2.25, "two_at_a_time": True},
            "yarns": [
                {"name": "moss", "metres_per_100g": 400, "grams": 80, "nylon_percent": 20, "colour_repeat_metres": 9.5}
            ],
        }
    )
    assert wanted
    with app.test_request_context():
        data, errors = read(PlanForm(data=form_values(wanted, "in" if unit == "in" else "cm")))
    assert not errors
    back, faults = read_request(data)
    assert not faults
    assert back
    if unit == "cm":
        assert back == wanted
    assert back.cuff.length_cm == pytest.approx(wanted.cuff.length_cm, abs=2.54 / 16)
    assert back.foot.heel_diagonal_cm == pytest.approx(wanted.foot.heel_diagonal_cm, abs=2.54 / 16)
    assert back.gauge.stitches_per_10cm == pytest.approx(31.5, abs=0.05)
    assert back.construction == wanted.construction
    assert back.leg.until == wanted.leg.until
    assert back.needles == wanted.needles
    assert back.yarns[0].metres_per_100g == pytest.approx(400, abs=0.9144 / 2)
    assert back.yarns[0].colour_repeat_metres == pytest.approx(9.5, abs=0.9144 / 20)
    assert back.yarns[0].grams == pytest.approx(80, abs=28.35 / 200)


def test_the_form_starts_with_the_usual_values_and_no_foot(app: Flask) -> None:
    with app.test_request_context():
        values = PlanForm(data=first_values("cm")).data
    assert (values["ball_circumference"], values["foot_length"], values["stitches"]) == ("", "", "")
    assert (values["cuff_length"], values["leg_length"], values["rib"]) == ("4", "14", "k2 p2")


@pytest.mark.parametrize(
    ("field", "typed", "unit", "says"),
    [
        ("foot_length", "x", "cm", "a number is needed here"),
        ("foot_length", "99", "cm", "allowed: 8 to 36 cm"),
        ("foot_length", "", "cm", "needed, but missing"),
        ("foot_length", "25", "in", "allowed: 3 1/4 to 14 1/8 in"),
        ("stitches", "200", "cm", "allowed: 14 to 60"),
        ("stitches", "200", "in", "allowed: 14.3 to 60.9"),
        ("needle_mm", "0", "cm", "allowed: 1 to 8"),
        ("ease_percent", "-6", "cm", "allowed: -5 to 25"),
    ],
)
def test_what_is_refused_says_what_is_allowed_in_the_knitters_unit(
    app: Flask, field: str, typed: str, unit: str, says: str
) -> None:
    start = dict.fromkeys(["ball_circumference", "foot_length"], "9" if unit == "in" else "23")
    _, errors = data_of(app, {**start, "stitches": "30", "unit": unit, field: typed})
    assert set(errors) == {field}
    assert says in errors[field][0]


def test_from_the_cuff_down_the_leg_has_a_length_whatever_was_chosen_for_the_other_way(app: Flask) -> None:
    data, errors = data_of(app, {**FORM, "direction": "cuff-down", "leg_until": "half the yarn"})
    assert not errors
    assert "until" not in data["leg"]
    assert read_request(data)[1] == []


def test_a_guess_from_a_shoe_size_names_its_sources(browser: Browser) -> None:
    page = browser.get("/plan").text
    assert "published size charts" in page
    assert "6,068 feet measured in the survey ANSUR II" in page


def test_a_height_by_name_gives_leg_and_cuff_the_lengths_for_the_foot(browser: Browser) -> None:
    """Whatever stands in their own fields, which only scripts fill in."""
    for foot, lengths in (("25", (28, 7)), ("12.5", (14, 3.5))):
        body = {"foot_length": foot, "ball_circumference": "23" if foot == "25" else "14"}
        link = browser.make_pair(leg_height="knee", **body)
        page = browser.get(f"/pair/{link}/change").text
        for name, length in zip(("leg_length", "cuff_length"), lengths, strict=True):
            assert re.search(rf'name="{name}"[^>]*value="{length:g}"', page), (name, length)
    refused = browser.post("/plan", {**FORM, "leg_height": "ladder"})
    assert "Allowed: footlet, ankle, crew, mid-calf, knee." in refused.text
