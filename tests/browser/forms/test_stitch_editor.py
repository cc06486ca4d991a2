"""Drawing the chart of a stitch pattern: by finger and by keys, in step with its words, until the plan shows it."""

from __future__ import annotations

import re
from typing import Any
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from playwright.sync_api import Page, expect

from companion.drawings.stitch_chart import stitch_chart_svg
from companion.drawings.stitch_palette import stitches_to_draw_with
from companion.forms.pattern_fields import OWN
from companion.planning.request.stitch_pattern import StitchPattern
from companion.planning.stitches.operations import OPERATIONS
from companion.planning.stitches.ready import READY
from companion.planning.stitches.repeat import drawn_rounds

from ..conftest import NewPhone
from ..modules import Modules
from ..server import Server
from .test_chart_editor import press, square, swipe

pytestmark = pytest.mark.usefixtures("without_worker")

ROWS = "[name=pattern_rows]"


def own_rows(page: Page, rows: str = "") -> None:
    """A form whose leg has rows of one's own."""
    page.goto("/plan")
    for name, typed in (("ball_circumference", "23"), ("foot_length", "25"), ("stitches", "30")):
        page.locator(f"[name={name}]").fill(typed)
    page.locator("summary", has=page.get_by_text("Pattern", exact=True)).click()
    page.get_by_text("A stitch pattern", exact=True).click()
    page.locator("[name=stitch_pattern]").select_option(OWN)
    page.locator(ROWS).fill(rows)


def draw(page: Page) -> None:
    page.get_by_text("Draw the rows as a chart").click()
    expect(page.get_by_role("grid")).to_be_visible()


def test_drawing_writes_the_words_and_the_plan_has_the_chart(page: Page) -> None:
    own_rows(page)
    expect(page.get_by_role("grid")).to_be_hidden()
    draw(page)
    remarks = page.locator(".remarks")
    expect(page.locator(ROWS)).to_have_value("Rounds 1-8: k8")
    expect(remarks).to_have_text("Every round gives back its 8 stitches.")
    for name, size in (("width", "6"), ("height", "2")):
        page.locator(f"[data-size={name}]").fill(size)
        page.locator(f"[data-size={name}]").press("Enter")
    swipe(page, [(6, 1), (6, 2)])
    expect(page.locator(ROWS)).to_have_value("Rounds 1-2: k5, p1")
    press(page, "k2tog")
    swipe(page, [(3, 1), (3, 1)])
    expect(page.locator(ROWS)).to_have_value("k2, k2tog, k2, p1\nk5, p1")
    expect(remarks.locator("li")).to_have_text(["Round 1 takes 7 stitches and gives 6."])
    expect(page.locator(".chart-alarm")).to_have_count(1)
    press(page, "yo")
    swipe(page, [(2, 1), (2, 1)])
    expect(remarks).to_have_text("Every round gives back its 6 stitches.")
    page.get_by_text("More stitches and cables").click()
    press(page, "2/1 RC")
    swipe(page, [(3, 2), (3, 2)])
    expect(page.locator(ROWS)).to_have_value("k1, yo, k2tog, k2, p1\nk2, 2/1 RC, p1")
    press(page, "Undo")
    press(page, "Undo")
    expect(page.locator(ROWS)).to_have_value("k2, k2tog, k2, p1\nk5, p1")
    swipe(page, [(2, 1), (2, 1)])
    expect(page.locator(ROWS)).to_have_value("k1, 2/1 RC, k1, p1\nk5, p1")
    page.get_by_role("button", name="Make the plan").click()
    page.get_by_text(re.compile(r"^The stitch pattern")).first.click()
    chart = page.get_by_role("img", name=re.compile("^The chart of the stitch pattern, 6 by 2"))
    expect(chart.locator(".chart-cable")).to_have_count(3)


def test_words_and_squares_follow_each_other(page: Page) -> None:
    own_rows(page, "k4, 2/2 LC\nk8")
    draw(page)
    keys_work_stitches_and_squares_say_what_they_are(page)
    what_is_typed_is_drawn_and_words_that_are_drawn_over_come_back(page)
    a_mirror_exchanges_left_and_right_and_what_leans(page)


def keys_work_stitches_and_squares_say_what_they_are(page: Page) -> None:
    expect(square(page, (6, 1))).to_have_accessible_name("Round 1, stitch 6: 2/2 LC, 2 of 4")
    square(page, (1, 1)).focus()
    for key in ("p", "ArrowLeft", "o", "ArrowLeft", "/", "ArrowUp", "Space"):
        page.keyboard.press(key)
    expect(page.locator(ROWS)).to_have_value("p1, yo, k2tog, k1, 2/2 LC\nk2, p1, k5")
    expect(page.locator(".chart-said")).to_have_text("Round 2, stitch 3: p")
    for key in ("ArrowDown", "ArrowLeft", "ArrowLeft", "ArrowLeft", "k"):
        page.keyboard.press(key)
    expect(page.locator(ROWS)).to_have_value("p1, yo, k2tog, k5\nk2, p1, k5")
    page.keyboard.press("Control+z")
    expect(page.locator(ROWS)).to_have_value("p1, yo, k2tog, k1, 2/2 LC\nk2, p1, k5")


