"""Feet that are kept by name in the browser, and fill in the form for the next pair."""

from __future__ import annotations

import json
import re

import pytest
from playwright.sync_api import Locator, Page, Request, expect

from ..conftest import NewPhone, field
from ..server import Server

pytestmark = pytest.mark.usefixtures("without_worker")


def keep(page: Page, name: str, ball: str, length: str) -> None:
    field(page, "ball_circumference").fill(ball)
    field(page, "foot_length").fill(length)
    if not page.locator("#foot-name").is_visible():
        page.get_by_text("Keep this foot").tap()
    page.locator("#foot-name").fill(name)
    page.get_by_role("button", name="Keep", exact=True).tap()
    expect(page.locator("#feet-said")).to_contain_text(name)


def names(page: Page) -> Locator:
    return page.locator("#feet-names button")


def changes(page: Page) -> None:
    page.get_by_text("Rename, forget or save").tap()


def test_kept_feet_fill_in_the_form_of_the_next_pair(form: Page) -> None:
    """1 in is 2.54 cm exactly (international yard and pound agreement, 1959): 24.1 cm is 9.488 in."""
    expect(form.locator("#feet")).to_be_hidden()
    keep(form, "Ada", "22.8", "24,1")
    form.get_by_text("More about the foot").tap()
    field(form, "heel_diagonal").fill("25")
    keep(form, "Hedda", "22", "24")
    field(form, "heel_diagonal").fill("")
    keep_a_guess(form, "Gesa")
    form.goto("/plan")
    field(form, "stitches").fill("30")
    form.get_by_role("button", name="Ada").tap()
    # The counts follow.
    expect(form.locator("#choices input:checked")).to_have_count(1)
    is_filled_in(form, ball_circumference="22.8", foot_length="24,1", heel_diagonal="")
    form.get_by_role("button", name="Hedda").tap()
    is_filled_in(form, heel_diagonal="25")
    expect(form.get_by_role("button", name="Hedda")).to_have_attribute("aria-pressed", "true")
    expect(form.get_by_role("button", name="Ada")).to_have_attribute("aria-pressed", "false")
    form.goto("/plan?unit=in")
    field(form, "stitches").fill("30")
    form.get_by_role("button", name="Ada").tap()
    is_filled_in(form, ball_circumference="9", foot_length="9 1/2")
    # What was a guess is one for the next pair too.
    form.get_by_role("button", name="Gesa").tap()
    expect(form.locator("#choices")).to_contain_text("a guess:")
    form.get_by_role("button", name="Hedda").tap()
    expect(form.locator("#choices")).to_contain_text("measured:")
    is_filled_in(form, shoe_size="")


def keep_a_guess(form: Page, name: str) -> None:
    form.get_by_text("Start from a shoe size").tap()
    field(form, "shoe_system").select_option("UK")
    field(form, "shoe_size").fill("5")
    form.get_by_role("button", name="Fill in the foot").tap()
    expect(form.locator("#shoe-said")).to_contain_text("This is a guess")
    keep(form, name, field(form, "ball_circumference").input_value(), field(form, "foot_length").input_value())


def is_filled_in(form: Page, **fields: str) -> None:
    for name, value in fields.items():
        expect(field(form, name)).to_have_value(value)


def test_kept_feet_are_changed_and_every_change_can_be_taken_back(form: Page) -> None:
    what_is_missing_for_keeping_a_foot_is_reported(form)
    a_foot_kept_under_a_name_again_has_the_new_measurements_until_taken_back(form)
    a_foot_is_renamed_and_forgotten_and_both_can_be_taken_back(form)


def what_is_missing_for_keeping_a_foot_is_reported(form: Page) -> None:
    field(form, "ball_circumference").fill("22")
    form.get_by_text("Keep this foot").tap()
    for name, length, says in (("", "24", "Type a name first"), ("Ada", "", "Type in the ball of the foot and its")):
        field(form, "foot_length").fill(length)
        form.locator("#foot-name").fill(name)
        form.locator("#foot-name").press("Enter")
        expect(form.locator("#feet-said")).to_contain_text(says)
        expect(form.locator("#feet")).to_be_hidden()


def a_foot_kept_under_a_name_again_has_the_new_measurements_until_taken_back(form: Page) -> None:
    keep(form, "Ada", "18", "17")
    keep(form, "Ada", "19", "18")
    expect(names(form)).to_have_text(["Ada"])
    form.get_by_role("button", name="Take it back").tap()
    expect(form.locator("#feet-said")).to_have_text("As it was before.")
    form.get_by_role("button", name="Ada").tap()
    expect(field(form, "foot_length")).to_have_value("17")


