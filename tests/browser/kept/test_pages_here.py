"""What is weighed, left out and looked up without network: on pages that the phone makes by itself."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from companion.on_phone.runtime import installed

from ...on_phone import NOT_HERE, RUNTIME
from ..checking import count
from ..knitting import RETRY, Knitting, until
from ..server import Server
from .calculating import CALCULATED, KEEP_CHECK
from .test_check_here import ALL_TAKEN, PLACE, accepted, change_elsewhere, in_the_leg

LEG = "45"

pytestmark = pytest.mark.skipif(not installed(RUNTIME), reason=NOT_HERE)


def alone_in_the_leg(page: Page, server: Server) -> Knitting:
    """A pair that is counted into the leg, without network from now on."""
    knitting = in_the_leg(page, server)
    page.context.set_offline(True)
    return knitting


def is_made(page: Page) -> None:
    """The phone has made the page."""
    expect(page.locator("#made-here")).to_contain_text("Calculated on this phone", timeout=CALCULATED)


def weigh(page: Page, grams: str) -> None:
    """Write a weighing down, from wherever it is offered."""
    page.get_by_role("button", name="Weigh the yarn").tap()
    page.get_by_label("Grams left").fill(grams)
    page.get_by_role("button", name="Keep it").tap()
    expect(page.get_by_role("dialog", name="Weighing kept")).to_be_visible()


def test_a_leg_is_made_as_long_as_the_yarn_allows_without_network(prepared: Page, calculating: Server) -> None:
    knitting = alone_in_the_leg(prepared, calculating)
    link = knitting.link
    knitting.open_menu()
    weigh(prepared, "380")
    prepared.get_by_role("link", name="How far it reaches").tap()
    is_made(prepared)

    # A mistake is left out, and the right weight takes its place.
    prepared.get_by_text("What was weighed", exact=True).tap()
    prepared.get_by_role("button", name="Leave out 380 g").tap()
    expect(prepared.get_by_text("Not weighed yet")).to_be_attached(timeout=CALCULATED)
    weigh(prepared, "88")
    prepared.get_by_role("button", name="Close").tap()
    expect(prepared.locator(".weighings li")).to_contain_text("88 g", timeout=CALCULATED)
    prepared.get_by_text("How long the leg may become").tap()
    prepared.locator("#rounds").fill(LEG)
    prepared.get_by_role("button", name="Make the leg this long").tap()
    expect(prepared.locator("#plan-changed")).to_contain_text(f"Leg of {LEG} rounds", timeout=CALCULATED)
    knitting.count(2)

    # What the change rests on stays while the server has not heard of it.
    prepared.goto(f"/pair/{link}/yarn")
    is_made(prepared)
    prepared.get_by_text("What was weighed", exact=True).tap()
    prepared.get_by_role("button", name="Leave out 88 g").tap()
    expect(prepared.locator("#made-here")).to_contain_text("a change that was accepted without network rests on it")

    # Its plan, pattern and logbook have it, too.
    for ending, words in (("", "Leg of 45 rounds"), ("/pattern", "Rounds 1 to 45"), ("/logbook", "Leg of 45 rounds")):
        prepared.goto(f"/pair/{link}{ending}")
        is_made(prepared)
        expect(prepared.locator("main")).to_contain_text(words)

    knitting.open()
    prepared.context.set_offline(False)
    knitting.everything_is_sent()
    until(prepared, ALL_TAKEN, link)
    assert accepted(calculating, link) == ["", "leg by yarn"]
    assert prepared.locator(".question").count() == 0
    assert [one.kind for one in calculating.entries(link)][1:4] == ["weighing", "withdrawal", "weighing"]
    prepared.goto(f"/pair/{link}/yarn")
    expect(prepared.locator("#made-here")).to_have_count(0)
    expect(prepared.locator(".weighings li")).to_contain_text("88 g")


def test_a_check_is_left_out_without_network(prepared: Page, calculating: Server) -> None:
    knitting = alone_in_the_leg(prepared, calculating)
    prepared.evaluate(KEEP_CHECK, [knitting.link, PLACE])
    prepared.get_by_role("link", name="Gauge check", exact=True).tap()
    count(prepared, "32")
    is_made(prepared)
    prepared.get_by_text("What was counted and measured").tap()
    prepared.get_by_role("button", name="Leave it out").and_(prepared.locator("[aria-label*='27 stitches']")).tap()
    expect(prepared.locator(".kept-checks li")).to_have_count(1, timeout=CALCULATED)
    expect(prepared.locator("h1")).to_contain_text("As planned.")

    knitting.open()
    prepared.context.set_offline(False)
    knitting.everything_is_sent()
    prepared.goto(f"/pair/{knitting.link}/check/result?sock=1&round={PLACE}")
    expect(prepared.locator("#made-here")).to_have_count(0)
    expect(prepared.locator(".kept-checks li")).to_have_count(1)
    expect(prepared.locator(".kept-checks li")).to_contain_text("32 stitches")


def test_a_way_to_go_on_after_a_try_on_is_taken_without_network(prepared: Page, calculating: Server) -> None:
    knitting = alone_in_the_leg(prepared, calculating)
    prepared.get_by_role("button", name="Try on", exact=True).tap()
    prepared.get_by_label("leg", exact=True).check()
    prepared.get_by_label("tight", exact=True).check()
    prepared.get_by_role("button", name="Keep it").tap()
    prepared.get_by_role("link", name="What that means for the rest").tap()
    is_made(prepared)
    prepared.locator("button[name=choice]", has_text="Knit on like this").first.tap()
    expect(prepared.locator("#plan-changed")).to_be_visible(timeout=CALCULATED)
    knitting.count()
    prepared.context.set_offline(False)
    knitting.everything_is_sent()
    until(prepared, ALL_TAKEN, knitting.link)
    first, change = accepted(calculating, knitting.link)
    assert (first, change.partition(" ")[0]) == ("", "try-on")
    assert prepared.locator(".question").count() == 0


def test_a_leg_that_clashes_with_another_change_is_asked_about(prepared: Page, calculating: Server) -> None:
    """Another device has made the leg longer while this phone had no network."""
    knitting = alone_in_the_leg(prepared, calculating)
    link = knitting.link
    prepared.goto(f"/pair/{link}/yarn")
    is_made(prepared)
    prepared.get_by_text("How long the leg may become").tap()
    prepared.locator("#rounds").fill(LEG)
    prepared.get_by_role("button", name="Make the leg this long").tap()
    expect(prepared.locator("#plan-changed")).to_contain_text(f"Leg of {LEG} rounds", timeout=CALCULATED)
    change_elsewhere(calculating, link)
    prepared.context.set_offline(False)
    expect(prepared.get_by_role("heading", name="Two plans")).to_be_visible(timeout=RETRY)
    with prepared.expect_event("load"):
        prepared.get_by_role("button", name="By the other plan").tap()
    knitting.is_ready()
    assert accepted(calculating, link) == ["", "elsewhere"]
    expect(prepared.locator("#plan-changed")).to_contain_text("Changed elsewhere")