def what_is_typed_is_drawn_and_words_that_are_drawn_over_come_back(page: Page) -> None:
    page.locator(ROWS).fill("k2, p2")
    expect(page.get_by_role("gridcell")).to_have_count(4)
    page.locator(ROWS).fill("Round 1: k1, yo, sk2p, yo, p1\nRound 2: k4, p1")
    expect(page.get_by_role("gridcell")).to_have_count(10)
    expect(square(page, (3, 1))).to_have_accessible_name("Round 1, stitch 3: sk2p")
    page.locator(ROWS).fill("k1, yo, q1")
    expect(page.locator(".remarks li")).to_have_text([re.compile("^Line 1, at “q1” a stitch is expected")])
    expect(page.get_by_role("gridcell")).to_have_count(10)
    swipe(page, [(1, 2), (1, 2)])
    expect(page.locator(ROWS)).to_have_value("k1, yo, sk2p, yo, p1\np1, k3, p1")
    press(page, "Undo")
    expect(page.locator(ROWS)).to_have_value("k1, yo, q1")
    press(page, "Undo")
    expect(page.get_by_role("gridcell")).to_have_count(4)


def a_mirror_exchanges_left_and_right_and_what_leans(page: Page) -> None:
    page.locator(ROWS).fill("k1, k2tog, yo, p1, 2/1 RPC, m1l, p2tog\nk9")
    expect(square(page, (9, 1))).to_have_accessible_name("Round 1, stitch 9: p2tog")
    page.get_by_role("button", name="Mirror").click()
    expect(page.locator(ROWS)).to_have_value("ssp, m1r, 2/1 LPC, p1, yo, ssk, k1\nk9")
    expect(square(page, (9, 1))).to_have_accessible_name("Round 1, stitch 9: k")
    expect(page.locator(".chart-said")).to_have_text("Mirrored: what leaned to one side leans to the other.")
    page.get_by_role("button", name="Mirror").click()
    expect(page.locator(ROWS)).to_have_value("k1, k2tog, yo, p1, 2/1 RPC, m1l, p2tog\nk9")


def test_a_ready_pattern_is_the_beginning_of_a_drawing(page: Page) -> None:
    own_rows(page)
    chosen, change = page.locator("[name=stitch_pattern]"), page.get_by_role("button", name="Change or draw its rows")
    expect(change).to_be_hidden()
    chosen.select_option("lace rib")
    change.click()
    expect(chosen).to_have_value(OWN)
    expect(page.locator(ROWS)).to_be_focused()
    expect(page.locator(ROWS)).to_have_value("Round 1: k1, yo, s2kpo, yo, k1, p1\nRounds 2-4: k5, p1")
    expect(change).to_be_hidden()
    draw(page)
    expect(square(page, (3, 1))).to_have_accessible_name("Round 1, stitch 3: s2kpo")
    chosen.select_option("seed stitch")
    change.click()
    expect(page.get_by_role("gridcell")).to_have_count(4)
    swipe(page, [(1, 1), (1, 1)])
    expect(page.locator(ROWS)).to_have_value("p2\np1, k1")
    chosen.select_option("lace rib")
    expect(change).to_be_hidden()  # it would overwrite what was drawn


def test_without_scripts_the_rows_are_all_there_is(new_phone: NewPhone, server: Server) -> None:
    page = new_phone(server, java_script_enabled=False)
    own_rows(page, "k2, p2")
    expect(page.get_by_text("Draw the rows as a chart")).to_be_hidden()
    page.get_by_role("button", name="Make the plan").click()
    expect(page.locator("h1")).not_to_have_text("Plan a pair")


DRAW = """async ([paper, rows, stitches]) => {
  const { drawStitches } = await import(paper);
  const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  drawStitches(svg, rows, stitches);
  return svg.outerHTML;
}"""

STITCHES = {stitch["name"]: stitch for stitch in stitches_to_draw_with()}


def described(item: ET.Element) -> tuple[Any, ...]:
    return item.tag.split("}")[-1], sorted(item.attrib.items()), item.text


@pytest.mark.parametrize("rows", [*(ready.rows for ready in READY.values()), ("2/1 LPC, k1tbl, kfb, p2tog, yo, ssp",)])
def test_the_browser_draws_what_the_server_draws(modules: Modules, rows: tuple[str, ...]) -> None:
    pattern = StitchPattern(rows=rows)
    squares = [modules.call("forms/chart/stitch-edit", "squaresOf", names, STITCHES) for names in pattern.rounds]
    given_ = [modules.address("forms/chart/stitch-paper"), squares, STITCHES]
    browser = ET.fromstring(modules.page.evaluate(DRAW, given_))
    server = ET.fromstring(stitch_chart_svg(pattern.rounds, "Chart"))
    assert browser.get("viewBox") == server.get("viewBox")
    assert [described(item) for item in browser] == [described(item) for item in server]


@st.composite
def charts(draw_: st.DrawFn) -> list[list[str]]:
    """Rows of one width, balanced or not, some of them alike."""
    wide = draw_(st.integers(1, 12))

    def row() -> list[str]:
        names: list[str] = []
        left = wide
        while left:
            name = draw_(st.sampled_from([name for name in STITCHES if OPERATIONS[name].makes <= left]))
            names += [name] * (1 if OPERATIONS[name].makes * 2 > left else draw_(st.integers(1, 2)))
            left = wide - sum(OPERATIONS[each].makes for each in names)
        return names

    kinds = [row() for _ in range(draw_(st.integers(1, 4)))]
    return draw_(st.lists(st.sampled_from(kinds), min_size=1, max_size=8))


WRITE = """async ([edit, rows, stitches]) => {
  const { inWords, squaresOf } = await import(edit);
  return inWords(rows.map((names) => squaresOf(names, stitches)), stitches);
}"""


@settings(max_examples=40)
@given(rows=charts())
def test_the_words_that_are_written_read_back_to_what_is_drawn(modules: Modules, rows: list[list[str]]) -> None:
    told = {name: STITCHES[name] for names in rows for name in names}
    words = modules.page.evaluate(WRITE, [modules.address("forms/chart/stitch-edit"), rows, told])
    assert [list(names) for names in drawn_rounds(words.splitlines())] == rows
