"""How a sock felt, remembered for a foot that is kept, and allowed for in the next plan."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from .tour_fit import FITTING


def test_how_a_sock_felt_is_allowed_for_in_the_next_plan(page: Page, link: str) -> None:
    FITTING["fit"](page, link)
    page.get_by_role("button", name="Ismene").tap()
    expect(page.locator("#remembered")).to_contain_text("Remembered for Ismene.")
    page.goto("/plan")
    page.get_by_role("button", name="Ismene").tap()
    expect(page.locator("#feet-said")).to_contain_text("Last time it was tight round: 7 % smaller round this time.")
    expect(page.locator("[name=ease_percent]")).to_have_value("7")
    expect(page.locator("[name=ball_circumference]")).to_have_value("23.5")


def test_what_was_remembered_is_taken_back(page: Page, link: str) -> None:
    FITTING["fit"](page, link)
    page.get_by_role("button", name="Ismene").tap()
    page.get_by_role("button", name="Take it back").tap()
    expect(page.locator("#remembered")).to_have_text("As it was before.")
    page.goto("/plan")
    page.get_by_role("button", name="Ismene").tap()
    expect(page.locator("#feet-said")).to_have_text("Ismene: filled in.")
    expect(page.locator("[name=ease_percent]")).to_have_value("")
