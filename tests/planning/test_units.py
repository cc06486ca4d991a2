"""Lengths, yarn and needles as they are typed and shown."""

from __future__ import annotations

import math
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.planning.units import (
    Unit,
    both_amply,
    both_needle_sizes,
    both_units,
    both_weights,
    both_yardages,
    both_yarn_lengths,
    in_one_unit,
    parse_length,
    parse_number,
    show_length,
    show_number,
)


@pytest.mark.parametrize("text", ["7 1/2", "7.5", "7,5", "7½", "7 ½", " 7.50 ", "15/2"])
def test_seven_and_a_half_may_be_typed_in_many_ways(text: str) -> None:
    assert parse_number(text) == 7.5


@pytest.mark.parametrize(
    ("text", "unit", "cm"),
    [
        ("7.5", "cm", 7.5),
        ("7.5", "in", 19.05),
        ('7 1/2"', "cm", 19.05),
        ("7.5 in", "cm", 19.05),
        ("7,5cm", "in", 7.5),
        ("7½ CM", "in", 7.5),
    ],
)
def test_a_unit_typed_behind_the_number_goes_before_the_one_in_force(text: str, unit: Unit, cm: float) -> None:
    assert parse_length(text, unit) == pytest.approx(cm)


@pytest.mark.parametrize(
    ("text", "number"),
    [("⅛", 0.125), ("2¾", 2.75), ("-½", -0.5), ("- 1 1/4", -1.25), (".5", 0.5), (",5", 0.5), ("9", 9), ("3/8", 0.375)],
)
def test_fractions_glyphs_and_signs(text: str, number: float) -> None:
    assert parse_number(text) == number


@pytest.mark.parametrize(
    "text",
    [
        "",
        " ",
        "wide",
        "7 8",
        "1.234,5",
        "7 - 1/2",
        "1e3",
        "inf",
        "nan",
        "7 1/2 1/2",
        "7.5½",
        "7 1/2 yd",
        "0x7",
        "1234567",
    ],
)
def test_what_is_no_number_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(ValueError, match=r"a number is needed here, like 7\.5 or 7 1/2"):
        parse_number(text)


@pytest.mark.parametrize("text", ["7 1/0", "1/0", "3/000"])
def test_a_fraction_of_nothing_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="0 below the line"):
        parse_number(text)


@given(st.text(max_size=12) | st.text("0123456789½¼ ./,-+ein", max_size=8))
def test_any_text_is_a_finite_number_or_is_refused_in_words(text: str) -> None:
    try:
        number = parse_number(text)
    except ValueError as error:
        refusal = str(error)
    else:
        refusal = ""
        assert math.isfinite(number)
    assert refusal == "" or refusal.startswith(("a number is needed here", "a fraction cannot"))


@given(st.integers(-800, 8000))
def test_what_is_shown_in_inches_reads_back(eighths: int) -> None:
    assert parse_number(show_number(eighths / 8 * 2.54, "in")) == eighths / 8


@given(st.integers(-1000, 10000))
def test_what_is_shown_in_cm_reads_back(millimetres: int) -> None:
    assert parse_number(show_number(millimetres / 10, "cm")) == millimetres / 10


@pytest.mark.parametrize(
    ("cm", "in_cm", "in_inches"),
    [
        (0, "0", "0"),
        (2.54, "2.5", "1"),
        (0.3175, "0.3", "1/8"),
        (19.05, "19.1", "7 1/2"),
        (21.25, "21.3", "8 3/8"),
        (25, "25", "9 7/8"),
        (-1.27, "-1.3", "-1/2"),
        (-0.04, "0", "0"),
    ],
)
def test_lengths_are_shown_as_on_a_tape(cm: float, in_cm: str, in_inches: str) -> None:
    assert show_number(cm, "cm") == in_cm
    assert show_number(cm, "in") == in_inches


def test_a_length_has_its_unit() -> None:
    assert show_length(24, "cm") == "24 cm"
    assert show_length(24.13, "in") == "9 1/2 in"
    assert both_units(24.13) == "24.1 cm (9 1/2 in)"
    # Yarn to cut is given in whole inches, and never less than is needed.
    assert [both_amply(cm) for cm in (30, 65, 25.4)] == ["30 cm (12 in)", "65 cm (26 in)", "25.4 cm (10 in)"]


@given(st.floats(min_value=-9, max_value=200), st.sampled_from(["cm", "in"]))
def test_a_sentence_in_both_units_is_also_read_in_one(cm: float, unit: Unit) -> None:
    said = f"The foot becomes {both_units(cm)} round, at 30.2 over 10 cm (30.7 over 4 in)."
    length, gauge = show_length(cm, unit), {"cm": "30.2 over 10 cm", "in": "30.7 over 4 in"}[unit]
    assert in_one_unit(said, unit) == f"The foot becomes {length} round, at {gauge}."


def test_two_gauges_in_a_row_are_read_in_one_unit() -> None:
    said = "They lie between 29.5 and 30.5 over 10 cm (30 and 31 over 4 in); planned are 2 (not 3) of 5 cm."
    assert in_one_unit(said, "in") == "They lie between 30 and 31 over 4 in; planned are 2 (not 3) of 5 cm."


@pytest.mark.parametrize(
    ("both", "metric", "inches"),
    [
        # NIST Handbook 44, appendix C: 1 oz = 28.349523125 g, 1 yd = 0.9144 m
        (both_weights(100), "100 g", "3.53 oz"),
        (both_weights(1234.5, 1), "1,234.5 g", "43.546 oz"),
        (both_yarn_lengths(420), "420 m", "459 yd"),
        (both_yardages(400), "400 m in 100 g", "437 yd in 3.53 oz"),
        # fineleaffibres.com, needle size conversion
        (both_needle_sizes(2.5), "2.5 mm", "US 1 1/2"),
        (both_needle_sizes(2.25), "2.25 mm", "US 1"),
        (both_needle_sizes(2.6), "2.6 mm", "2.6 mm"),
    ],
)
def test_yarn_and_needles_are_shown_in_the_units_that_go_with_the_tape(both: str, metric: str, inches: str) -> None:
    sentence = f"It takes {both}, and {both.replace(' ', chr(0xA0))}."
    assert [in_one_unit(sentence, unit).replace(chr(0xA0), " ") for unit in get_args(Unit)] == [
        f"It takes {metric}, and {metric}.",
        f"It takes {inches}, and {inches}.",
    ]
