"""Every round of a pair stays on one screen, down to the smallest phones: nothing lies under the button or below."""

from __future__ import annotations

import pytest
from playwright.sync_api import Playwright, expect

from .chromium import ARGUMENTS, executable, phone
from .conftest import NewPhone
from .knitting import Knitting, rounds_of
from .server import Server
from .tour_knit import KNIT

pytestmark = pytest.mark.usefixtures("without_worker")

USUAL = [(360, 800), (412, 915)]
"""Width and height in CSS px of usual phones upright. Rounds in two colours have their chart in sight there, too."""

SCREENS = [(320, 568), (360, 640), (360, 740), *USUAL, (800, 360)]
"""Small phones too, and one on its side."""

OUT_OF_SIGHT = """() => {
    const hand = document.querySelector(".hand").getBoundingClientRect();
    const parts = ["number", "words", "chart", "note"].map((id) => document.getElementById(id));
    return parts.filter((part) => part?.checkVisibility()).filter((part) => {
        const { right, bottom } = part.getBoundingClientRect();
        return bottom > (right > hand.left ? hand.top : innerHeight);
    }).map((part) => part.textContent);
}"""


@pytest.mark.parametrize(
    ("sample", "screens"), [("ismene", SCREENS), ("ruddock", SCREENS), ("ilex", USUAL), ("sorrel", USUAL)]
)
def test_no_round_is_covered_by_the_button(
    new_phone: NewPhone, server: Server, sample: str, screens: list[tuple[int, int]]
) -> None:
    knitting = Knitting(new_phone(server).new_page(), server.add_pair(sample)).open()
    knitting.is_complete()
    told = rounds_of(knitting.data(), 1)
    # Rounds that read alike look alike.
    first_of_its_kind = {
        str((one["lines"], one["note"], bool(one["chart_row"]))): place
        for place, one in reversed(list(enumerate(told)))
    }
    for place in sorted(first_of_its_kind.values()):
        knitting.page.locator("#go-round").evaluate(
            "(field, number) => { field.value = number; field.form.requestSubmit(); }", place + 1
        )
        knitting.is_at(place)
        if row := told[place]["chart_row"]:
            expect(knitting.page.locator("#chart")).to_be_visible()
            expect(knitting.page.locator("#chart .row")).to_have_text(str(row))
        for width, height in screens:
            knitting.page.set_viewport_size({"width": width, "height": height})
            assert knitting.page.evaluate(OUT_OF_SIGHT) == [], f"round {place + 1} on {width} x {height}"


def test_both_places_are_in_sight_where_a_pair_was_counted_apart(new_phone: NewPhone, server: Server) -> None:
    page = new_phone(server).new_page()
    KNIT["knit counted apart"](page, server.add_pair())
    page.set_viewport_size({"width": 320, "height": 568})
    answers = page.get_by_role("alert").get_by_role("button")
    expect(answers).to_have_count(2)
    last, hand = answers.last.bounding_box(), page.locator(".hand").bounding_box()
    assert last
    assert hand
    assert last["y"] + last["height"] <= hand["y"]


def test_the_name_of_the_pair_has_two_lines(knitting: Knitting) -> None:
    knitting.page.set_viewport_size({"width": 320, "height": 640})
    title = knitting.page.get_by_role("heading", level=1)
    expect(title).to_have_text("Ismene, high instep")
    assert title.evaluate("(title) => title.scrollHeight <= title.clientHeight && title.clientHeight <= 44")


def test_a_round_is_in_sight_where_the_browser_has_text_twice_as_large(playwright: Playwright, server: Server) -> None:
    twice = "--blink-settings=defaultFontSize=32"
    with playwright.chromium.launch(executable_path=executable(), args=[*ARGUMENTS, twice]) as browser:
        page = browser.new_page(base_url=server.address, **phone())
        knitting = Knitting(page, server.add_pair()).open()
        assert page.evaluate("getComputedStyle(document.documentElement).fontSize") == "32px"
        knitting.go_to_section("Gusset")
        knitting.count(2)
        expect(page.locator("#words")).to_contain_text("k2tog")
        for width, height in (*USUAL, (640, 360)):
            page.set_viewport_size({"width": width, "height": height})
            assert page.evaluate("[innerWidth, document.documentElement.scrollWidth]") == [width, width]
            assert page.evaluate(OUT_OF_SIGHT) == [], f"on {width} x {height}"
