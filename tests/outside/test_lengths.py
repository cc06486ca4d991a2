"""Lengths against a general unit library, and the plan's own lengths against the trade's."""

from __future__ import annotations

from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.planning.request.cuff import Cuff
from companion.planning.request.plan_request import Leg
from companion.planning.units import CM_PER_INCH, parse_number, show_number, to_cm
from tests.planning.asking import planned, section

LENGTHS = st.floats(-100, 1000, allow_nan=False)


def test_an_inch_is_as_long_as_pint_says() -> None:
    assert pint.Quantity(1, "inch").to("cm").magnitude == pytest.approx(CM_PER_INCH, rel=1e-15)


@given(LENGTHS)
def test_lengths_become_what_pint_makes_of_them(value: float) -> None:
    assert to_cm(value, "in") == pytest.approx(pint.Quantity(value, "inch").to("cm").magnitude, rel=1e-12)


@given(st.floats(-100, 1000))
def test_inches_are_shown_to_the_nearest_eighth(cm: float) -> None:
    inches = pint.Quantity(cm, "cm").to("inch").magnitude
    shown = parse_number(show_number(cm, "in"))
    assert abs(shown - inches) <= 1 / 16 + 1e-9
    assert Fraction(shown).limit_denominator(1000).denominator in (1, 2, 4, 8)


def test_the_default_cuff_is_as_long_as_cuffs_are() -> None:
    # yarnbecomewhatyouare.wordpress.com, 2011/11/16, and common practice: ribbing 1.5 to 2 in.
    assert 1.5 <= Cuff().length_cm / CM_PER_INCH <= 2


def test_the_default_sock_is_as_tall_as_socks_are() -> None:
    # The same source and common practice: 6 to 8 in from the cast-on to the heel.
    assert 6 <= (Cuff().length_cm + Leg().length_cm) / CM_PER_INCH <= 8


def test_a_plan_is_knitted_to_the_default_lengths_within_half_a_round() -> None:
    plan = planned()
    round_cm = 10 / 44
    assert section(plan, "cuff").length_cm == pytest.approx(Cuff().length_cm, abs=round_cm / 2)
    assert section(plan, "leg").length_cm == pytest.approx(Leg().length_cm, abs=round_cm / 2)
