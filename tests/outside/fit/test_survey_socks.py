"""Socks for feet of the survey ANSUR II with everything measured, beside published counts and practice."""

from __future__ import annotations

import pytest

from tests.conftest import fully
from tests.measuring.fit_survey import Found, survey

EVERY = 60 if fully() else 240


@pytest.fixture(scope="module", params=["", "cuff", "calf"])
def found(request: pytest.FixtureRequest) -> dict[tuple[str, str], Found]:
    """Some of the feet, with the leg not measured, at the height of the cuff, and at the calf."""
    return survey((32, 44), EVERY, request.param)


def test_measured_feet_get_counts_heels_and_halves_as_they_are_wanted(found: dict[tuple[str, str], Found]) -> None:
    # Counts: women's 60 to 64 and men's 72 to 76 are the middle sizes of a technique blog, 2014/01; a size either way
    # is common practice. Flaps of as many rows as stitches: moderndailyknitting.com.
    for construction, socks in found.items():
        assert not list(socks.missed(32, all_feet=False)), construction


def test_the_direction_of_knitting_makes_no_other_fit(found: dict[tuple[str, str], Found]) -> None:
    for (direction, heel), socks in found.items():
        if direction == "toe-up":
            assert socks.will_not_go_on == pytest.approx(found["cuff-down", heel].will_not_go_on, abs=2)
