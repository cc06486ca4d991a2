"""The first page for somebody who is back: the pair on the needles first."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from ...conftest import made
from ..knitting import Knitting, rounds_of
from ..server import Server

pytestmark = pytest.mark.usefixtures("without_worker")


def test_the_pair_knitted_last_comes_first_with_its_place_and_a_button(page: Page, server: Server) -> None:
    other, last = server.add_pair("linnet"), server.add_pair("ilex")
    Knitting(page, last).open().count(2)
    Knitting(page, other).open()
    page.goto("/")
    cards = page.locator("#pairs > .pair")
    expect(cards).to_have_count(2)
    expect(cards.first).to_contain_text("Ilex, stripes from the toe up")
    expect(cards.first).to_contain_text("Sock 1: toe, round 3 of")
    expect(cards.first).to_contain_text("Last knitted today")
    expect(cards.first.locator(".sock .knitted").first).to_be_attached()
    expect(cards.nth(1)).to_contain_text("Not begun")
    page.get_by_text("Knit on").tap()
    Knitting(page, last).is_at(2)


def test_a_finished_pair_is_folded_away(page: Page, server: Server, link: str) -> None:
    knitting = Knitting(page, link)
    total = len(rounds_of(knitting.data(), 1))
    server.write(link, *(made(sock, kind="go", sock=sock, round=total) for sock in (1, 2)))
    knitting.open()
    knitting.is_at(total)
    page.goto("/")
    expect(page.get_by_text("Finished: 1")).to_be_visible()
    expect(page.get_by_role("heading", level=1)).to_have_text("Nothing on your needles")
    expect(page.locator("#pairs")).to_be_hidden()
    page.get_by_text("Finished: 1").tap()
    expect(page.locator("#finished-pairs .pair-place")).to_have_text("Sock 1 finished; sock 2 finished")


def test_a_card_and_its_open_menu_stay_where_the_list_is_made_anew(page: Page, server: Server) -> None:
    """News of other pairs comes at any time, and a finger may be on its way to a button of the menu."""
    for sample in ("linnet", "ilex"):
        Knitting(page, server.add_pair(sample)).open()
    page.goto("/")
    cards = page.locator("#pairs > .pair")
    expect(cards).to_have_count(2)
    mine = cards.nth(1)
    mine.locator("summary").tap()
    mine.evaluate("card => (card.dataset.mine = 'still')")
    page.evaluate("document.dispatchEvent(new Event('fetched'))")
    cards.first.locator("summary").tap()
    cards.first.get_by_role("button", name="Forget here").tap()
    expect(cards).to_have_count(1)
    expect(cards).to_have_attribute("data-mine", "still")
    expect(cards.get_by_role("button", name="Forget here")).to_be_visible()
