"""The states of the knit page by keyboard, and as speech and the accessibility tree have them.

What is asked for is from WCAG 2.2 (W3C): 1.3.5 purpose of fields, 1.4.3 and 1.4.11 contrast, 1.4.4 and 1.4.10 larger
text, 2.4.3 and 2.4.11 focus, 2.4.6 names, 4.1.2 states and 4.1.3 messages.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any, Literal

import pytest
from playwright.sync_api import Locator, Page, expect

from ..given import change_data
from ..knitting import RETRY, Knitting
from ..modules import Modules

without_worker = pytest.mark.usefixtures("without_worker")

SCHEMES: tuple[Literal["light", "dark"], ...] = ("dark", "light")

COVERED = """() => {
    const { left, top, width, height } = document.activeElement.getBoundingClientRect();
    const there = document.elementFromPoint(left + width / 2, top + Math.min(height, 24) / 2);
    return !(there && (document.activeElement.contains(there) || there.contains(document.activeElement)));
}"""
"""Whether something lies over what has the focus."""


def has_focus(page: Page, name: str) -> None:
    expect(page.locator(f"#{name}")).to_be_focused()


def press_on(page: Page, what: Locator, key: str = "Enter") -> None:
    """Press a key on something as a keyboard reaches it, without a pointer."""
    what.focus()
    page.keyboard.press(key)


@pytest.fixture
def complete(knitting: Knitting) -> Knitting:
    knitting.is_complete()
    return knitting


@without_worker
def test_what_is_closed_gives_the_keys_back_and_what_was_kept_is_said(complete: Knitting) -> None:
    a_closed_sheet_gives_the_keys_back_and_what_was_kept_is_said(complete)
    looking_ahead_is_said_zone_by_zone_and_back_to_my_round_gives_the_keys_back(complete)
    a_panel_takes_the_focus_on_its_heading_and_a_count_gives_it_back(complete)
    the_menu_closes_when_the_focus_leaves_it(complete.page)


def a_closed_sheet_gives_the_keys_back_and_what_was_kept_is_said(complete: Knitting) -> None:
    page = complete.page
    for name in ("note-it", "try-on", "measure"):
        press_on(page, page.locator(f"#{name}"))
        expect(page.get_by_role("dialog")).to_be_visible()
        page.keyboard.press("Escape")
        expect(page.get_by_role("dialog")).to_have_count(0)
        has_focus(page, "done")
    press_on(page, page.locator("#note-it"))
    page.get_by_label("Note", exact=True).fill("One stitch dropped.")
    press_on(page, page.get_by_role("button", name="Keep it"))
    has_focus(page, "done")
    expect(page.locator("#told")).to_contain_text("Note kept.")
    complete.press(" ")
    complete.is_at(1)


def looking_ahead_is_said_zone_by_zone_and_back_to_my_round_gives_the_keys_back(complete: Knitting) -> None:
    page = complete.page
    complete.go_to_section("Gusset")
    press_on(page, page.get_by_role("slider"), "ArrowRight")
    said = re.compile(r"^Looking ahead\. Gusset, round 2 of \d+\. Sole: .+\. Instep: k34")
    expect(page.locator("#live")).to_have_text(said)
    page.keyboard.press("Tab")
    expect(page.get_by_role("button", name="Back to my round")).to_be_focused()
    page.keyboard.press("Enter")
    has_focus(page, "done")


def a_panel_takes_the_focus_on_its_heading_and_a_count_gives_it_back(complete: Knitting) -> None:
    page, place = complete.page, complete.place()
    how_far = page.locator("#how-far")
    expect(how_far).to_have_attribute("aria-expanded", "false")
    press_on(page, how_far)
    expect(page.get_by_role("heading", name="How far")).to_be_focused()
    expect(how_far).to_have_attribute("aria-expanded", "true")
    complete.press("PageDown")
    complete.is_at(place + 1)
    has_focus(page, "done")
    expect(how_far).to_have_attribute("aria-expanded", "false")
    press_on(page, page.locator("#menu > summary"))
    press_on(page, page.get_by_role("button", name="Where was I?"))
    expect(page.get_by_role("heading", name="Where was I?")).to_be_focused()
    page.keyboard.press("Escape")
    has_focus(page, "done")


def the_menu_closes_when_the_focus_leaves_it(page: Page) -> None:
    press_on(page, page.locator("#menu > summary"))
    expect(page.locator("#go-part")).to_be_visible()
    page.get_by_label("A quiet click with each count").focus()
    for _ in range(2):
        page.keyboard.press("Tab")
    expect(page.locator("#menu")).not_to_have_attribute("open", "")
    expect(page.get_by_role("slider")).to_be_focused()


def test_without_network_it_is_said_once_and_whatever_is_kept_is_said_to_wait(complete: Knitting) -> None:
    complete.works_without_network()
    no_network_is_said_once_and_once_that_all_is_sent(complete)
    whatever_is_kept_is_said_to_wait(complete)


def no_network_is_said_once_and_once_that_all_is_sent(complete: Knitting) -> None:
    page, told = complete.page, complete.page.locator("#told p")
    complete.everything_is_sent()
    expect(told).to_have_count(0)
    page.context.set_offline(True)
    complete.count()
    expect(told).to_have_text(["Kept on this device, 1 not yet sent. No network now."])
    complete.count(2)
    expect(page.locator("#kept")).to_contain_text("3 not yet sent. No network now.")
    expect(told).to_have_count(1)
    page.context.set_offline(False)
    expect(told).to_have_count(2, timeout=RETRY)
    expect(told.last).to_have_text("Kept and sent.")


def whatever_is_kept_is_said_to_wait(complete: Knitting) -> None:
    page, told = complete.page, complete.page.locator("#told p")
    page.context.set_offline(True)
    waits = "Kept here; sent when there is a network."
    typed = {
        "Note": ("note", "Larch"),
        "Length": ("length", "0.5"),
        "Weigh the yarn": ("left", "80"),
        "Try on": ("", ""),
    }
    for button, (field, value) in typed.items():
        if button == "Weigh the yarn":
            page.get_by_text("Menu", exact=True).tap()
        page.get_by_role("button", name=button, exact=True).tap()
        sheet = page.get_by_role("dialog")
        if button == "Try on":
            sheet.get_by_label("leg").check()
            sheet.get_by_label("right").check()
        elif button == "Note":
            sheet.get_by_label("Note", exact=True).fill(value)
        else:
            sheet.locator(f"[name={field}]").fill(value)
        sheet.get_by_role("button", name="Keep it").tap()
        expect(told.filter(has_text=waits).last).to_contain_text(button.split()[0][:4])
        if button != "Note":
            expect(sheet.get_by_role("status")).to_contain_text(waits)
            sheet.get_by_role("button", name="Close").tap()


@without_worker
@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("[k1 in B, k1 in A] x 25, k2", "25 times: k1 in B, k1 in A; then k2"),
        ("[k1tbl, p1] x 34", "34 times: k1tbl, p1"),
        ("[[k1, p1] x 2, k4] x 3, k1", "3 times: 2 times: k1, p1; then k4; then k1"),
        # The names of the Craft Yarn Council's standard (from memory): 2/2 RC is "2 over 2 right cross".
        ("[2/2 RC x 2, k2tog x 2] x 3", "3 times: 2 over 2 right cross 2 times, k2tog 2 times"),
        ("2/1 LPC, k9", "2 over 1 left purl cross, k9"),
    ],
)
def test_brackets_and_signs_are_spoken(modules: Modules, words: str, said: str) -> None:
    instruction: dict[str, Any] = {"gist": None, "lines": [["Sole", words], ["Instep", "k34"]], "note": None}
    assert modules.call("knit/round-words", "spoken", instruction) == f"Sole: {said}. Instep: k34"


def test_a_round_of_a_stripe_is_spoken_with_its_yarn(modules: Modules) -> None:
    instruction = {"gist": None, "lines": [["", "k5, p1"]], "note": None, "yarn": "B"}
    assert modules.call("knit/round-words", "spoken", {**instruction, "chart_row": 2}) == "In yarn B. k5, p1"
    assert modules.call("knit/round-words", "spoken", {**instruction, "chart_row": None}) == "k5, p1"


@without_worker
def test_the_round_is_readable_in_either_scheme_in_larger_text_and_magnified(complete: Knitting) -> None:
    the_reading_line_stands_out_from_the_tape(complete.page)
    the_bar_undo_and_the_names_of_sections_grow_with_the_text(complete.page)
    magnified_four_times_the_round_is_readable_and_nothing_focused_is_covered(complete)


def magnified_four_times_the_round_is_readable_and_nothing_focused_is_covered(complete: Knitting) -> None:
    """320 x 256 CSS px are 1280 x 1024 at 400 %, as success criterion 1.4.10 has it."""
    page = complete.page
    page.set_viewport_size({"width": 320, "height": 256})
    for section in ("Cuff", "Leg", "Gusset"):
        complete.go_to_section(section)
        complete.count(2)
        words, done = page.locator("#words").bounding_box(), complete.done.bounding_box()
        assert words
        assert done
        assert words["y"] >= 0
        assert words["y"] + min(words["height"], 70) <= done["y"]
        expect(complete.done).to_be_in_viewport(ratio=1)
    page.locator("[data-sock='1']").focus()
    reached = {""}
    while "done" not in reached:
        page.keyboard.press("Tab")
        name = page.evaluate("document.activeElement.id || document.activeElement.textContent")
        assert name not in reached
        reached.add(name)
        assert not page.evaluate(COVERED), name
    assert {"reading", "how-far", "note-it", "undo", "done"} <= reached


def the_bar_undo_and_the_names_of_sections_grow_with_the_text(page: Page) -> None:
    def sizes() -> list[float]:
        size = "(one) => parseFloat(getComputedStyle(one).fontSize)"
        return [page.locator(which).evaluate(size) for which in ("#title", "#menu > summary", "#undo", "#section")]

    usual = sizes()
    page.evaluate("document.documentElement.dataset.text = '200'; document.documentElement.dataset.large = ''")
    assert all(large >= 1.25 * small for small, large in zip(usual, sizes(), strict=True))
    page.set_viewport_size({"width": 320, "height": 640})
    assert page.evaluate("[innerWidth, document.documentElement.scrollWidth]") == [320, 320]
    page.evaluate("delete document.documentElement.dataset.large; document.documentElement.dataset.text = '100'")


@without_worker
def test_a_long_title_is_whole_on_the_narrowest_phone(page: Page, link: str) -> None:
    title = "The pair for Ortrun with the cables from the top of the leg"
    change_data(page, lambda data: data.update(title=title))
    page.set_viewport_size({"width": 320, "height": 568})
    Knitting(page, link).open()
    heading = page.get_by_role("heading", level=1)
    expect(heading).to_have_text(title)
    assert heading.evaluate("(one) => [one.scrollHeight > one.clientHeight, getComputedStyle(one).display]") == [
        False,
        "block",
    ]


def the_reading_line_stands_out_from_the_tape(page: Page) -> None:
    """3:1, by the formula of relative luminance in WCAG 2.2; the knitted part has a veil of 12 % black."""
    for scheme in SCHEMES:
        page.emulate_media(color_scheme=scheme)
        colours = page.locator("#reading").evaluate(
            "(tape) => ['--reading', '--tape'].map((name) => getComputedStyle(tape).getPropertyValue(name).trim())"
        )
        reading, tape = ([int(colour[at : at + 2], 16) for at in (1, 3, 5)] for colour in colours)
        for ground in (tape, [0.88 * part for part in tape]):
            assert (luminance(ground) + 0.05) / (luminance(reading) + 0.05) >= 3, scheme


def luminance(colour: Sequence[float]) -> float:
    parts = [part / 255 for part in colour]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
