"""Counting and undoing by thumb, keyboard, presenter remote and foot pedal; getting about in a pair."""

from __future__ import annotations

import re
from collections.abc import Iterable

import pytest
from playwright.sync_api import Page, Route, expect

from ..knitting import Knitting, rounds_of, section_of
from ..server import Server

pytestmark = pytest.mark.usefixtures("without_worker")


def test_a_key_counts_or_undoes_once_wherever_the_focus_is(knitting: Knitting, server: Server) -> None:
    keys_of_a_remote_count_and_undo(knitting)
    media_keys_count_and_undo(knitting)
    a_key_on_the_focused_button_counts_once(knitting)
    a_key_held_down_counts_once(knitting)
    a_key_on_undo_undoes_as_often_as_it_is_pressed(knitting)
    knitting.everything_is_sent()
    assert server.counted(knitting.link) == [1, 2, 3, 4, 5, 6, 5, 4, 3, 2, 3, 4, 3, 4, 5, 6, 7, 6, 5, 4, 3]


def presses(knitting: Knitting, places: Iterable[int], *keys: str) -> None:
    """Press the keys, and wait after each until that place is painted."""
    for place, key in zip(places, keys, strict=True):
        knitting.press(key)
        knitting.is_at(place)


def keys_of_a_remote_count_and_undo(knitting: Knitting) -> None:
    presses(knitting, range(1, 7), "Space", "Enter", "ArrowRight", "ArrowDown", "PageDown", "Space")
    presses(knitting, (5, 4, 3, 2), "ArrowLeft", "ArrowUp", "PageUp", "Backspace")


def media_keys_count_and_undo(knitting: Knitting) -> None:
    """Their names are those of UI Events KeyboardEvent key Values (W3C)."""
    for key, place in [("MediaTrackNext", 3), ("MediaPlayPause", 4), ("MediaTrackPrevious", 3)]:
        knitting.let_time_pass()
        knitting.page.evaluate(
            "(key) => document.body.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true }))", key
        )
        knitting.is_at(place)


def a_key_on_the_focused_button_counts_once(knitting: Knitting) -> None:
    for place, key in enumerate(("Space", "Enter", "PageDown"), start=4):
        knitting.done.focus()
        presses(knitting, [place], key)


def a_key_held_down_counts_once(knitting: Knitting) -> None:
    knitting.let_time_pass()
    for _ in range(4):
        knitting.page.keyboard.down("PageDown")
    knitting.page.keyboard.up("PageDown")
    knitting.is_at(7)


def a_key_on_undo_undoes_as_often_as_it_is_pressed(knitting: Knitting) -> None:
    knitting.page.locator("#undo").focus()
    presses(knitting, (6, 5, 4, 3), "Space", "Space", "Enter", "Enter")


def test_a_finger_and_a_pedal_or_keyboard_take_turns(knitting: Knitting, server: Server) -> None:
    a_pedal_counts_after_a_finger_has_undone(knitting)
    a_pedal_counts_after_a_finger_has_closed_the_menu(knitting)
    a_tap_beside_the_open_menu_folds_it_in_and_counts_once(knitting)
    keys_typed_into_a_field_do_not_count(knitting)
    knitting.everything_is_sent()
    assert server.counted(knitting.link) == [1, 0, 1, 0, 1, 2, 3, 14]


def a_pedal_counts_after_a_finger_has_undone(knitting: Knitting) -> None:
    knitting.count()
    for key in ("Space", "Enter"):
        knitting.let_time_pass()
        knitting.page.locator("#undo").tap()
        knitting.is_at(0)
        presses(knitting, [1], key)


def a_pedal_counts_after_a_finger_has_closed_the_menu(knitting: Knitting) -> None:
    # What the first opening of the menu is like before it is loaded has a test of its own.
    expect(knitting.page.locator("#go-part option").first).to_be_attached()
    for _ in range(2):
        knitting.page.locator("#menu > summary").tap()
    expect(knitting.done).to_be_focused()
    presses(knitting, [2], "Space")
    expect(knitting.page.locator("#menu")).not_to_have_attribute("open", "")


def a_tap_beside_the_open_menu_folds_it_in_and_counts_once(knitting: Knitting) -> None:
    knitting.open_menu()
    knitting.count()
    expect(knitting.page.locator("#go-round")).to_be_hidden()


def keys_typed_into_a_field_do_not_count(knitting: Knitting) -> None:
    knitting.open_menu()
    knitting.page.locator("#go-round").focus()
    for key in ("1", "7", "ArrowLeft", "ArrowRight", "Backspace", "5"):
        knitting.page.keyboard.press(key)
    knitting.page.keyboard.press("Enter")
    knitting.is_at(14)


def test_a_pedal_counts_after_a_finger_has_closed_a_menu_that_was_not_loaded_yet(page: Page, link: str) -> None:
    held: list[Route] = []

    def hold(route: Route) -> None:
        held.append(route)

    page.route("**/deferred/menu.js", hold)
    with page.expect_request("**/deferred/menu.js"):
        knitting = Knitting(page, link).open()
    for _ in range(2):
        page.locator("#menu > summary").tap()
    expect(page.locator("#menu > summary")).to_be_focused()
    held[0].continue_()
    expect(knitting.done).to_be_focused()


