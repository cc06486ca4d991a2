"""The plan on paper: black on white, nothing to press, in the two paper sizes of the world."""

from __future__ import annotations

import io
import re

import pytest
from playwright.sync_api import Page
from pypdf import PdfReader

from companion.planning import make_plan, read_request

from ..server import Server
from ..tour import TOUR

pytestmark = pytest.mark.usefixtures("without_worker")

# Points of 1/72 in: A4 is 210 x 297 mm (ISO 216), Letter is 8 1/2 x 11 in (ANSI/ASME Y14.1).
PAPER = {"A4": (210 / 25.4 * 72, 297 / 25.4 * 72), "Letter": (8.5 * 72, 11 * 72)}

INK = """() => {
    const shown = (node) => node.checkVisibility({ visibilityProperty: true, opacityProperty: true });
    const written = (element) => [...element.childNodes].some((node) => node.nodeType === 3 && node.data.trim());
    const elements = [...document.body.querySelectorAll("*")].filter((one) => shown(one) && written(one));
    return elements.map((one) => {
        const { color, fill } = getComputedStyle(one);
        return one instanceof SVGElement ? fill : color;
    });
}"""

GROUNDS = """() => {
    const grounds = [...document.querySelectorAll("html, body, main, section")].map((one) => getComputedStyle(one));
    return [...new Set(grounds.map(({ backgroundColor }) => backgroundColor))];
}"""

TRANSPARENT = "rgba(0, 0, 0, 0)"
DARK_GREY = 0x55
"""At 7.5:1 on white and more, a grey this dark or darker prints as text (WCAG 2.2, 1.4.6 wants 7:1)."""


@pytest.fixture(params=["light", "dark"])
def printed(request: pytest.FixtureRequest, page: Page, link: str) -> Page:
    """The plan page as it is laid out for paper, from a bright and from a dark screen."""
    page.emulate_media(color_scheme=request.param)
    page.goto(f"/pair/{link}")
    page.emulate_media(media="print")
    return page


def test_text_is_black_on_white(printed: Page) -> None:
    assert set(printed.evaluate(GROUNDS)) <= {TRANSPARENT, "rgb(255, 255, 255)"}
    inks = set(printed.evaluate(INK))
    assert "rgb(0, 0, 0)" in inks
    for ink in inks:
        levels = [int(level) for level in re.findall(r"\d+", ink)][:3]
        assert len(set(levels)) == 1, f"{ink} is a colour"
        assert levels[0] <= DARK_GREY, f"{ink} is too pale"


def test_there_is_nothing_to_press(printed: Page) -> None:
    controls = printed.locator("button, input, select, nav, a.button")
    assert controls.count()
    assert not any(control.is_visible() for control in controls.all())


@pytest.mark.parametrize("paper", PAPER)
def test_a_try_on_is_one_sheet_with_the_numbers_that_would_change(page: Page, link: str, paper: str) -> None:
    TOUR["fit"](page, link)
    [sheet] = PdfReader(io.BytesIO(page.pdf(format=paper))).pages
    said = " ".join(sheet.extract_text().split())
    assert re.search(r"What changes before after Foot stitches 68 70\b", said), said


def test_all_that_the_plan_says_is_there(printed: Page) -> None:
    for name in ("Counts and sizes", "How it will sit"):
        assert printed.get_by_role("region", name=name).is_visible()
    assert all(fold.is_visible() for fold in printed.locator("details > :not(summary)").all()), "folds are open"
    assert printed.get_by_role("img", name="QR code with the link").is_visible()


@pytest.mark.parametrize("paper", PAPER)
def test_a_plain_plan_is_one_sheet(page: Page, link: str, paper: str) -> None:
    page.goto(f"/pair/{link}")
    printed = page.pdf(format=paper)
    assert printed.startswith(b"%PDF-")
    boxes = re.findall(rb"/MediaBox ?\[0 0 ([\d.]+) ([\d.]+)\]", printed)
    assert len(boxes) == 1
    assert tuple(map(float, boxes[0])) == pytest.approx(PAPER[paper], abs=1)


@pytest.mark.parametrize("paper", PAPER)
def test_a_plan_with_a_chart_is_two_sheets_and_the_chart_stands_on_one(page: Page, link: str, paper: str) -> None:
    TOUR["plan with a chart"](page, link)
    sheets = [sheet.extract_text() for sheet in PdfReader(io.BytesIO(page.pdf(format=paper))).pages]
    assert ["The chart" in sheet for sheet in sheets] == [False, True]
    assert "One square is one stitch" in " ".join(sheets[1].split())


def test_a_wide_chart_has_the_width_of_the_paper(page: Page, server: Server) -> None:
    chart = {"width": 60, "rows": ["AAAAB" * 12, "AABAA" * 12]}
    foot, gauge = {"ball_circumference_cm": 21, "length_cm": 24}, {"stitches_per_10cm": 30}
    asked = {"foot": foot, "gauge": gauge, "leg": {"chart": chart}, "yarns": [{"key": "A"}, {"key": "B"}]}
    request, faults = read_request(asked)
    assert request, faults
    page.set_viewport_size({"width": 700, "height": 1000})
    page.goto(f"/pair/{server.add_plan(make_plan(request))}")
    page.emulate_media(media="print")
    drawn, part = (page.locator(each).bounding_box() for each in (".chart-drawn .chart", ".chart-part"))
    assert drawn
    assert part
    assert drawn["width"] >= 0.9 * part["width"]
