"""The way to what a leader and her followers see."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect

from ...conftest import entry
from ...web.designing import DESIGN
from ..given import write_elsewhere
from ..knitting import Knitting
from ..leading import NOTE_AND_STAGE, join, make_design, sent, share, unfold
from .way import Way


def _design_form(page: Page, _link: str) -> None:
    page.goto("/design")
    for group in page.locator("details.group > summary:visible").all():
        group.click()


def _design_refused(page: Page, _link: str) -> None:
    page.goto("/design")
    unfold(page, "Rib, leg and cuff")
    page.locator("[name=rib]").fill("z9")
    page.get_by_role("button", name="Keep the design").click()
    expect(page.locator("#errors")).to_be_focused()


def _design(page: Page, _link: str) -> None:
    make_design(page)


def _the_same(page: Page, what: str) -> str:
    """The address of the design or pair that the page is about."""
    found = re.search(rf"/{what}/[\w-]{{22}}", page.url)
    assert found
    return found[0]


def _delete_a_design(page: Page, _link: str) -> None:
    page.get_by_role("link", name="Delete this design").click()
    expect(page.get_by_role("button", name="Delete this design")).to_be_visible()


def _design_card(page: Page, _link: str) -> None:
    page.goto(_the_same(page, "design"))
    page.get_by_role("link", name="Card, A6").click()
    expect(page.get_by_role("img", name="QR code")).to_be_visible()


def _design_sheet(page: Page, _link: str) -> None:
    page.goto(_the_same(page, "design"))
    page.get_by_role("link", name="Sheet, A4").click()
    expect(page.get_by_role("img", name="QR code")).to_be_visible()
    page.wait_for_load_state()  # with the picture of the sock


def _leaders_grid(page: Page, _link: str) -> None:
    page.goto(_the_same(page, "design"))
    page.get_by_role("link", name="Size grid", exact=True).click()
    expect(page.get_by_role("columnheader", name="30 × 40.5")).to_be_visible()


def _graded_pattern(page: Page, _link: str) -> None:
    page.goto(_the_same(page, "design"))
    page.get_by_role("link", name="Written pattern").click()
    expect(page.get_by_role("heading", name="Directions")).to_be_visible()


def _graded_pattern_refused(page: Page, _link: str) -> None:
    page.get_by_label("Round the ball of each foot").fill("3, 22")
    page.get_by_role("button", name="Show these sizes").click()
    expect(page.get_by_text("You typed “3”")).to_be_visible()


def _join(page: Page, _link: str) -> None:
    page.goto(make_design(page))
    expect(page.get_by_role("button", name="Make my plan")).to_be_visible()


def _grid(page: Page, _link: str) -> None:
    page.goto(page.url + "/grid")
    expect(page.get_by_role("region", name="Sizes")).to_be_visible()


def _plan_of_a_follower(page: Page, _link: str) -> None:
    join(page, page.url.removesuffix("/grid"), ball_circumference="23", foot_length="25", stitches="30")
    share(page, "Ortrun", size=True)


def _knit_led(page: Page, _link: str) -> None:
    """At the leg, with the pace below it."""
    page.goto(f"{_the_same(page, 'pair')}/knit")
    knitting = Knitting(page, "")
    knitting.is_ready()
    knitting.go_to_section("Leg")
    page.locator("#pace").get_by_text("Leg done by").wait_for()


def _changed_design(page: Page, _link: str) -> None:
    pair = _the_same(page, "pair")
    page.goto("/design")
    leaders_page = page.get_by_role("link", name="Larch and moss").get_attribute("href")
    changes = {"version": "1", "rib": "k1 p1", "leg_length": "10"}
    sent(page, f"{leaders_page}/edit", {**DESIGN, **NOTE_AND_STAGE, **changes})
    page.goto(f"{pair}/design")
    expect(page.get_by_role("button", name="Take it over")).to_be_visible()


def _group(page: Page, _link: str) -> None:
    pair = _the_same(page, "pair")
    loose = {"stitches": [{"count": 27, "over_cm": 10}] * 4, "rounds": [{"count": 38, "over_cm": 10}] * 4}
    write_elsewhere(page, pair.removeprefix("/pair/"), entry(1, kind="check", round=40, data=loose))
    page.goto(f"{pair}/check/result?sock=1&round=40")
    page.get_by_role("button", name="Accept").first.click()
    expect(page.locator("#done")).to_be_enabled()
    page.goto("/design")
    page.get_by_role("link", name="Larch and moss").click()
    page.get_by_role("link", name="How the group is doing").click()
    expect(page.get_by_role("rowheader", name="Ortrun")).to_be_visible()


DESIGNS: list[Way] = [
    {"design form": _design_form, "design refused": _design_refused},
    {
        "design": _design,
        "delete a design": _delete_a_design,
        "design card": _design_card,
        "design sheet": _design_sheet,
        "leader's grid": _leaders_grid,
        "graded pattern": _graded_pattern,
        "graded pattern refused": _graded_pattern_refused,
    },
    {
        "join": _join,
        "grid of a design": _grid,
        "plan of a follower": _plan_of_a_follower,
        "knit with a leader": _knit_led,
        "changed design": _changed_design,
        "group": _group,
    },
]
