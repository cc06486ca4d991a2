"""What a thumb does that was not meant, and what a count feels like."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from ..knitting import LATER, Knitting
from ..server import Server
from .test_one_screen import SCREENS

pytestmark = pytest.mark.usefixtures("without_worker")

THUMB = 44
"""CSS px: the size of a target that a thumb hits (WCAG 2.2, success criterion 2.5.5)."""

TAP = """(at) => {
    const button = document.getElementById("done");
    const { left, top } = button.getBoundingClientRect();
    const place = { clientX: left + 40, clientY: top + 40, isPrimary: true, button: 0, bubbles: true };
    const tap = new PointerEvent("pointerup", place);
    if (at) Object.defineProperty(tap, "timeStamp", { value: at });
    button.dispatchEvent(tap);
    return tap.timeStamp;
}"""
"""A tap at a time of the page's clock, else now; when it was."""


def tap_twice(knitting: Knitting, apart: float) -> None:
    """Tap twice, that many milliseconds apart by what the page is told; what the first did is told in between."""
    knitting.page.evaluate(LATER, 1000)
    next_round = knitting.place() + 2
    first = knitting.page.evaluate(TAP)
    expect(knitting.page.locator("#live")).to_contain_text(f"Round {next_round} of")
    knitting.page.evaluate(TAP, first + apart)


@pytest.fixture
def complete(knitting: Knitting) -> Knitting:
    knitting.is_complete()
    knitting.count()
    knitting.let_time_pass()
    return knitting


EDGES = """() => ["undo", "done"].map((id) => document.getElementById(id).getBoundingClientRect())
    .map(({ top, bottom, left, right }) => ({ top, bottom, middle: (left + right) / 2, width: right - left }))"""


def test_undo_is_a_thumb_away_from_the_count_on_every_screen(page: Page, link: str) -> None:
    damaged_settings_are_the_usual_ones(page, link)
    for side in ("right", "left"):
        page.evaluate("(side) => (document.documentElement.dataset.side = side)", side)
        for width, height in SCREENS:
            page.set_viewport_size({"width": width, "height": height})
            undo, done = page.evaluate(EDGES)
            assert done["top"] - undo["bottom"] >= THUMB, (side, width, height)
            assert min(undo["width"], undo["bottom"] - undo["top"]) >= THUMB, (side, width, height)
            assert (undo["middle"] > done["middle"]) == (side == "right"), (side, width, height)


def damaged_settings_are_the_usual_ones(page: Page, link: str) -> None:
    page.evaluate("localStorage.setItem('tapeline-hand', '{ damaged')")
    knitting = Knitting(page, link).open()
    expect(page.locator("html")).to_have_attribute("data-text", "100")
    knitting.is_complete()
    knitting.count()


def test_taps_nearer_than_a_hand_knits_count_once_and_the_second_can_be_put_back(
    complete: Knitting, server: Server
) -> None:
    two_taps_further_apart_are_two_rounds(complete)
    two_taps_in_a_fifth_of_a_second_count_once_and_the_second_can_be_put_back(complete)
    putting_the_second_back_is_offered_for_three_rounds(complete)
    a_pedal_that_bounces_counts_once(complete)
    how_soon_a_second_tap_counts_is_a_setting(complete)
    complete.everything_is_sent()
    assert server.counted(complete.link) == [*range(1, 15)]


def two_taps_further_apart_are_two_rounds(complete: Knitting) -> None:
    tap_twice(complete, 210)
    complete.is_at(3)
    expect(complete.page.locator("#double-tap")).to_be_hidden()


def two_taps_in_a_fifth_of_a_second_count_once_and_the_second_can_be_put_back(complete: Knitting) -> None:
    tap_twice(complete, 20)
    expect(complete.page.locator("#live")).to_have_text("Two quick taps were counted once.")
    complete.is_at(4)
    complete.page.get_by_role("button", name="Put the second back").tap()
    complete.is_at(5)
    expect(complete.page.locator("#double-tap")).to_be_hidden()


def putting_the_second_back_is_offered_for_three_rounds(complete: Knitting) -> None:
    tap_twice(complete, 20)
    twice = complete.page.locator("#double-tap")
    expect(twice).to_be_visible()
    complete.is_at(6)
    complete.count(3)
    expect(twice).to_be_visible()
    complete.count()
    expect(twice).to_be_hidden()


