"""Rounds by hand are stepped stitch by stitch, lace repeat by repeat; two socks at a time are counted by turns."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page, Playwright, expect

from tests.planning.asking import planned

from ..chromium import PhoneOnDisk
from ..given import change_data, steps, two_at_a_time
from ..knitting import Knitting, rounds_of
from ..server import Server

pytestmark = pytest.mark.usefixtures("without_worker")

COUNTS = [
    "Step 1 of 3",
    "Step 2 of 3, stitch 1 of 3",
    "Step 2 of 3, stitch 2 of 3",
    "Step 2 of 3, stitch 3 of 3",
    "Step 3 of 3",
]


def test_the_last_round_is_grafted_stitch_by_stitch_and_a_finished_sock_hands_on_to_the_other(
    knitting: Knitting,
) -> None:
    told = rounds_of(knitting.data(), 1)[-1]
    assert told["parts"][1]["times"] == told["before"] // 2 - 1
    knitting.go_to_round(knitting.total())
    words = knitting.page.locator("#step-words")
    for part in told["parts"]:
        for _ in range(part["times"]):
            expect(words).to_have_text(part["text"])
            tap(knitting)
    expect(knitting.page.locator("#words")).to_have_text("Sock 1 is finished.")
    tap(knitting)
    knitting.is_at(0)
    knitting.finish(2)
    expect(knitting.page.locator("#words")).to_have_text("The pair is finished.")
    expect(knitting.done).to_be_hidden()
    knitting.page.get_by_role("button", name="Undo").tap()
    knitting.is_at(knitting.total() - 1)
    expect(knitting.done).to_be_visible()


def is_at_step(knitting: Knitting, number: int) -> None:
    """Wait until that step of the third round is shown, and the round is not counted."""
    expect(knitting.page.locator("#step-count")).to_have_text(COUNTS[number])
    knitting.is_at(2)


@pytest.fixture
def stepping(page: Page, link: str) -> Knitting:
    """In front of a round that is worked by hand."""
    change_data(page, steps)
    knitting = Knitting(page, link).open()
    knitting.count(2)
    is_at_step(knitting, 0)
    return knitting


def tap(knitting: Knitting) -> None:
    knitting.let_time_pass()
    knitting.done.tap()


def test_a_round_by_hand_is_stepped_there_and_back(stepping: Knitting, server: Server) -> None:
    a_round_by_hand_is_stepped_and_then_counted(stepping, server)
    undo_steps_back_into_and_through_the_round(stepping)
    stepping.count()
    is_at_step(stepping, 0)
    the_step_survives_a_reload_and_a_jump_begins_the_round_again(stepping)


def a_round_by_hand_is_stepped_and_then_counted(stepping: Knitting, server: Server) -> None:
    live = stepping.page.locator("#live")
    # The words are said once, and then the number.
    for number, said in enumerate((f"{COUNTS[1]}. Front needle purlwise, back needle knitwise.", "Stitch 2 of 3"), 1):
        stepping.press("PageDown")
        is_at_step(stepping, number)
        expect(live).to_have_text(said)
    for number in (3, 4):
        tap(stepping)
        is_at_step(stepping, number)
    expect(live).to_have_text(f"{COUNTS[4]}. Draw the yarn in.")
    expect(stepping.done).to_have_text("Done: the round")
    tap(stepping)
    stepping.is_at(3)
    expect(stepping.page.locator("#step")).to_be_hidden()
    stepping.everything_is_sent()
    assert server.counted(stepping.link) == [1, 2, 3]


def undo_steps_back_into_and_through_the_round(stepping: Knitting) -> None:
    undo = stepping.page.get_by_role("button", name="Undo")
    for number in (4, 3, 2, 1, 0):
        undo.tap()
        is_at_step(stepping, number)
    undo.tap()
    stepping.is_at(1)


def the_step_survives_a_reload_and_a_jump_begins_the_round_again(stepping: Knitting) -> None:
    for number in (1, 2):
        tap(stepping)
        is_at_step(stepping, number)
    stepping.page.reload()
    is_at_step(stepping, 2)
    tap(stepping)
    is_at_step(stepping, 3)
    stepping.go_to_round(30)
    stepping.go_to_round(3)
    is_at_step(stepping, 0)


def test_the_step_survives_a_killed_browser(playwright: Playwright, tmp_path: Path, server: Server, link: str) -> None:
    on_disk = PhoneOnDisk(playwright, tmp_path / "phone", server.address)
    for number in (2, 4):
        page = on_disk.start().new_page()
        change_data(page, steps)
        knitting = Knitting(page, link).open()
        if number == 2:
            knitting.count(2)
        is_at_step(knitting, number - 2)
        for _ in range(2):
            tap(knitting)
        is_at_step(knitting, number)
        on_disk.kill()


def test_a_lace_round_is_gone_through_repeat_by_repeat_where_the_knitter_wants_it(page: Page, server: Server) -> None:
    """On a leg of 66 stitches in repeats of 11, by hand; the round of rest after the lace is counted as a whole."""
    foot = {"ball_circumference_cm": 25, "length_cm": 26}
    rows = ["k1, yo, k2, ssk, k2tog, k2, yo, k1, p1", "k10, p1"]
    plan = planned(foot=foot, leg={"stitch_pattern": {"rows": rows}})
    knitting = Knitting(page, server.add_plan(plan)).open()
    knitting.is_complete()
    lace = plan.span("leg").start + 1
    at, steps = page.locator("#step-count"), page.locator("#step")
    knitting.go_to_round(lace + 1)
    expect(steps).to_be_hidden()
    wanted = page.get_by_label("Rounds of lace and cables repeat by repeat")
    knitting.open_menu()
    wanted.check()
    page.keyboard.press("Escape")
    expect(at).to_have_text("Repeat 1 of 6")
    for number in range(2, 7):
        tap(knitting)
        expect(at).to_have_text(f"Repeat {number} of 6")
        knitting.is_at(lace)
    expect(page.locator("#live")).to_have_text("Repeat 6 of 6")
    page.get_by_role("button", name="Undo").tap()
    expect(at).to_have_text("Repeat 5 of 6")
    page.reload()
    expect(at).to_have_text("Repeat 5 of 6")
    for _ in range(2):
        tap(knitting)
    knitting.is_at(lace + 1)
    expect(steps).to_be_hidden()
    tap(knitting)
    knitting.is_at(lace + 2)
    expect(at).to_have_text("Repeat 1 of 6")
    knitting.is_complete()
    knitting.open_menu()
    wanted.uncheck()
    page.keyboard.press("Escape")
    expect(steps).to_be_hidden()
    knitting.count()


@pytest.fixture
def both(page: Page, link: str) -> Knitting:
    change_data(page, two_at_a_time)
    return Knitting(page, link).open()


def has_in_hand(knitting: Knitting, sock: int, place: int) -> None:
    """Wait until that sock is taken up at that place."""
    expect(knitting.page.locator(f"[data-sock='{sock}']")).to_have_attribute("aria-pressed", "true")
    knitting.is_at(place)


def test_two_at_a_time_take_turns_as_long_as_both_are_on_the_needles(both: Knitting, server: Server) -> None:
    they_are_counted_and_undone_by_turns(both, server)
    a_sock_that_is_behind_catches_up_first(both)
    a_finished_sock_leaves_the_turns_to_the_other(both)


def they_are_counted_and_undone_by_turns(both: Knitting, server: Server) -> None:
    turns = [(1, 0), (2, 0), (1, 1), (2, 1), (1, 2)]
    for sock, place in turns:
        has_in_hand(both, sock, place)
        tap(both)
    has_in_hand(both, 2, 2)
    both.page.reload()
    has_in_hand(both, 2, 2)
    undo = both.page.get_by_role("button", name="Undo")
    for sock, place in reversed(turns):
        undo.tap()
        has_in_hand(both, sock, place)
    both.everything_is_sent()
    assert [(entry.sock, entry.round) for entry in sorted(server.entries(both.link), key=lambda one: one.clock)] == [
        *((sock, place + 1) for sock, place in turns),
        *reversed(turns),
    ]


def a_sock_that_is_behind_catches_up_first(both: Knitting) -> None:
    both.go_to_round(4)
    both.take_up(2)
    for place in (1, 2):
        tap(both)
        has_in_hand(both, 2, place)
    both.page.get_by_role("button", name="Undo").tap()
    has_in_hand(both, 2, 1)
    for place in (2, 3):
        tap(both)
        expect(both.page.locator("#number")).to_have_text(f"Round {min(place, 3) + 1} of 19")
    has_in_hand(both, 1, 3)


def a_finished_sock_leaves_the_turns_to_the_other(both: Knitting) -> None:
    total = both.total()
    both.finish(1)
    has_in_hand(both, 2, 3)
    both.finish(2)
    has_in_hand(both, 2, total)
    expect(both.page.locator("#words")).to_contain_text("The pair is finished.")
