"""The band of a gauge, measured in its SVG."""

from __future__ import annotations

import re

import pytest

from companion.drawings.gauge_band import Band, band_svg
from companion.drawings.plot import even_steps
from companion.planning import Check
from companion.planning.gauge.check import Spot
from companion.planning.gauge.estimate import estimate
from companion.planning.gauge.observations import Assumed


def check(stitches: float, at: int) -> Check:
    return Check(stitches=(Spot(count=stitches, over_cm=10),) * 3, round=at)


def band(*checks: Check, factor: float = 1.0) -> Band:
    told = Assumed(basis="ball band", stitches_per_10cm=32)
    return Band("stitches", estimate([told, *checks], "stitches"), 32, factor)


def numbers(kind: str, svg: str) -> list[list[float]]:
    return [[float(n) for n in re.findall(r"-?[\d.]+", one)] for one in re.findall(rf'class="{kind}" ([^>]*)/>', svg)]


def test_the_band_lies_between_the_ends_of_the_estimate() -> None:
    drawn = band(check(30, 40), check(30.5, 90))
    svg = str(band_svg(drawn))
    [[_, y, _, height]] = numbers("band", svg)
    assert y == pytest.approx(drawn.y(drawn.estimate.high), abs=0.1)
    assert y + height == pytest.approx(drawn.y(drawn.estimate.low), abs=0.1)
    [[_, planned, _, _]] = numbers("planned", svg)
    assert planned < y, "32 planned is tighter than what was counted, and tighter is further up"


def test_every_check_has_a_mark_in_the_order_of_its_rounds() -> None:
    svg = str(band_svg(band(check(30, 40), check(30.5, 90), check(31, 60))))
    across = [x for x, *_ in numbers("mark", svg)]
    assert across[0] < across[2] < across[1]
    assert len(numbers("error", svg)) == 4
    assert len(numbers("(?:assumed|uncounted)", svg)) == 1


def test_the_words_say_what_the_drawing_does() -> None:
    title = re.findall(r"<title[^>]*>(.*?)</title>", str(band_svg(band(check(30, 40)))))[0]
    assert "planned 32:" in title
    assert "After 40 rounds: 30, give or take" in title
    assert "Before the first round: 32," in title


def test_a_drift_has_its_band_at_the_newest_rounds() -> None:
    steady, drifting = band(check(30, 40), check(30, 120)), band(check(29, 10), check(30.5, 60), check(32, 120))
    assert drifting.estimate.drifting
    assert numbers("band", str(band_svg(drifting)))[0][0] > numbers("band", str(band_svg(steady)))[0][0]


def test_four_inches_have_more_stitches_than_ten_centimetres() -> None:
    """4 in are 10.16 cm."""
    assert "planned 32.5" in str(band_svg(band(check(30, 40), factor=1.016)))


@pytest.mark.parametrize(
    ("low", "high", "steps"),
    [(28.3, 34.2, [29, 30, 31, 32, 33, 34]), (40, 61, [40, 45, 50, 55, 60]), (1.02, 1.08, [1.02, 1.04, 1.06, 1.08])],
)
def test_the_numbers_beside_the_field_are_round(low: float, high: float, steps: list[float]) -> None:
    assert even_steps(low, high, 6) == pytest.approx(steps)
