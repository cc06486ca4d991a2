"""The tape looks ahead and back without counting, and always stops where a round is."""

from __future__ import annotations

import re
from typing import Literal

import pytest
from playwright.sync_api import Page, expect

from ..knitting import Knitting, rounds_of
from ..modules import Modules
from ..server import Server

pytestmark = pytest.mark.usefixtures("without_worker")

STEP = 16
"""Px a round."""


@pytest.fixture
def complete(knitting: Knitting) -> Knitting:
    """The knit page with all its parts, some rounds on."""
    knitting.is_complete()
    knitting.go_to_round(41)
    return knitting


def slid(page: Page) -> float:
    """How far the tape is slid or on its way, in rounds."""
    style: str = page.locator("#tape").evaluate("(tape) => tape.style.transform")
    found = re.fullmatch(r"translateX\((-?[\d.]+)px\)", style)
    assert found
    return -float(found[1]) / STEP


def looks_at(knitting: Knitting, place: int) -> None:
    """Wait until the page shows that round, greyed and named, and the place is still the knitter's."""
    ahead = knitting.page.locator("#ahead")
    expect(ahead).to_contain_text(re.compile("Looking (ahead|back)"))
    expect(knitting.page.get_by_role("slider")).to_have_attribute("aria-valuenow", str(place + 1))
    expect(knitting.page.locator("#main")).to_have_class(re.compile(r"\blooking\b"))
    told = rounds_of(knitting.data(), 1)[place]
    expect(knitting.page.locator("#words p").first).to_have_text(told["gist"] or " ".join(told["lines"][0]).strip())
    assert slid(knitting.page) == place


def is_back(knitting: Knitting, place: int) -> None:
    expect(knitting.page.locator("#main")).not_to_have_class(re.compile(r"\blooking\b"))
    expect(knitting.page.get_by_role("button", name="Back to my round")).to_have_count(0)
    knitting.is_at(place)
    tape = knitting.page.get_by_role("slider", name="Tape: look ahead or back without counting", exact=True)
    expect(tape).to_have_attribute("aria-valuenow", str(place + 1))
    assert slid(knitting.page) == place


def test_the_tape_looks_without_counting(complete: Knitting, server: Server) -> None:
    it_slides_smoothly_unless_that_is_not_wanted(complete.page)
    dragging_the_tape_looks_without_counting(complete)
    a_tap_on_the_tape_looks_at_the_round_under_it(complete)
    the_focused_tape_is_moved_by_arrow_keys_and_escape_leads_back(complete)
    the_next_count_leads_back(complete)
    the_menu_tells_what_the_marks_on_the_tape_mean(complete)
    complete.everything_is_sent()
    assert server.counted(complete.link) == [40, 41, 42]


def dragging_the_tape_looks_without_counting(complete: Knitting) -> None:
    last = complete.total() - 1
    for far, place in ((-120, 48), (-3 * STEP - 2, 43), (150, 31), (5000, 0), (-9000, last)):
        complete.drag_tape(far)
        looks_at(complete, place)
        complete.is_at(40)
        complete.page.get_by_role("button", name="Back to my round").tap()
        is_back(complete, 40)


def the_next_count_leads_back(complete: Knitting) -> None:
    complete.drag_tape(-200)
    looks_at(complete, 54)
    complete.count()
    is_back(complete, 42)


def a_tap_on_the_tape_looks_at_the_round_under_it(complete: Knitting) -> None:
    box = complete.page.locator("#reading").bounding_box()
    assert box
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    complete.page.touchscreen.tap(x + 4.5 * STEP, y)
    looks_at(complete, 44)
    complete.page.touchscreen.tap(x - 3.5 * STEP, y)
    is_back(complete, 40)


def the_focused_tape_is_moved_by_arrow_keys_and_escape_leads_back(complete: Knitting) -> None:
    tape = complete.page.get_by_role("slider")
    tape.focus()
    for key in ("ArrowRight", "ArrowRight", "ArrowRight", "ArrowLeft"):
        complete.page.keyboard.press(key)
    looks_at(complete, 42)
    expect(tape).to_have_attribute("aria-valuetext", re.compile(r"^Leg, round \d+ of \d+$"))
    expect(complete.page.locator("#live")).to_have_text(re.compile(r"^Looking ahead\. Leg, round 24 of \d+\. knit$"))
    complete.page.keyboard.press("End")
    looks_at(complete, complete.total() - 1)
    complete.page.keyboard.press("Escape")
    is_back(complete, 40)
    complete.press("PageDown")
    is_back(complete, 41)


def it_slides_smoothly_unless_that_is_not_wanted(page: Page) -> None:
    motions: tuple[tuple[Literal["reduce", "no-preference"], float], ...] = (("reduce", 0), ("no-preference", 0.16))
    for motion, seconds in motions:
        page.emulate_media(reduced_motion=motion)
        expect(page.locator("#tape")).to_have_css("transition-duration", f"{seconds}s")


def the_menu_tells_what_the_marks_on_the_tape_mean(complete: Knitting) -> None:
    """Each by the shape that is on the tape, at its size, and in words; only those that this sock has."""
    complete.open_menu()
    legend = complete.page.locator("#legend")
    expect(legend.get_by_text("a round with decreases")).to_be_visible()
    expect(legend.get_by_text("a new part of the sock begins")).to_be_visible()
    expect(legend.get_by_text("a round with increases")).to_have_count(0)
    drawn = complete.page.locator("#tape .shaping").get_attribute("d") or ""
    shapes = legend.locator(".shaping").evaluate_all("(marks) => marks.map((mark) => mark.getAttribute('d'))")

    def outline(shape: str) -> str:
        return shape[shape.index(" ") :]

    assert len(shapes) >= 2
    assert all(outline(shape) in drawn for shape in shapes)


def test_a_section_that_was_measured_has_a_length_of_its_own(modules: Modules) -> None:
    """By hand: two rounds at 50 over 10 cm are 0.4 cm, and two at 40 another half."""
    leg, foot = {"first": 0, "count": 2, "rounds_per_10cm": 50}, {"first": 2, "count": 2}
    script = {"sections": [leg, foot], "heights": [1, 1, 1, 1], "rounds_per_10cm": 40}
    assert modules.call("pair/instructions", "lengths", script) == pytest.approx([0, 0.2, 0.4, 0.65, 0.9])


def test_the_tape_has_a_value_while_its_styles_are_still_on_their_way(page: Page, link: str) -> None:
    """A slider always has one (WAI-ARIA 1.2, role slider)."""
    page.route("**/css/knit/deferred.css", lambda _: None)
    Knitting(page, link).open()
    slider = page.get_by_role("slider")
    expect(slider).to_have_count(1)
    assert slider.get_attribute("aria-valuenow") == "1"
