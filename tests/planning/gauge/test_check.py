"""What a gauge check may say, and what it may not."""

from __future__ import annotations

import math

import pytest

from companion.planning import Check, read_check


def test_a_check_may_have_stitches_or_rounds_or_both() -> None:
    for data in (
        {"stitches": [{"count": 30, "over_cm": 10}]},
        {"rounds": [{"count": 42.5, "over_cm": 10}], "stitches": []},
        {"stitches": [{"count": 30, "over_cm": 10}], "rounds": [{"count": 42, "over_cm": 10}]},
        {"tape": [{"section": "leg", "rounds": 61, "length_cm": 14.5}], "round": 79, "needle_mm": 2.5},
    ):
        check, faults = read_check(data)
        assert isinstance(check, Check), faults


@pytest.mark.parametrize("data", [{}, {"stitches": [], "rounds": []}])
def test_an_empty_check_says_what_to_count(data: object) -> None:
    check, faults = read_check(data)
    assert check is None
    assert [str(fault) for fault in faults] == ["count stitches over a width, rounds over a height, or both"]


@pytest.mark.parametrize(
    ("spot", "where", "allowed"),
    [
        ({"count": 3, "over_cm": 10}, "count", "from 4 up"),
        ({"count": 401, "over_cm": 10}, "count", "up to 400"),
        ({"count": math.nan, "over_cm": 10}, "count", "a number is needed"),
        ({"count": 30, "over_cm": 1}, "over_cm", "from 2 up"),
        ({"count": 30, "over_cm": 61}, "over_cm", "up to 60"),
        ({"count": 30}, "over_cm", "missing"),
        ({"count": 30, "over_cm": 10, "side": "left"}, "side", "not an entry"),
    ],
)
def test_a_faulty_spot_is_named_with_what_is_allowed(spot: dict[str, object], where: str, allowed: str) -> None:
    check, faults = read_check({"stitches": [spot]})
    assert check is None
    assert [fault.where for fault in faults] == [f"stitches.0.{where}"]
    assert allowed in faults[0].message
