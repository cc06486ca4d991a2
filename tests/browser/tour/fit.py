"""What tells how a sock fits: try-ons, and lengths by tape."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from ...conftest import entry
from ..given import write_elsewhere
from ..knitting import Knitting
from .way import Way


def fit(page: Page, link: str) -> None:
    """A sock that is tight at the foot and loose at the cuff, while its leg is knitted; one foot is kept."""
    felt = {"foot": "tight", "cuff": "loose"}
    said = [{"where": where, "feels": feels} for where, feels in felt.items()]
    tried_on = [entry(number, kind="try-on", round=40, data=data) for number, data in enumerate(said, 2)]
    write_elsewhere(page, link, entry(1, kind="go", round=40), *tried_on)
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


def _try_on_sheet(page: Page, link: str) -> None:
    Knitting(page, link).open().is_at(40)
    page.get_by_role("button", name="Try on", exact=True).click()
    expect(page.get_by_role("dialog")).to_be_visible()


def _length_sheet(page: Page, _link: str) -> None:
    page.get_by_role("button", name="Cancel").click()
    page.get_by_role("button", name="Length", exact=True).click()
    expect(page.get_by_label("Length in cm")).to_be_visible()


def _length_kept(page: Page, _link: str) -> None:
    page.get_by_label("Length in cm").fill("6")
    page.get_by_role("button", name="Keep it").click()
    expect(page.get_by_role("link", name="What that means for the rest")).to_be_visible()


FITTING: list[Way] = [
    {
        "fit": fit,
        "knit try-on sheet": _try_on_sheet,
        "knit length sheet": _length_sheet,
        "knit length kept": _length_kept,
    }
]
