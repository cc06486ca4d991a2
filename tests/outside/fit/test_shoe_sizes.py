"""Shoe sizes and foot lengths as published converters and printed tables have them."""

from __future__ import annotations

import pytest

from companion.planning.fit.shoe_sizes import SCALES, foot_length, usual_foot
from companion.planning.request.foot import ShoeSystem
from companion.planning.units import CM_PER_INCH
from tests.outside.fit.measured_feet import AVERAGE, LARGE, SMALL, MeasuredFoot


@pytest.mark.parametrize(
    ("mm", "eu", "uk", "men", "women"),
    [
        (220, 35, 2.98, 3.98, 4.98),
        (240, 38, 5.35, 6.35, 7.35),
        (260, 41, 7.71, 8.71, 9.71),
        (280, 44, 10.07, 11.07, 12.07),
    ],
)
def test_a_foot_has_its_size_in_every_system(mm: int, eu: float, uk: float, men: float, women: float) -> None:
    # Published converters: EU = 1.5 cm + 2, UK = 3 in - 23, US men = 3 in - 22, US women = 3 in - 21; a public package
    # of conversions (shoe-size-converter 1.0.1, MIT) cites ISO 19407:2015 for the same. The sizes are computed from it.
    sizes: dict[ShoeSystem, float] = {"EU": eu, "UK": uk, "US men": men, "US women": women, "Mondopoint": mm}
    for system, size in sizes.items():
        assert foot_length(system, size) == pytest.approx(mm / 10, abs=0.01), system


@pytest.mark.parametrize(
    ("system", "size", "mm"),
    # Scientific Reports, s41598-019-55432-z: Mondopoint steps by 5 mm, EU by 6.67 mm, UK and US half sizes by 4.23 mm.
    [("Mondopoint", 5, 5), ("EU", 1, 6.67), ("UK", 0.5, 4.23), ("US men", 0.5, 4.23), ("US women", 0.5, 4.23)],
)
def test_a_size_more_is_a_step_longer(system: ShoeSystem, size: float, mm: float) -> None:
    least = SCALES[system].least
    step = foot_length(system, least + size) - foot_length(system, least)
    assert step * 10 == pytest.approx(mm, abs=0.005)


@pytest.mark.parametrize("mm", [235, 240, 244])
def test_what_printed_tables_say_of_eu_38_lies_inside_the_range(mm: int) -> None:
    # en.razmery.info/clothes/the-sizes-of-shoe.html: 9 1/4 in for women, 24.4 cm for men.
    # calculatorlib.com/shoe-size-converter: 24 cm.
    length = usual_foot("EU", 38).length
    assert length.low <= mm / 10 <= length.high


@pytest.mark.parametrize(("system", "inches"), [("US women", 9), ("US men", 9.5)])
def test_lengths_that_a_guide_for_sock_knitters_names(system: ShoeSystem, inches: float) -> None:
    # ehow.co.uk, "How to size knitted socks to shoe sizes": women's 6.5 is about 9 in, men's 6.5 is 9.5 in.
    length = usual_foot(system, 6.5).length
    assert length.low <= inches * CM_PER_INCH <= length.high


@pytest.mark.parametrize("foot", [*SMALL, *AVERAGE, *LARGE], ids=str)
def test_a_foot_of_the_survey_that_is_as_usual_round_as_long_lies_inside_the_range(foot: MeasuredFoot) -> None:
    us: ShoeSystem = "US men" if foot.sex == "M" else "US women"
    sizes: dict[ShoeSystem, float] = {us: foot.length / 254 * 30 - SCALES[us].added, "Mondopoint": foot.length}
    for system, size in sizes.items():
        ball = usual_foot(system, size).ball
        assert ball.low <= foot.ball / 10 <= ball.high
