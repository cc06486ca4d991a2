"""Every round of a pair stays on one screen, down to the smallest phones: nothing lies under the button or below."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import Page, Playwright, expect

from ...conftest import fully
from ..chromium import engine, phone
from ..knitting import GO_TO, STYLED, Knitting, rounds_of, section_of
from ..server import Server
from ..tour.knit import counted_apart
from .test_remarks import write_note

pytestmark = pytest.mark.usefixtures("without_worker")

USUAL = [(360, 800), (412, 915)]
"""Width and height in CSS px of usual phones upright. Rounds in two colours have their chart in sight there, too."""

SCREENS = [(320, 568), (360, 640), (360, 740), *USUAL, (800, 360)]
"""Small phones too, and one on its side."""

SMALLEST_ON_ITS_SIDE = (568, 320)

OUT_OF_SIGHT = """() => {
    const hand = document.querySelector(".hand").getBoundingClientRect();
    const parts = ["number", "words", "chart", "stitches", "note"].map((id) => document.getElementById(id));
    return parts.filter((part) => part?.checkVisibility()).filter((part) => {
        const { right, bottom } = part.getBoundingClientRect();
        return bottom > (right > hand.left ? hand.top : innerHeight);
    }).map((part) => part.textContent);
}"""

UNDER_THE_THUMB = """() => ["how-far", "undo", "done"].map((id) => {
    const { top, left } = document.getElementById(id).getBoundingClientRect();
    return id === "done" ? [top, left] : [top];
}).flat()"""
"""Where what a thumb looks for without an eye begins."""

BOTH = f"() => [({OUT_OF_SIGHT})(), ({UNDER_THE_THUMB})()]"


def places_to_look_at(told: list[dict[str, Any]]) -> list[int]:
    """Of rounds with the same parts the one with the most to read; every kind of round if all is to be tried.

    Rounds that read alike look alike, and all digits are equally wide.
    """
    found: dict[Any, tuple[int, int]] = {}
    for place, one in enumerate(told):
        words, charted = (one["lines"], one["note"] or ""), bool(one["chart_row"])
        parts = ([zone for zone, _ in one["lines"]], bool(one["note"]), charted, bool(one["gist"]))
        kind = re.sub(r"\d", "0", str((words, charted))) if fully() else str(parts)
        found[kind] = max((len(str(words)), -place), found.get(kind, (0, 0)))
    return sorted(-place for _, place in found.values())


@pytest.mark.parametrize(
    ("sample", "screens"), [("ismene", SCREENS), ("ruddock", SCREENS), ("ilex", USUAL), ("sorrel", USUAL)]
)
def test_no_round_is_covered_by_the_button_which_stays_where_it_is(
    page: Page, server: Server, sample: str, screens: list[tuple[int, int]]
) -> None:
    knitting = Knitting(page, server.add_pair(sample)).open()
    knitting.is_complete()
    told = rounds_of(knitting.data(), 1)
    edges = {screen: set[tuple[float, ...]]() for screen in screens}
    for place in places_to_look_at(told):
        knitting.page.locator("#go").evaluate(GO_TO, place)
        knitting.is_at(place)
        if row := told[place]["chart_row"]:
            expect(knitting.page.locator("#chart")).to_be_visible()
            expect(knitting.page.locator("#chart .row")).to_have_text(str(row))
        for width, height in screens:
            knitting.page.set_viewport_size({"width": width, "height": height})
            hidden, edge = knitting.page.evaluate(BOTH)
            assert hidden == [], f"round {place + 1} on {width} x {height}"
            edges[width, height].add(tuple(edge))
    assert {screen: len(found) for screen, found in edges.items()} == dict.fromkeys(screens, 1)


def test_where_a_pair_was_counted_apart_both_places_are_in_sight_until_one_is_chosen(
    page: Page, server: Server
) -> None:
    counted_apart(page, server.add_pair())
    page.set_viewport_size({"width": 320, "height": 568})
    answers = page.get_by_role("alert").get_by_role("button")
    expect(answers).to_have_count(2)
    page.evaluate(STYLED)
    last, hand = answers.last.bounding_box(), page.locator(".hand").bounding_box()
    assert last
    assert hand
    assert last["y"] + last["height"] <= hand["y"]
    # A keyboard that answers gets its keys back (WCAG 2.2, success criterion 2.4.3).
    answers.first.press("Enter")
    expect(page.get_by_role("alert")).to_have_count(0)
    expect(page.locator("#done")).to_be_focused()


def test_a_round_is_in_sight_where_the_browser_has_text_twice_as_large(playwright: Playwright, server: Server) -> None:
    with engine(playwright, "--blink-settings=defaultFontSize=32") as browser:
        page = browser.new_page(base_url=server.address, **phone())
        knitting = Knitting(page, server.add_pair()).open()
        assert page.evaluate("getComputedStyle(document.documentElement).fontSize") == "32px"
        knitting.go_to_section("Gusset")
        knitting.count(2)
        expect(page.locator("#words")).to_contain_text("k2tog")
        for width, height in (*USUAL, (640, 360)):
            page.set_viewport_size({"width": width, "height": height})
            assert page.evaluate("[innerWidth, document.documentElement.scrollWidth]") == [width, width]
            # On its side the phone has room for the words alone, and the count after them is a short way down.
            below = [part for part in page.evaluate(OUT_OF_SIGHT) if height > width or not part.endswith(" stitches")]
            assert below == [], f"on {width} x {height}"


def test_a_plain_round_is_a_large_number_with_one_row_of_buttons_beside_the_count(knitting: Knitting) -> None:
    page = knitting.page
    knitting.is_complete()
    knitting.go_to_round(section_of(knitting.data(), 1, "leg")["first"] + 11)
    for width, height in (*SCREENS, SMALLEST_ON_ITS_SIDE):
        page.set_viewport_size({"width": width, "height": height})
        sizes = page.evaluate(
            "() => ['#number b', '#words', '#done b', '#stitches'].map((which) => "
            "parseFloat(getComputedStyle(document.querySelector(which)).fontSize))"
        )
        # Numerals of 107 px are 12 mm high on a phone. On its side one of less than 360 px has less room.
        assert sizes[0] >= (107 if (width, height) != SMALLEST_ON_ITS_SIDE else 64), (width, height)
        assert max(sizes[1:]) < sizes[0], (width, height)
        row = page.evaluate(BOXES, ["check", "note-it", "try-on", "measure", "undo"])
        assert len({top for top, _ in row}) == 1, (width, height)
        assert min(small for _, small in row) >= 44, (width, height)
        assert page.evaluate("scrollY") == 0
        cut = "(all) => all.filter((one) => one.scrollWidth > one.clientWidth).map((one) => one.id)"
        assert page.locator(".beside > *").evaluate_all(cut) == [], (width, height)
    the_name_of_the_pair_has_two_lines(page)


BOXES = """(names) => names.map((id) => document.getElementById(id).getBoundingClientRect())
    .map(({ top, width, height }) => [top, Math.min(width, height)])"""


def the_name_of_the_pair_has_two_lines(page: Page) -> None:
    page.set_viewport_size({"width": 320, "height": 640})
    title = page.get_by_role("heading", level=1)
    expect(title).to_have_text("Ismene, high instep")
    assert title.evaluate("(title) => title.scrollHeight <= title.clientHeight && title.clientHeight <= 44")


MARK = """() => {
    const { display, content } = getComputedStyle(document.querySelector(".hand"), "::after");
    return content !== "none" && display !== "none";
}"""


def test_a_note_that_runs_under_the_count_row_is_marked_until_its_end_is_in_sight(knitting: Knitting) -> None:
    page = knitting.page
    for width, height in ((320, 568), (800, 360)):
        page.set_viewport_size({"width": width, "height": height})
        expect(page.locator(".more")).to_have_count(0)
        write_note(knitting, "The left sock's tail is the long one. " * 8)
        expect(page.locator(".more")).to_have_count(1)
        assert page.evaluate(MARK), (width, height)
        page.evaluate("scrollTo(0, document.documentElement.scrollHeight)")
        expect(page.locator(".more")).to_have_count(0)
        assert not page.evaluate(MARK), (width, height)
        assert page.evaluate(OUT_OF_SIGHT) == [], (width, height)
        knitting.count()
        expect(page.locator(".more")).to_have_count(0)
