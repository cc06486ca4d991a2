"""The way to what a leader and her followers see."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from ..knitting import Knitting
from ..leading import change_design, join, make_design, share, unfold
from .checks import count_loose
from .desk import Way


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


def _delete_a_design(page: Page, _link: str) -> None:
    make_design(page)
    page.get_by_role("link", name="Delete this design").click()
    expect(page.get_by_role("button", name="Delete this design")).to_be_visible()


def _design_card(page: Page, _link: str) -> None:
    make_design(page)
    page.get_by_role("link", name="Card, A6").click()
    expect(page.get_by_role("img", name="QR code")).to_be_visible()


def _design_sheet(page: Page, _link: str) -> None:
    make_design(page)
    page.get_by_role("link", name="Sheet, A4").click()
    expect(page.get_by_role("img", name="QR code")).to_be_visible()
    page.wait_for_load_state()  # with the picture of the sock


def _join(page: Page, _link: str) -> None:
    page.goto(make_design(page))
    expect(page.get_by_role("button", name="Make my plan")).to_be_visible()


def _followed(page: Page) -> str:
    """A design and a pair by it; returns the pair's link."""
    return join(page, make_design(page), ball_circumference="23", foot_length="25", stitches="30")


def _plan_of_a_follower(page: Page, _link: str) -> None:
    _followed(page)
    share(page, "Ortrun", size=True)


def _knit_led(page: Page, _link: str) -> None:
    """At the heel, where the leader has a note, with the pace below it."""
    knitting = Knitting(page, _followed(page)).open()
    knitting.go_to_section("Leg")
    knitting.page.locator("#pace").get_by_text("Leg done by").wait_for()


def _changed_design(page: Page, _link: str) -> None:
    page.goto("/design")
    pair = _followed(page)
    page.goto("/design")
    page.get_by_role("link", name="Larch and moss").click()
    change_design(page, rib="k1 p1", leg_length="10")
    page.goto(f"/pair/{pair}/design")
    expect(page.get_by_role("button", name="Take it over")).to_be_visible()


def _grid(page: Page, _link: str) -> None:
    page.goto(make_design(page) + "/grid")
    expect(page.get_by_role("region", name="Sizes")).to_be_visible()


def _graded_pattern(page: Page, _link: str) -> None:
    make_design(page)
    page.get_by_role("link", name="Written pattern").click()
    expect(page.get_by_role("heading", name="Directions")).to_be_visible()


def _graded_pattern_refused(page: Page, _link: str) -> None:
    make_design(page)
    page.get_by_role("link", name="Written pattern").click()
    page.get_by_label("Round the ball of each foot").fill("3, 22")
    page.get_by_role("button", name="Show these sizes").click()
    expect(page.get_by_text("You typed “3”")).to_be_visible()


def _leaders_grid(page: Page, _link: str) -> None:
    make_design(page)
    page.get_by_role("link", name="Size grid", exact=True).click()
    expect(page.get_by_role("columnheader", name="30 × 40.5")).to_be_visible()


def _group(page: Page, _link: str) -> None:
    pair = _followed(page)
    share(page, "Ortrun", size=True)
    count_loose(page, pair)
    page.get_by_role("button", name="Accept").first.click()
    expect(page.locator("#done")).to_be_enabled()
    page.goto("/design")
    page.get_by_role("link", name="Larch and moss").click()
    page.get_by_role("link", name="How the group is doing").click()
    expect(page.get_by_role("rowheader", name="Ortrun")).to_be_visible()


DESIGNS: dict[str, Way] = {
    "design form": _design_form,
    "design refused": _design_refused,
    "design": _design,
    "delete a design": _delete_a_design,
    "design card": _design_card,
    "design sheet": _design_sheet,
    "join": _join,
    "plan of a follower": _plan_of_a_follower,
    "knit with a leader": _knit_led,
    "changed design": _changed_design,
    "group": _group,
    "grid of a design": _grid,
    "graded pattern": _graded_pattern,
    "graded pattern refused": _graded_pattern_refused,
    "leader's grid": _leaders_grid,
}
