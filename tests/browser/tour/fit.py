"""Ways to what tells how a sock fits: lengths by tape, try-ons, and sock two after sock one was changed."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from ..checking import take_way
from ..knitting import Knitting
from .checks import count_loose


def _length_sheet(page: Page, link: str) -> None:
    knitting = Knitting(page, link).open()
    knitting.go_to_round(41)
    page.get_by_role("button", name="Length", exact=True).click()
    expect(page.get_by_label("Length in cm")).to_be_visible()


def _length_kept(page: Page, link: str) -> None:
    _length_sheet(page, link)
    page.get_by_label("Length in cm").fill("6")
    page.get_by_role("button", name="Keep it").click()
    expect(page.get_by_role("link", name="What that means for the rest")).to_be_visible()


def _sock_one_changed(page: Page, link: str) -> None:
    """Sock one gets other stitches in its leg, and sock two is taken up."""
    knitting = Knitting(page, link).open()
    knitting.go_to_round(41)
    knitting.everything_is_sent()
    count_loose(page, link)
    take_way(page, "Change the leg here")
    knitting.is_ready()
    knitting.take_up(2)
    expect(page.get_by_role("region", name="Sock two")).to_be_visible()


def _second_sock(page: Page, link: str) -> None:
    _sock_one_changed(page, link)
    page.get_by_role("link", name="Choose how to knit it").click()
    page.get_by_text("Other ways").click()
    page.get_by_text("What is different from sock one").first.click()


def _fit(page: Page, link: str) -> None:
    """A sock that is tight at the foot and loose at the cuff, while its leg is knitted; one foot is kept."""
    knitting = Knitting(page, link).open()
    knitting.go_to_round(41)
    for where, feels in (("foot", "tight"), ("cuff", "loose")):
        page.get_by_role("button", name="Try on", exact=True).click()
        page.get_by_label(where).check()
        page.get_by_label(feels).check()
        page.get_by_role("button", name="Keep it").click()
        page.get_by_role("button", name="Close").click()
    knitting.everything_is_sent()
    keep_foot(page, "Ismene")
    page.goto(f"/pair/{link}/fit?sock=1&round=40")
    expect(page.get_by_role("heading", name="Remember it for this foot")).to_be_visible()


def keep_foot(page: Page, name: str) -> None:
    """Keep a foot by name, from the plan form."""
    page.goto("/plan")
    page.locator("[name=ball_circumference]").fill("23.5")
    page.locator("[name=foot_length]").fill("24.5")
    page.locator("#keep-foot summary").click()
    page.locator("#foot-name").fill(name)
    page.locator("#keep-foot-now").click()
    expect(page.locator("#feet-said")).to_contain_text(f"{name} is kept.")


FITTING = {
    "knit length sheet": _length_sheet,
    "knit length kept": _length_kept,
    "knit sock two": _sock_one_changed,
    "second sock": _second_sock,
    "fit": _fit,
}