def a_pedal_that_bounces_counts_once(complete: Knitting) -> None:
    complete.let_time_pass()
    complete.page.evaluate(
        "['PageDown', 'PageDown'].forEach((key) => document.body.dispatchEvent("
        "new KeyboardEvent('keydown', { key, bubbles: true })))"
    )
    expect(complete.page.locator("#double-tap")).to_be_visible()
    complete.is_at(11)
    complete.page.get_by_role("button", name="Put the second back").tap()
    complete.is_at(12)
    expect(complete.page.locator("#double-tap")).to_be_hidden()


def how_soon_a_second_tap_counts_is_a_setting(complete: Knitting) -> None:
    page = complete.page
    complete.open_menu()
    page.get_by_label("A second tap counts after").select_option("1000")
    page.keyboard.press("Escape")
    page.evaluate(LATER, 1000)
    first = page.evaluate(TAP)
    complete.is_at(13)
    page.evaluate(TAP, first + 900)
    expect(page.locator("#double-tap")).to_be_visible()
    page.evaluate(TAP, first + 1100)
    complete.is_at(14)


WATCHED = """() => {
    window.felt = [];
    navigator.vibrate = (long) => Boolean(felt.push(["felt", long]));
    const { start } = OscillatorNode.prototype;
    OscillatorNode.prototype.start = function (when) {
        felt.push(["heard"]);
        start.call(this, when);
    };
}"""


def test_a_count_is_felt_and_only_heard_where_that_is_wanted(page: Page, link: str) -> None:
    knitting = Knitting(page, link).open()
    knitting.is_complete()
    page.evaluate(WATCHED)
    knitting.count()
    expect(page.locator("#live")).to_contain_text("Round 2")
    assert page.evaluate("felt") == [["felt", 15]]
    knitting.open_menu()
    page.get_by_label("A quiet click with each count").check()
    page.keyboard.press("Escape")
    page.evaluate("felt.length = 0")
    knitting.count()
    expect(page.locator("#live")).to_contain_text("Round 3")
    assert page.evaluate("felt") == [["felt", 15], ["heard"]]
    page.reload()
    knitting.is_complete()
    page.evaluate(WATCHED)
    knitting.count()
    expect(page.locator("#live")).to_contain_text("Round 4")
    assert page.evaluate("felt") == [["felt", 15], ["heard"]]


def test_a_finger_that_rests_on_the_button_is_shown_until_it_is_lifted(complete: Knitting) -> None:
    page, box = complete.page, complete.done.bounding_box()
    assert box
    hand = page.locator(".hand")
    touch = page.context.new_cdp_session(page)
    point = {"x": box["x"] + 40, "y": box["y"] + 40}
    touch.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [point]})
    expect(hand).to_have_class("hand pressed")
    complete.is_at(1)
    touch.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    touch.detach()
    complete.is_at(2)
    expect(hand).to_have_class("hand")
    # What a browser allows only after a touch, as to vibrate, is allowed all the same.
    assert page.evaluate("navigator.userActivation.hasBeenActive")
    a_pedal_counts_after_a_finger_has_been_elsewhere(complete)


def a_pedal_counts_after_a_finger_has_been_elsewhere(complete: Knitting) -> None:
    for other in ("#how-far", "#reading"):
        place = complete.place()
        complete.page.locator(other).focus()
        complete.count()
        assert complete.page.evaluate("document.activeElement.id") == "done", other
        complete.press(" ")
        complete.is_at(place + 2)


@pytest.mark.usefixtures("own_phone")
def test_no_frame_is_drawn_for_a_finger_but_two_find_the_way_out_of_a_page_zoomed_in(complete: Knitting) -> None:
    left_to_the_browser = """() => document.getElementById("done").dispatchEvent(
        new Event("touchstart", { bubbles: true, cancelable: true }))"""
    assert not complete.page.evaluate(left_to_the_browser)
    complete.page.context.new_cdp_session(complete.page).send("Emulation.setPageScaleFactor", {"pageScaleFactor": 2})
    complete.page.evaluate("() => new Promise(requestAnimationFrame)")
    assert complete.page.evaluate("visualViewport.scale") == 2
    assert complete.page.evaluate(left_to_the_browser)
