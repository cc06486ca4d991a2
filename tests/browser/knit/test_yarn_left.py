"""Weighing the yarn on a phone, and what comes of it."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from ...conftest import made
from ..knitting import RETRY, Knitting, script_of
from ..server import Server

pytestmark = pytest.mark.usefixtures("without_worker")


def of_yarn(page: Page, name: str) -> str:
    """What the page says to a number, by the number's name, with every kind of space as a plain one."""
    return " ".join(page.locator(".figure", has=page.get_by_text(name, exact=True)).inner_text().split())


def test_a_weighing_is_kept_with_its_place_and_shown(knitting: Knitting, server: Server, link: str) -> None:
    page = knitting.page
    knitting.go_to_round(41)
    what_no_scale_shows_is_not_kept(knitting)
    page.keyboard.press("Escape")
    expect(page.get_by_role("dialog")).to_have_count(0)
    knitting.weigh("88.5")
    knitting.is_at(40)
    [weighed] = [entry for entry in server.entries(link) if entry.kind == "weighing"]
    assert (weighed.sock, weighed.round, weighed.data) == (1, 40, {"grams": 88.5, "yarn": "A"})
    knitting.open_menu()
    page.get_by_role("link", name="Yarn left").tap()
    expect(page.get_by_role("heading", name="Enough.")).to_be_visible()
    page.get_by_text("number by number").tap()
    page.get_by_text("1,000 stitches take").tap()
    assert "100 g at the start and 88.5 g after" in of_yarn(page, "1,000 stitches take")


def what_no_scale_shows_is_not_kept(knitting: Knitting) -> None:
    page = knitting.page
    knitting.open_menu()
    page.get_by_role("button", name="Weigh the yarn").tap()
    for typed in ("", "-1", "5001"):
        page.get_by_label("Grams left").fill(typed)
        page.get_by_role("button", name="Keep it").tap()
        expect(page.get_by_role("dialog")).to_have_count(1)
        assert page.get_by_label("Grams left").evaluate("(field) => !field.validity.valid")


def test_a_pair_in_inches_is_weighed_in_ounces_yarn_by_yarn(page: Page, server: Server) -> None:
    link = server.add_pair("sorrel", unit="in")
    knitting = Knitting(page, link).open()
    knitting.open_menu()
    page.get_by_role("button", name="Weigh the yarn").tap()
    # Each yarn is weighed by itself.
    page.get_by_label("B: four-ply, sorrel green").check()
    page.get_by_label("Ounces left").fill("3.1")
    knitting.keep("weighing")
    [weighed] = [entry for entry in server.entries(link) if entry.kind == "weighing"]
    assert weighed.data == {"grams": 87.9, "yarn": "B"}, "1 oz = 28.349523125 g, NIST Handbook 44, appendix C"


def test_yarn_that_runs_out_is_announced_at_the_start_of_each_part(page: Page, server: Server, link: str) -> None:
    server.write(link, made(1, kind="go", round=18))
    for number in (2, 3):  # so far from what was expected that only the second one is believed
        server.write(link, made(number, kind="weighing", round=18, data={"grams": 40, "yarn": "A"}))
    knitting = Knitting(page, link).open()
    warning = page.get_by_role("link", name=re.compile("^Yarn: it runs out, at about sock 2, "))
    expect(warning).to_be_visible(timeout=RETRY)
    knitting.count()
    expect(warning).to_be_visible()
    knitting.count()
    expect(warning).to_have_count(0)
    knitting.go_to_section("Gusset")
    warning.tap()
    expect(page).to_have_url(re.compile(f"/pair/{link}/yarn$"))


def test_the_leg_that_is_chosen_is_knitted_and_taken_back(page: Page, link: str) -> None:
    knitting = Knitting(page, link)
    before = script_of(knitting.data(), 1)["total"]
    page.goto(f"/pair/{link}/yarn")
    page.get_by_text("How long the leg may become").tap()
    leg = page.get_by_label("Rounds of the leg")
    rounds = int(leg.input_value())
    leg.fill(str(rounds + 7))
    page.get_by_role("button", name="Make the leg this long").tap()
    expect(knitting.progress).to_have_text(f"0 of {before + 7}")
    knitting.take_change_back()
    expect(knitting.progress).to_have_text(f"0 of {before}")
