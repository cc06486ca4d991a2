"""Patterns and size grids on paper: all of the text is there, and nothing is cut off or torn apart."""

from __future__ import annotations

import io
import unicodedata
from collections.abc import Callable

import pytest
from playwright.sync_api import Page
from pypdf import PdfReader

from companion.drawings.chart import CELL
from tests.planning.asking import planned

from ..leading import make_design
from ..server import Server
from .test_printing import PAPER

pytestmark = pytest.mark.usefixtures("without_worker")

MARGIN = 15
"""mm; the style sheet's."""

PIXEL = 25.4 / 96
"""mm in a CSS px (CSS Values and Units, 6.2)."""


RIGHTMOST = """() => Math.max(...[...document.querySelectorAll("main *")].filter((one) => one.checkVisibility())
    .map((one) => one.getBoundingClientRect().right))"""
"""Where the part that goes farthest to the right ends."""

MARGINS = "(parts) => parts.map((part) => parseFloat(getComputedStyle(part).marginTop))"
"""The room above each part, px."""


def plain(text: str) -> str:
    """Text without ligatures and line breaks."""
    return " ".join(unicodedata.normalize("NFKC", text).split())


def sheets(page: Page, paper: str) -> list[str]:
    """The text of each sheet, which is checked to have the size of the paper."""
    reader = PdfReader(io.BytesIO(page.pdf(format=paper)))
    for sheet in reader.pages:
        assert (float(sheet.mediabox.width), float(sheet.mediabox.height)) == pytest.approx(PAPER[paper], abs=1)
    return [plain(sheet.extract_text()) for sheet in reader.pages]


def open_pattern(page: Page, link: str) -> None:
    page.goto(f"/pair/{link}/pattern")


def open_graded(page: Page, _link: str) -> None:
    make_design(page, rib="k7 p5")
    page.goto(f"{page.url}/pattern?circumferences=19,20,21,22,23,24,25,26")


def nothing_is_cut_off_and_there_is_nothing_to_press(page: Page) -> None:
    """On paper."""
    page.emulate_media(media="print")
    for width, _ in PAPER.values():
        wide = int((width / 72 * 25.4 - 2 * MARGIN) / PIXEL)
        page.set_viewport_size({"width": wide, "height": 1000})
        assert page.evaluate(RIGHTMOST) <= wide + 1
    for margin in page.locator(".parts > .part + .part").evaluate_all(MARGINS):
        assert margin == pytest.approx(5 / PIXEL, abs=0.1)
    controls = page.locator("main :is(button, input, a), nav")
    assert controls.count()
    assert controls.filter(visible=True).count() == 0


@pytest.mark.parametrize("open_it", [open_pattern, open_graded])
def test_every_word_of_a_pattern_is_on_the_sheets_and_nothing_to_press(
    page: Page, link: str, open_it: Callable[[Page, str], None]
) -> None:
    open_it(page, link)
    lines = page.locator(".lines dd, .lines dt, .figures dd, .pattern-section > p, .care p").all_inner_texts()
    assert len(lines) > 60
    for paper in PAPER:
        printed = sheets(page, paper)
        assert len(printed) <= 6
        # Where a line goes on on the next sheet, the sheets follow each other.
        whole = " ".join(printed)
        for line in lines:
            assert plain(line) in whole
    nothing_is_cut_off_and_there_is_nothing_to_press(page)


@pytest.mark.parametrize(("direction", "first"), [("cuff-down", "Cuff"), ("toe-up", "Toe")])
def test_four_sizes_of_a_plain_sock_take_four_sheets(page: Page, direction: str, first: str) -> None:
    make_design(page, direction=direction)
    page.goto(f"{page.url}/pattern?circumferences=20,22,24,26")
    assert page.locator(".pattern-section h2, .pattern-section h3").first.inner_text().startswith(first)
    assert len(sheets(page, "A4")) <= 4


def test_a_grid_is_copied_as_it_stands_and_printed_with_each_measure_on_one_sheet_under_its_gauges(page: Page) -> None:
    make_design(page)
    page.goto(f"{page.url}/sizes?gauges=26,28,30x42,31,32.5x45.5,34,36,38")
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    page.get_by_role("button", name="Copy as CSV").tap()
    page.get_by_text("Copied.").wait_for()
    copied = page.evaluate("navigator.clipboard.readText()")
    shown = page.locator(".size-table tr").filter(has=page.locator("td")).first.locator("td").all_inner_texts()
    lines = copied.replace("\r\n", "\n").strip().split("\n")
    assert len(lines) == 1 + page.locator(".size-table th[scope=row]").count()
    assert lines[1].split(",")[-len(shown) :] == shown

    gauges = plain(" ".join(page.locator("thead th").all_inner_texts()))
    groups = [plain(" ".join(group.split())) for group in page.locator(".size-table tbody").all_inner_texts()]
    assert len(groups) > 8
    for paper in PAPER:
        printed = sheets(page, paper)
        for group in groups:
            assert sum(group in sheet for sheet in printed) == 1
        for sheet in printed:
            if any(group in sheet for group in groups):
                assert gauges in sheet
    nothing_is_cut_off_and_there_is_nothing_to_press(page)


def test_a_tall_stitch_chart_stays_on_one_sheet_and_a_cable_in_its_key_has_its_squares(
    page: Page, server: Server
) -> None:
    rows = ["3/3 RC, k6", "k12"] * 30
    plan = planned(leg={"stitch_pattern": {"rows": rows, "placement": {"on": "front"}}})
    page.goto(f"/pair/{server.add_plan(plan)}/pattern")
    page.emulate_media(media="print")
    chart, cable = (page.locator(each).first.bounding_box() for each in (".chart-figure .chart", ".stitch-square"))
    assert chart
    assert cable
    least = min(height for _, height in PAPER.values()) / 72 * 25.4
    assert chart["height"] * PIXEL < least - 2 * MARGIN
    assert chart["height"] * PIXEL / 60 > 3.5  # mm a round, which can still be followed (ours)
    assert cable["width"] / cable["height"] == 6


def test_on_a_phone_a_wide_stitch_chart_is_moved_sideways_and_can_be_read(page: Page, server: Server) -> None:
    wide = ", ".join(["k2tog, yo, k3, yo, ssk, p1"] * 3)
    plan = planned(leg={"stitch_pattern": {"rows": [wide], "placement": {"on": "front"}}})
    for address in ("", "/pattern"):
        page.goto(f"/pair/{server.add_plan(plan)}{address}")
        page.locator("details:has(.chart)").evaluate_all("(folded) => folded.forEach((each) => { each.open = true; })")
        chart = page.locator("figure .chart[role=img]").first
        square = chart.evaluate("(chart) => chart.getBoundingClientRect().width / chart.viewBox.baseVal.width")
        assert square * CELL >= 15  # px, as a finger's width covers three (ours)
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
