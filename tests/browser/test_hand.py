"""Counting and undoing by thumb, keyboard, presenter remote and foot pedal; getting about in a pair."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from .knitting import Knitting, rounds_of, section_of
from .server import Server


@pytest.mark.parametrize("key", ["Space", "Enter", "ArrowRight", "PageDown"])
def test_a_key_counts_once(knitting: Knitting, key: str) -> None:
    knitting.press(key)
    knitting.is_at(1)
    knitting.press(key)
    knitting.is_at(2)


@pytest.mark.parametrize("key", ["ArrowLeft", "PageUp", "Backspace"])
def test_a_key_undoes(knitting: Knitting, key: str) -> None:
    knitting.count(3)
    knitting.press(key)
    knitting.is_at(2)


@pytest.mark.parametrize("key", ["Space", "Enter", "PageDown"])
def test_a_key_on_the_focused_button_counts_once(knitting: Knitting, server: Server, key: str) -> None:
    knitting.done.focus()
    knitting.press(key)
    knitting.is_at(1)
    knitting.everything_is_sent()
    assert server.counted(knitting.link) == [1]


def test_a_key_held_down_counts_once(knitting: Knitting, server: Server) -> None:
    for _ in range(4):
        knitting.page.keyboard.down("PageDown")
    knitting.page.keyboard.up("PageDown")
    knitting.is_at(1)
    knitting.everything_is_sent()
    assert server.counted(knitting.link) == [1]


def test_keys_typed_into_a_field_do_not_count(knitting: Knitting, server: Server) -> None:
    knitting.count(2)
    knitting.open_menu()
    field = knitting.page.get_by_label("Go to round")
    field.focus()
    for key in ("1", "7", "ArrowLeft", "ArrowRight", "Backspace", "5"):
        knitting.page.keyboard.press(key)
    knitting.page.keyboard.press("Enter")
    knitting.is_at(14)
    knitting.everything_is_sent()
    assert server.counted(knitting.link) == [1, 2, 14]


def test_a_tap_beside_the_open_menu_folds_it_in_and_counts_once(knitting: Knitting, server: Server) -> None:
    knitting.open_menu()
    knitting.count()
    expect(knitting.page.get_by_label("Go to round")).to_be_hidden()
    knitting.everything_is_sent()
    assert server.counted(knitting.link) == [1]


def test_the_screen_shows_and_speaks_the_round_to_knit(knitting: Knitting) -> None:
    rounds = rounds_of(knitting.data(), 1)
    for place in range(4):
        if place:
            knitting.count()
        words = knitting.page.locator("#words")
        for zone, text in rounds[place]["lines"]:
            expect(words).to_contain_text(f"{zone} {text}".strip())
        expect(knitting.page.locator("#stitches")).to_have_text(re.compile(rf"{rounds[place]['after']} stitches$"))
        if place:
            expect(knitting.page.locator("#live")).to_contain_text(rounds[place]["lines"][0][1])


def test_undo_takes_back_counts_and_jumps_and_stops_at_the_beginning(knitting: Knitting) -> None:
    undo = knitting.page.get_by_role("button", name="Undo")
    knitting.count(2)
    knitting.go_to_round(101)
    knitting.count()
    for place in (100, 2, 1, 0, 0):
        undo.tap()
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


def test_the_list_of_sections_leads_to_the_start_of_each(knitting: Knitting) -> None:
    data = knitting.data()
    knitting.open_menu()
    listed = knitting.page.locator("#sections").get_by_role("button")
    expect(listed).to_have_count(len(data["scripts"][0]["sections"]))
    knitting.page.keyboard.press("Escape")
    for key, title in [("gusset", "Gusset"), ("toe", "Toe"), ("cuff", "Cuff")]:
        knitting.go_to_section(title)
        knitting.is_at(section_of(data, 1, key)["first"])
        expect(knitting.page.locator("#section")).to_have_text(title)


def test_a_finished_sock_hands_on_to_the_other(knitting: Knitting) -> None:
    knitting.finish(1)
    expect(knitting.page.locator("#words")).to_have_text("Sock 1 is finished.")
    knitting.let_time_pass()
    knitting.done.tap()
    knitting.is_at(0)
    knitting.finish(2)
    expect(knitting.page.locator("#words")).to_have_text("The pair is finished.")
    expect(knitting.done).to_be_hidden()
    knitting.page.get_by_role("button", name="Undo").tap()
    knitting.is_at(knitting.total() - 1)
    expect(knitting.done).to_be_visible()


def test_two_tabs_on_one_phone_show_the_same_place(knitting: Knitting) -> None:
    other = Knitting(knitting.page.context.new_page(), knitting.link).open()
    other.count(2)
    knitting.is_at(2)
    knitting.count()
    other.is_at(3)
