"""A request in a code: all of it comes out again, by RFC 4648 and RFC 1951 as Python has them."""

from __future__ import annotations

import base64
import json
import zlib
from typing import Any, get_args

import pytest
from hypothesis import given

from companion.pair.plan_code import MOST_LETTERS, plan_letters
from companion.planning import PlanRequest, read_request
from companion.planning.units import Unit
from companion.resources import SAMPLE_PROJECTS
from companion.web.samples import read_samples

from ..planning.requests import requests


def unpacked(letters: str) -> PlanRequest:
    whole = letters + "=" * (-len(letters) % 8)
    found, faults = read_request(json.loads(zlib.decompress(base64.b32decode(whole), -15)))
    assert found is not None, faults
    return found


@given(requests())
def test_what_is_handed_on_is_what_was_asked_for(data: dict[str, Any]) -> None:
    wanted, _ = read_request(data)
    assert wanted is not None
    letters = plan_letters(wanted, "in")
    if letters is not None:
        unit, _, packed = letters.partition(".")
        assert unit == "in"
        assert unpacked(packed) == wanted


@pytest.mark.parametrize("unit", get_args(Unit))
@pytest.mark.parametrize("sample", read_samples(SAMPLE_PROJECTS).values(), ids=lambda sample: sample.key)
def test_the_samples_fit_into_a_code(sample: Any, unit: Unit) -> None:
    letters = plan_letters(sample.request, unit)
    assert letters is not None
    assert len(letters) <= MOST_LETTERS + 3


def test_a_chart_that_is_too_large_for_a_code_is_not_handed_on_by_one() -> None:
    rows = [
        format(number * 0x9E3779B97F4A7C15 % 2**60, "060b").replace("0", "A").replace("1", "B") for number in range(120)
    ]
    wanted, faults = read_request(
        {
            "foot": {"ball_circumference_cm": 23, "length_cm": 25},
            "gauge": {"stitches_per_10cm": 32},
            "leg": {"chart": {"width": 60, "rows": rows}},
            "yarns": [{"key": "A"}, {"key": "B"}],
        }
    )
    assert wanted is not None, faults
    assert plan_letters(wanted, "cm") is None
