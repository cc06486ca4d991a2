"""A gauge check under a thumb: counting, counting again, and a way that is taken."""

from __future__ import annotations

from playwright.sync_api import Page, expect


def count(page: Page, stitches: str = "", rounds: str = "") -> None:
    """Fill the form in with one spot over 10 cm, and send it."""
    for name, value in (("stitches", stitches), ("rounds", rounds)):
        page.locator(f"[name={name}_1]").fill(value)
        page.locator(f"[name={name}_over_1]").fill("10")
    page.get_by_role("button", name="What does that mean?").click()


def count_again(page: Page, stitches_per_10cm: float, rounds_per_10cm: float) -> None:
    """The three more places that are asked for say the same."""
    decide = page.get_by_role("button", name="Decide with these")
    expect(decide).to_be_visible()
    for what, per_10cm in (("stitches", stitches_per_10cm), ("rounds", rounds_per_10cm)):
        for place in (1, 2, 3):
            over = float(page.locator(f"[name={what}_over_{place}]").input_value())
            page.get_by_label(f"{what.capitalize()}, place {place}").fill(f"{per_10cm * over / 10:.1f}")
    decide.click()


def take_way(page: Page, title: str) -> None:
    """Accept a way to go on, the recommended one or one that is folded away."""
    way = page.get_by_role("article", name=title)
    if not way.is_visible():
        page.locator(".fold", has=page.locator(".options")).locator("summary").first.tap()
    way.get_by_role("button").tap()