def test_the_screen_shows_and_speaks_the_round_to_knit(knitting: Knitting) -> None:
    rounds = rounds_of(knitting.data(), 1)
    live = knitting.page.locator("#live")
    for place in range(4):
        if place:
            knitting.count()
        words = knitting.page.locator("#words")
        for zone, text in rounds[place]["lines"]:
            expect(words).to_contain_text(f"{zone} {text}".strip())
        expect(knitting.page.locator("#stitches")).to_have_text(re.compile(rf"{rounds[place]['after']} stitches$"))
        if place:
            told = re.sub(r"\[([^\]]+)\] x (\d+)", r"\2 times: \1", rounds[place]["lines"][0][1])
            expect(live).to_contain_text(told)
    # Of a section that begins it is its name, and the stitches where they change.
    knitting.go_to_section("Gusset")
    expect(live).to_contain_text(re.compile(r"^Gusset, round 1 of \d+\. .*\. Then \d+ stitches$"))
    knitting.go_to_section("Leg")
    knitting.count()
    expect(live).to_contain_text(re.compile(r"^Round 2 of \d+\. (?!.*stitches)"))


def test_the_list_of_sections_leads_to_the_start_of_each_and_undo_back(knitting: Knitting) -> None:
    data = knitting.data()
    firsts = {key: section_of(data, 1, key)["first"] for key in ("gusset", "toe", "cuff")}
    knitting.count(2)
    knitting.open_menu()
    parts = knitting.page.get_by_label("Part", exact=True).locator("option")
    expect(parts).to_have_text([section["title"] for section in data["scripts"][0]["sections"]])
    knitting.page.keyboard.press("Escape")
    for key, title in [("gusset", "Gusset"), ("toe", "Toe"), ("cuff", "Cuff")]:
        knitting.go_by_hand(title)
        knitting.is_at(firsts[key])
    knitting.count()
    # Undo takes back counts and jumps, and stops at the beginning.
    for place in (0, firsts["toe"], firsts["gusset"], 2, 1, 0, 0):
        knitting.page.get_by_role("button", name="Undo").tap()
        knitting.is_at(place)
    knitting.count()


def test_the_two_socks_are_counted_apart(knitting: Knitting) -> None:
    knitting.count(3)
    knitting.take_up(2)
    knitting.is_at(0)
    knitting.count(1)
    knitting.take_up(1)
    knitting.is_at(3)
    knitting.page.reload()
    knitting.is_at(3)
    knitting.take_up(2)
    knitting.is_at(1)
    knitting.page.reload()
    knitting.is_at(1)


def test_two_tabs_on_one_phone_show_the_same_place(knitting: Knitting) -> None:
    other = Knitting(knitting.page.context.new_page(), knitting.link).open()
    other.count(2)
    knitting.is_at(2)
    knitting.everything_is_sent()
    knitting.count()
    other.is_at(3)
    other.everything_is_sent()


def test_arrows_scroll_a_page_that_is_too_long_instead_of_counting(page: Page, link: str) -> None:
    page.set_viewport_size({"width": 320, "height": 500})
    knitting = Knitting(page, link).open()
    page.evaluate("document.documentElement.dataset.text = '200'")
    knitting.page.keyboard.press("ArrowDown")
    knitting.press("PageDown")
    knitting.is_at(1)


WATCHED = """
    window.locks = 0;
    window.seen = "visible";
    Object.defineProperty(navigator, "wakeLock", { value: { request: async () => { locks += 1; } } });
    Object.defineProperty(document, "visibilityState", { get: () => seen });
    window.media = {};
    MediaSession.prototype.setActionHandler = (action, handler) => (media[action] = handler);
"""
"""What a page asks of the device, and whether it is seen."""


@pytest.mark.usefixtures("own_phone")
def test_a_page_has_the_buttons_of_headphones_and_a_screen_that_stays_awake(page: Page, link: str) -> None:
    page.add_init_script(WATCHED)
    knitting = Knitting(page, link).open()
    knitting.is_complete()
    the_screen_is_kept_awake_and_again_when_the_page_comes_back(page)
    buttons_of_headphones_count_and_undo_where_the_browser_hands_them_on(knitting)


def the_screen_is_kept_awake_and_again_when_the_page_comes_back(page: Page) -> None:
    assert page.evaluate("locks") == 1
    for seen, locks in [("hidden", 1), ("visible", 2)]:
        page.evaluate("(now) => { seen = now; document.dispatchEvent(new Event('visibilitychange')); }", seen)
        assert page.evaluate("locks") == locks


def buttons_of_headphones_count_and_undo_where_the_browser_hands_them_on(knitting: Knitting) -> None:
    """Action names of the Media Session Standard (W3C)."""
    for action, place in [("nexttrack", 1), ("play", 2), ("pause", 3), ("previoustrack", 2)]:
        knitting.let_time_pass()
        knitting.page.evaluate("(action) => media[action]()", action)
        knitting.is_at(place)


def test_the_left_thumb_gets_the_page_the_other_way_round(page: Page, link: str) -> None:
    page.set_viewport_size({"width": 800, "height": 360})
    knitting = Knitting(page, link).open()
    knitting.is_complete()

    def left_edge() -> float:
        box = knitting.done.bounding_box()
        assert box
        return box["x"]

    assert left_edge() > 400
    knitting.open_menu()
    page.get_by_label("The thumb that counts").select_option("left")
    page.keyboard.press("Escape")
    assert left_edge() == 0
    page.reload()
    knitting.is_complete()
    assert left_edge() == 0
    knitting.count()


def test_without_colours_the_page_keeps_its_marks(page: Page, link: str) -> None:
    """Forced colours (CSS Color Adjustment, W3C): the button has an edge, and the taken-up sock stands out."""
    page.emulate_media(forced_colors="active")
    knitting = Knitting(page, link).open()
    expect(knitting.done).to_have_css("border-top-style", "solid")
    pressed, other = (
        knitting.page.locator(f"[data-sock='{sock}']").evaluate("(one) => getComputedStyle(one).backgroundColor")
        for sock in (1, 2)
    )
    assert pressed != other
    knitting.count()
