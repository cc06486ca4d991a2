"""The plan on paper: black on white, nothing to press, in the two paper sizes of the world."""

from __future__ import annotations

import io
import re

import pytest
from playwright.sync_api import Page
from pypdf import PdfReader

from companion.planning import make_plan, read_request

from ..server import Server
from ..tour.desk import plan_with_a_chart
from ..tour.fit import fit

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


def printed(page: Page, paper: str) -> list[str]:
    """The text of each sheet, which is checked to have the size of the paper."""
    sheets = PdfReader(io.BytesIO(page.pdf(format=paper))).pages
    for sheet in sheets:
        assert (float(sheet.mediabox.width), float(sheet.mediabox.height)) == pytest.approx(PAPER[paper], abs=1)
    return [" ".join(sheet.extract_text().split()) for sheet in sheets]


def test_a_plain_plan_is_one_sheet_of_black_on_white_with_all_that_it_says_and_nothing_to_press(
    page: Page, link: str
) -> None:
    page.goto(f"/pair/{link}")
    for paper in PAPER:
        assert len(printed(page, paper)) == 1, paper
    page.emulate_media(media="print")
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        is_black_on_white(page)

    controls = page.locator("button, input, select, nav, a.button")
    assert controls.count()
    assert controls.filter(visible=True).count() == 0
    for name in ("Counts and sizes", "How it will sit"):
        assert page.get_by_role("region", name=name).is_visible()
    folded = page.locator("details > :not(summary)")
    assert folded.filter(visible=True).count() == folded.count(), "folds are open"
    assert page.get_by_role("img", name="QR code with the link").is_visible()


def is_black_on_white(page: Page) -> None:
    """Whatever the screen is."""
    assert set(page.evaluate(GROUNDS)) <= {TRANSPARENT, "rgb(255, 255, 255)"}
    inks = set(page.evaluate(INK))
    assert "rgb(0, 0, 0)" in inks
    for ink in inks:
        levels = [int(level) for level in re.findall(r"\d+", ink)][:3]
        assert len(set(levels)) == 1, f"{ink} is a colour"
        assert levels[0] <= DARK_GREY, f"{ink} is too pale"


def test_a_try_on_is_one_sheet_with_the_numbers_that_would_change(page: Page, link: str) -> None:
    fit(page, link)
    for paper in PAPER:
        [said] = printed(page, paper)
        assert re.search(r"What changes before after Foot stitches 68 70\b", said), said


def test_a_plan_with_a_chart_is_two_sheets_and_the_chart_stands_on_one(page: Page) -> None:
    plan_with_a_chart(page)
    for paper in PAPER:
        sheets = printed(page, paper)
        assert ["The chart" in sheet for sheet in sheets] == [False, True]
        assert "One square is one stitch" in sheets[1]


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
