"""Charts as they are drawn on pages."""

from __future__ import annotations

import re
from xml.etree import ElementTree as ET

import pytest

from companion.drawings.chart import CELL, COLOURS, LEFT, SYMBOLS, chart_svg, ink_on, luminance, yarn_square

ROWS = ["AAAB", "ABAB", "CCAA"]


def parts(drawing: ET.Element, kind: str) -> list[ET.Element]:
    return [item for item in drawing.iter() if kind in item.get("class", "").split()]


def cells(path: ET.Element) -> set[tuple[int, int]]:
    """The squares that a path fills: column from the left, row from the bottom, both from 0."""
    found = set()
    for x, y, wide in re.findall(r"M(\d+) (\d+)h(\d+)v", path.get("d", "")):
        for each in range(int(wide) // CELL):
            found.add(((int(x) - LEFT) // CELL + each, len(ROWS) - 1 - int(y) // CELL))
    return found


def test_the_first_row_is_at_the_bottom_and_rows_stand_as_they_are_written() -> None:
    """Charts for knitting in the round are read from the bottom right (common practice)."""
    drawing = ET.fromstring(chart_svg(ROWS, COLOURS, "Chart"))
    painted = {item.get("fill"): cells(item) for item in parts(drawing, "chart-cells")}
    for key, colour in COLOURS.items():
        wanted = {(at, row) for row, letters in enumerate(ROWS) for at, letter in enumerate(letters) if letter == key}
        assert painted.get(colour, set()) == wanted
    right = {item.text: float(item.get("y", "")) for item in parts(drawing, "chart-row")}
    assert right["1"] > right["2"] > right["3"]
    below = {item.text: float(item.get("x", "")) for item in parts(drawing, "chart-stitch")}
    assert below["1"] > below["2"] > below["4"]


def test_every_yarn_can_be_told_apart_without_colour() -> None:
    assert len(set(SYMBOLS.values())) == len(COLOURS) == 4
    drawing = ET.fromstring(chart_svg(ROWS, COLOURS, "Chart"))
    assert len(parts(drawing, "chart-symbols")) == 2, "B and C have symbols, A stays blank"
    for key, symbol in SYMBOLS.items():
        assert symbol.line in yarn_square(key, COLOURS[key])


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


# The ratios are those that WCAG 2.2 and its technique G18 give: 21 for black on white, 4.54 for #767676 on white.
@pytest.mark.parametrize(("one", "other", "ratio"), [("#000000", "#ffffff", 21), ("#767676", "#ffffff", 4.54)])
def test_contrast_is_that_of_the_accessibility_guidelines(one: str, other: str, ratio: float) -> None:
    assert contrast(one, other) == pytest.approx(ratio, abs=0.005)


@pytest.mark.parametrize(
    "colour", ["#000000", "#ffffff", "#767676", "#ff0000", "#00ff00", "#0000ff", *COLOURS.values()]
)
def test_symbols_show_on_every_colour(colour: str) -> None:
    """WCAG 2.2, success criterion 1.4.11, wants 3 to 1 for what is not text; black or white always gives 4.5."""
    assert contrast(ink_on(colour), colour) >= 4.5


def test_a_title_from_people_is_no_markup() -> None:
    drawing = ET.fromstring(chart_svg(ROWS, COLOURS, 'A "<b>" chart'))
    assert drawing.get("aria-label") == 'A "<b>" chart'