def a_foot_is_renamed_and_forgotten_and_both_can_be_taken_back(form: Page) -> None:
    keep(form, "Hedda", "22", "24")
    changes(form)
    form.locator("#foot-new-name").fill("Ada")
    form.get_by_role("button", name="Rename").tap()
    expect(form.locator("#feet-said")).to_contain_text("There is a foot of the name Ada already")
    form.locator("#foot-new-name").fill("Aunt Hedda")
    form.locator("#foot-new-name").press("Enter")
    expect(names(form)).to_have_text(["Ada", "Aunt Hedda"])
    form.get_by_role("button", name="Take it back").tap()
    expect(names(form)).to_have_text(["Ada", "Hedda"])
    form.get_by_role("button", name="Ada").tap()
    form.get_by_role("button", name="Forget").tap()
    expect(names(form)).to_have_text(["Hedda"])
    form.get_by_role("button", name="Take it back").tap()
    expect(names(form)).to_have_text(["Ada", "Hedda"])
    form.reload()
    expect(names(form)).to_have_text(["Ada", "Hedda"])


def test_the_name_of_a_foot_is_never_sent(form: Page) -> None:
    sent: list[Request] = []

    def note(request: Request) -> None:
        sent.append(request)

    form.on("request", note)
    keep(form, "Wilhelmine", "22", "24")
    field(form, "stitches").fill("30")
    expect(form.locator("#choices input:checked")).to_have_count(1)
    form.get_by_role("button", name="Make the plan").tap()
    expect(form.get_by_role("heading", level=1)).to_have_text("Socks")
    assert [each.method for each in sent if each.is_navigation_request()][:1] == ["POST"]
    assert not [each.url for each in sent if "Wilhelmine" in each.url + (each.post_data or "")]


def test_feet_saved_in_a_file_are_read_on_another_phone(form: Page, new_phone: NewPhone, server: Server) -> None:
    keep(form, "Ada", "18", "17,5")
    keep(form, "Ben", "24", "27")
    changes(form)
    with form.expect_download() as download:
        form.get_by_role("button", name="Save all in a file").tap()
    saved = download.value.path().read_bytes()
    ada, ben = json.loads(saved)["feet"]
    assert (ada["name"], ada["unit"], ben["name"]) == ("Ada", "cm", "Ben")
    assert (ada["typed"]["ball_circumference"], ada["typed"]["foot_length"]) == ("18", "17,5")
    other = new_phone(server)
    other.goto("/plan")
    keep(other, "Ben", "23", "26")
    another_file_is_no_file_of_feet_and_changes_nothing(other)
    read(other, saved)
    expect(other.locator("#feet-said")).to_have_text("Read from the file: Ada, Ben.")
    expect(names(other)).to_have_text(["Ada", "Ben"])
    other.get_by_role("button", name="Take it back").tap()
    expect(names(other)).to_have_text(["Ben"])
    names(other).first.tap()
    expect(field(other, "foot_length")).to_have_value("26")
    read(other, saved)
    expect(names(other)).to_have_text(["Ada", "Ben"])
    names(other).nth(1).tap()
    expect(field(other, "foot_length")).to_have_value("27")


def read(page: Page, text: bytes) -> None:
    page.locator("#read-feet").set_input_files({"name": "feet.json", "mimeType": "", "buffer": text})


def another_file_is_no_file_of_feet_and_changes_nothing(page: Page) -> None:
    for text in ("", "null", '{"feet": []}', '{"feet": [{"name": "A"}]}', '{"feet": [{"name": 7}, null]}'):
        names(page).first.tap()
        expect(page.locator("#feet-said")).to_contain_text("Ben: filled in.")
        read(page, text.encode())
        expect(page.locator("#feet-said")).to_contain_text("This is no file of feet.")
        expect(names(page)).to_have_text(["Ben"])


def test_a_follower_of_a_design_starts_from_a_kept_foot(form: Page) -> None:
    keep(form, "Ada", "22", "24")
    form.goto("/design")
    expect(form.locator("#feet")).to_have_count(0)
    field(form, "title").fill("Harbour socks")
    form.get_by_role("button", name="Keep the design").tap()
    expect(form.get_by_role("heading", level=1)).to_have_text("Harbour socks")
    join = re.findall(r"/join/[\w-]+", form.content())[0]
    form.goto(join)
    form.get_by_role("button", name="Ada").tap()
    expect(field(form, "foot_length")).to_have_value("24")
    form.get_by_text("Keep this foot").tap()
    expect(form.locator("#foot-name")).to_have_value("Ada")
