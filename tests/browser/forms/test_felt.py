"""How a sock felt, remembered for a foot that is kept, and allowed for in the next plan."""

from __future__ import annotations

import json
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from ..conftest import NewPhone
from ..server import Server
from ..tour.fit import FITTING

pytestmark = pytest.mark.usefixtures("without_worker")


def test_how_a_sock_felt_is_allowed_for_in_the_next_plan(page: Page, link: str) -> None:
    FITTING["fit"](page, link)
    page.get_by_role("button", name="Ismene").tap()
    expect(page.locator("#remembered")).to_contain_text("Remembered for Ismene.")
    page.goto("/plan")
    page.get_by_role("button", name="Ismene").tap()
    expect(page.locator("#feet-said")).to_contain_text("Last time it was tight round: 7 % smaller round this time.")
    expect(page.locator("#feet-said")).to_contain_text("Last time the cuff was loose: cast on and knit the ribbing")
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


def read_from_a_file(page: Page, *feet: dict[str, Any]) -> None:
    page.goto("/plan")
    text = json.dumps({"feet": list(feet)}).encode()
    page.locator("#read-feet").set_input_files({"name": "feet.json", "mimeType": "", "buffer": text})
    expect(page.locator("#feet-said")).to_contain_text("Read from the file")


def saved_in_a_file(page: Page) -> list[dict[str, Any]]:
    page.get_by_text("Rename, forget or save").tap()
    with page.expect_download() as download:
        page.get_by_role("button", name="Save all in a file").tap()
    feet: list[dict[str, Any]] = json.loads(download.value.path().read_text())["feet"]
    return feet


def a_foot(name: str, felt: Any) -> dict[str, Any]:
    typed = {"ball_circumference": "23.5", "foot_length": "24.5"}
    return {"name": name, "unit": "cm", "typed": typed, "felt": felt}


def test_how_a_sock_felt_goes_along_in_the_file_of_feet(
    page: Page, link: str, new_phone: NewPhone, server: Server
) -> None:
    FITTING["fit"](page, link)
    page.get_by_role("button", name="Ismene").tap()
    expect(page.locator("#remembered")).to_contain_text("Remembered for Ismene.")
    page.goto("/plan")
    page.get_by_role("button", name="Ismene").tap()
    [saved] = saved_in_a_file(page)
    assert saved["felt"] == {"foot": "tight", "cuff": "loose"}

    other = new_phone(server)
    read_from_a_file(other, saved)
    other.get_by_role("button", name="Ismene").tap()
    expect(other.locator("#feet-said")).to_contain_text("Last time it was tight round")
    expect(other.locator("#feet-said")).to_contain_text("Last time the cuff was loose")
    assert saved_in_a_file(other) == [saved]


@pytest.mark.parametrize(
    ("felt", "kept"),
    [
        ({"cuff": "tight", "foot": "right"}, {"cuff": "tight", "foot": "right"}),
        ({"cuff": "tight", "toe": "<b>", "leg": 3}, {"cuff": "tight"}),
        ({"cuff": "scratchy"}, None),
        ([], None),
        (None, None),
    ],
)
def test_of_a_file_only_what_can_be_felt_is_read(page: Page, felt: Any, kept: dict[str, str] | None) -> None:
    read_from_a_file(page, a_foot("Ada", felt))
    page.get_by_role("button", name="Ada").tap()
    [saved] = saved_in_a_file(page)
    assert saved.get("felt") == kept


@pytest.mark.parametrize("where", ["heel", "instep"])
def test_the_place_that_was_tight_is_called_by_its_own_name(page: Page, where: str) -> None:
    read_from_a_file(page, a_foot("Ismene", {where: "tight"}))
    page.get_by_role("button", name="Ismene", exact=True).tap()
    expect(page.locator("#feet-said")).to_contain_text(f"It was tight at the {where}: measure the heel diagonal")
