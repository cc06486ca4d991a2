"""A pair is exported and imported by the buttons, and its logbook is read and printed."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import expect

from .conftest import NewPhone
from .knitting import Knitting
from .server import Server


def test_a_pair_moves_to_another_phone_by_a_file(
    new_phone: NewPhone, server: Server, knitting: Knitting, tmp_path: Path
) -> None:
    knitting.count(3)
    knitting.everything_is_sent()
    knitting.page.goto("/")
    with knitting.page.expect_download() as download:
        knitting.page.get_by_role("link", name="Export: Ismene").tap()
    file = tmp_path / download.value.suggested_filename
    download.value.save_as(file)
    assert file.name == "ismene-high-instep.tapeline.json"
    page = new_phone(server).new_page()
    page.goto("/")
    page.get_by_text("Import a pair from a file").tap()
    page.get_by_label("A file that was exported").set_input_files(file)
    page.get_by_role("button", name="Import").tap()
    expect(page.get_by_text("Sock 1: 3 of")).to_be_visible()
    assert knitting.link not in page.url
    page.get_by_role("link", name="Knit", exact=True).tap()
    Knitting(page, page.url.split("/")[-2]).is_at(3)


def test_the_logbook_is_reached_from_the_menu_and_needs_no_script(
    new_phone: NewPhone, server: Server, knitting: Knitting
) -> None:
    knitting.count(2)
    knitting.everything_is_sent()
    knitting.open_menu()
    knitting.page.get_by_role("link", name="Logbook").tap()
    expect(knitting.page.get_by_text("Sock 1: 2 rounds counted, 2 rounds done")).to_be_visible()
    page = new_phone(server, java_script_enabled=False).new_page()
    page.goto(f"/pair/{knitting.link}/logbook")
    expect(page.get_by_text("Sock 1: 2 rounds counted, 2 rounds done")).to_be_visible()
    knitting.page.emulate_media(media="print")
    expect(knitting.page.get_by_role("button", name="Print")).to_be_hidden()
