"""The chart that a browser draws by itself is the one that the server draws."""

from __future__ import annotations

from typing import Any
from xml.etree import ElementTree as ET

import pytest

from companion.drawings.chart import COLOURS, chart_svg

from ..modules import Modules

DRAW = """async ([module, rows, keys, marks]) => {
  const { drawChart } = await import(module);
  const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  drawChart(svg, { width: rows[0].length, rows }, keys.map((key) => ({ key, name: key, colour: null })), marks);
  return svg.outerHTML;
}"""


def drawn(modules: Modules, rows: list[str], marks: dict[str, Any]) -> ET.Element:
    return ET.fromstring(
        modules.page.evaluate(DRAW, [modules.address("forms/chart/chart-grid"), rows, list(COLOURS), marks])
    )


def described(item: ET.Element) -> tuple[Any, ...]:
    """Everything about a piece of a drawing."""
    return item.tag.split("}")[-1], sorted(item.attrib.items()), item.text


def parts(drawing: ET.Element, kind: str) -> list[ET.Element]:
    return [item for item in drawing.iter() if kind in item.get("class", "").split()]


@pytest.mark.parametrize(
    "rows", [["AAAB", "ABAB", "CCDA"], ["A", "A", "B", "C"], ["ABABABABABAB"] * 11], ids=["small", "stripes", "wide"]
)
def test_both_draw_alike(modules: Modules, rows: list[str]) -> None:
    server = ET.fromstring(chart_svg(rows, COLOURS, "Chart"))
    browser = drawn(modules, rows, {})
    assert browser.get("viewBox") == server.get("viewBox")
    assert [described(item) for item in browser] == [described(item) for item in server]


def test_the_current_row_is_framed_and_only_its_neighbours_are_shown(modules: Modules) -> None:
    whole = drawn(modules, ["AB", "BA", "BB", "AA"], {"row": 3})
    [casing, frame] = parts(whole, "chart-now")
    assert frame.get("y") == casing.get("y") == "20", "the third of four rows from the bottom"
    [number] = [item.text for item in parts(whole, "now") if item.tag.endswith("text")]
    assert number == "3"
    near = drawn(modules, ["AB", "BA", "BB", "AA"], {"row": 3, "around": 1})
    assert [item.text for item in parts(near, "chart-row")] == ["2", "3", "4"]
    assert parts(near, "chart-now")[-1].get("y") == "20"


def test_a_float_across_the_join_is_marked_at_both_ends_of_its_row(modules: Modules) -> None:
    float_ = {"row": 1, "yarn": "B", "from": 5, "over": 7}
    marked = drawn(modules, ["AAAABAAA", "BBBBBBBB"], {"floats": [float_]})
    assert [item.text for item in parts(marked, "chart-alarm")] == ["!"]
    ways = [item.get("d", "") for item in parts(marked, "chart-float")]
    assert all(way.count("M") == 2 for way in ways)
