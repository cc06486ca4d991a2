"""The plan page on a phone: short, and changed from there on two phones."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from companion.resources import SAMPLE_PROJECTS

from ..conftest import NewPhone, field
from ..knitting import Knitting
from ..server import Server

pytestmark = pytest.mark.usefixtures("without_worker")

TALLEST = 3000
"""CSS px of the page at 360 px wide before any fold is opened: about four screens (ours)."""


def test_the_plan_of_every_sample_is_short_before_folds_are_opened(page: Page, server: Server) -> None:
    page.set_viewport_size({"width": 360, "height": 740})
    for sample in sorted(path.stem for path in SAMPLE_PROJECTS.glob("*.json")):
        page.goto(f"/pair/{server.add_pair(sample)}")
        height = page.evaluate("document.documentElement.scrollHeight")
        assert height <= TALLEST, f"{sample}: {height}"


def test_knitting_comes_first(page: Page, link: str) -> None:
    page.goto(f"/pair/{link}")
    expect(page.locator("main a").first).to_have_text("Knit")


def test_a_plan_is_replaced_before_the_cast_on_and_a_second_phone_knits_by_it(
    page: Page, new_phone: NewPhone, server: Server, link: str
) -> None:
    other = Knitting(new_phone(server), link).open()
    page.goto(f"/pair/{link}")
    page.get_by_role("link", name="Change this plan").tap()
    expect(field(page, "ball_circumference")).to_have_value("23.5")
    page.get_by_text("Rib, leg and cuff").tap()
    field(page, "leg_length").fill("10")
    page.get_by_role("button", name="Change the plan").tap()
    expect(page.get_by_role("link", name="Knit", exact=True)).to_be_visible()
    expect(page.get_by_text("The plan was changed.")).to_be_visible()
    total = page.locator("progress").first.get_attribute("max")
    other.page.reload()
    expect(other.progress).to_have_text(f"0 of {total}")
    other.count(2)


def test_rounds_that_were_not_sent_yet_stay_when_the_plan_is_changed(knitting: Knitting) -> None:
    page = knitting.page
    page.route("**/log", lambda route: route.abort())
    knitting.count(2)
    page.goto(f"/pair/{knitting.link}/change")
    expect(page.locator("[name=round_1]")).to_have_value("2")
    page.get_by_text("Rib, leg and cuff").tap()
    field(page, "rib").fill("k2 p2")
    page.get_by_role("button", name="Change the plan").tap()
    expect(page.locator("#rib-error")).to_contain_text("The cuff is begun")
    field(page, "rib").fill("k1tbl p1")
    field(page, "leg_length").fill("10")
    page.unroute("**/log")
    page.get_by_role("button", name="Change the plan").tap()
    page.get_by_role("link", name="Knit", exact=True).tap()
    knitting.is_at(2)
