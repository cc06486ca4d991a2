"""A pair is exported and imported by the buttons, and its logbook is read and printed."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from companion.web.server.security import EXPORTED_PAIR, USUAL_BODY

from ...conftest import entry, fully
from ..conftest import NewPhone
from ..knitting import Knitting
from ..server import Server

LONG = 720 if fully() else 120
"""Entries of a logbook, nearly all of them of 3 kB."""

pytestmark = pytest.mark.usefixtures("without_worker")


def open_menus(page: Page) -> None:
    """Open the small menu of each card on the first page."""
    expect(page.locator(".pair-menu > summary").first).to_be_visible()
    for menu in page.locator(".pair-menu > summary").all():
        menu.tap()


def import_from(page: Page, file: Path) -> None:
    """From the first page."""
    page.get_by_text("Import a pair from a file").tap()
    page.get_by_label("A file that was exported").set_input_files(file)
    page.get_by_role("button", name="Import").tap()


def test_a_pair_moves_to_another_phone_by_a_file_and_can_be_told_apart_where_it_is_already(
    new_phone: NewPhone, server: Server, knitting: Knitting, tmp_path: Path
) -> None:
    page = knitting.page
    knitting.count(3)
    knitting.everything_is_sent()
    page.goto("/")
    when = page.locator(".pair-when")
    expect(when).to_have_text("Last knitted today")
    open_menus(page)
    with page.expect_download() as download:
        page.get_by_role("link", name="Export: Ismene").tap()
    file = tmp_path / download.value.suggested_filename
    download.value.save_as(file)
    assert file.name == "ismene-high-instep.tapeline.json"

    other = new_phone(server)
    other.goto("/")
    import_from(other, file)
    expect(other.get_by_text("Sock 1: 3 of")).to_be_visible()
    assert knitting.link not in other.url
    other.get_by_role("link", name="Knit", exact=True).tap()
    Knitting(other, other.url.split("/")[-2]).is_at(3)

    import_from(page, file)
    # The plan page may be left before it has put the pair into the list; the knit page has once it is painted.
    page.get_by_role("link", name="Knit", exact=True).tap()
    knitting.is_at(3)
    page.goto("/")
    expect(when).to_have_count(2)
    for row in range(2):
        expect(page.locator(".pair-place").nth(row)).to_have_text(re.compile(r"^Sock 1: cuff, round 4 of \d+$"))
        expect(when.nth(row)).to_have_text(re.compile(r"Last knitted today; opened \w{3} \d+ \w{3} \d{4}, \d\d:\d\d$"))
    open_menus(page)
    forget = page.get_by_role("button", name=re.compile("^Forget here: Ismene, high instep, opened "))
    expect(forget).to_have_count(2)
    forget.first.tap()
    expect(when).to_have_count(1)
    expect(when).to_have_text("Last knitted today")


def test_a_file_that_is_too_long_for_one_request_is_imported_whole(
    new_phone: NewPhone, server: Server, knitting: Knitting, tmp_path: Path
) -> None:
    """A knitter who writes a lot, in letters of three bytes each: it takes several messages to send it all.

    In the full run the file is longer than the server takes at once; else the page is told that the server takes less.
    """
    page = knitting.page
    pair = json.loads(page.request.get(f"/pair/{knitting.link}/export").text())
    notes = [entry(number, kind="note", data={"text": chr(0x3042 + number % 80) * 1000}) for number in range(1, LONG)]
    pair["log"] = [*notes, entry(LONG, round=2)]
    file = tmp_path / "long.json"
    file.write_text(json.dumps(pair, ensure_ascii=False), encoding="utf-8")
    page = new_phone(server)
    page.goto("/")
    form = page.locator("#import")
    expect(form).to_have_attribute("data-most-bytes", str(EXPORTED_PAIR - USUAL_BODY))
    if fully():
        assert file.stat().st_size > EXPORTED_PAIR
    else:
        form.evaluate("(form) => (form.dataset.mostBytes = '1000')")
    import_from(page, file)
    page.get_by_role("link", name="Knit", exact=True).tap()
    page.wait_for_url("**/knit")
    moved = Knitting(page, page.url.split("/")[-2])
    moved.is_at(2)
    moved.everything_is_sent()
    exported = json.loads(page.request.get(f"/pair/{moved.link}/export").text())
    assert [one["id"] for one in exported["log"]] == [one["id"] for one in pair["log"]]


def test_the_logbook_is_reached_from_the_menu_and_needs_no_script(
    new_phone: NewPhone, server: Server, knitting: Knitting
) -> None:
    knitting.count(2)
    knitting.everything_is_sent()
    knitting.open_menu()
    knitting.page.get_by_role("link", name="Logbook").tap()
    expect(knitting.page.get_by_text("Sock 1, cuff, after round 2: 2 rounds counted")).to_be_visible()
    page = new_phone(server, java_script_enabled=False)
    page.goto(f"/pair/{knitting.link}/logbook")
    expect(page.get_by_text("Sock 1, cuff, after round 2: 2 rounds counted")).to_be_visible()
    knitting.page.emulate_media(media="print")
    expect(knitting.page.get_by_role("button", name="Print")).to_be_hidden()
