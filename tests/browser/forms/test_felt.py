"""How a sock felt, remembered for a foot that is kept, and allowed for in the next plan."""

from __future__ import annotations

import json
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from ..conftest import NewPhone
from ..server import Server
from ..tour.fit import fit

pytestmark = pytest.mark.usefixtures("without_worker")


def test_how_a_sock_felt_is_remembered_and_allowed_for_in_the_next_plan(
    page: Page, link: str, new_phone: NewPhone, server: Server
) -> None:
    fit(page, link)
    what_was_remembered_is_taken_back(page)
    page.goto(f"/pair/{link}/fit?sock=1&round=40")
    page.get_by_role("button", name="Ismene").tap()
    expect(page.locator("#remembered")).to_contain_text("Remembered for Ismene.")
    page.goto("/plan")
    page.get_by_role("button", name="Ismene").tap()
    expect(page.locator("#feet-said")).to_contain_text("Last time it was tight round: 7 % smaller round this time.")
    expect(page.locator("#feet-said")).to_contain_text("Last time the cuff was loose: cast on and knit the ribbing")
    expect(page.locator("[name=ease_percent]")).to_have_value("7")
    expect(page.locator("[name=ball_circumference]")).to_have_value("23.5")
    it_goes_along_in_the_file_of_feet(page, new_phone(server))


def what_was_remembered_is_taken_back(page: Page) -> None:
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


def it_goes_along_in_the_file_of_feet(page: Page, other: Page) -> None:
    [saved] = saved_in_a_file(page)
    assert saved["felt"] == {"foot": "tight", "cuff": "loose"}
    read_from_a_file(other, saved)
    other.get_by_role("button", name="Ismene").tap()
    expect(other.locator("#feet-said")).to_contain_text("Last time it was tight round")
    expect(other.locator("#feet-said")).to_contain_text("Last time the cuff was loose")
    assert saved_in_a_file(other) == [saved]


FELT: dict[str, tuple[Any, dict[str, str] | None]] = {
    "Ada": ({"cuff": "tight", "foot": "right"}, {"cuff": "tight", "foot": "right"}),
    "Bea": ({"cuff": "tight", "toe": "<b>", "leg": 3}, {"cuff": "tight"}),
    "Cleo": ({"cuff": "scratchy"}, None),
    "Dora": ([], None),
    "Edda": (None, None),
    "Fenja": ({"heel": "tight"}, {"heel": "tight"}),
    "Gesa": ({"instep": "tight"}, {"instep": "tight"}),
}
"""What a file says of feet, and what is kept of it."""


def test_of_a_file_only_what_can_be_felt_is_read(page: Page) -> None:
    read_from_a_file(page, *(a_foot(name, felt) for name, (felt, _) in FELT.items()))
    for name in FELT:
        page.get_by_role("button", name=name).tap()
        expect(page.locator("#feet-said")).to_contain_text(f"{name}: filled in.")
    for name, where in (("Fenja", "heel"), ("Gesa", "instep")):
        page.get_by_role("button", name=name).tap()
        expect(page.locator("#feet-said")).to_contain_text(f"It was tight at the {where}: measure the heel diagonal")
    assert {foot["name"]: foot.get("felt") for foot in saved_in_a_file(page)} == {
        name: kept for name, (_, kept) in FELT.items()
    }
