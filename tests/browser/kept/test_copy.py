"""A copy of a pair is a file that counts by itself, and its counts come back into the pair once."""

from __future__ import annotations

import json
from pathlib import Path
from urllib.request import urlopen

import pytest
from playwright.sync_api import BrowserContext, Page, Playwright, expect

from companion.pair.file import read_pair_file

from ..chromium import PhoneOnDisk, Watch
from ..given import NO_WORKERS
from ..knitting import APART, Knitting
from ..other_browsers import DOWNLOADS, HAS_FIREFOX, HAS_WEBKIT, OtherBrowser, firefox, webkit_on_disk
from ..server import Server


def saved_by(page: Page, button: str, file: Path) -> Path:
    """What the menu of the knit page gives to save."""
    page.get_by_text("Menu", exact=True).tap()
    with page.expect_download() as download:
        page.locator("#menu").get_by_text(button, exact=True).tap()
    download.value.save_as(file)
    page.keyboard.press("Escape")
    return file


def import_file(context: BrowserContext, file: Path) -> Page:
    page = context.new_page()
    page.goto("/")
    page.get_by_text("Import a pair from a file").tap()
    page.get_by_label("A file that was exported").set_input_files(file)
    page.get_by_role("button", name="Import").tap()
    return page


def opened(context: BrowserContext, copy: Path) -> Knitting:
    page = context.new_page()
    page.goto(copy.as_uri())
    knitting = Knitting(page, "")
    knitting.is_ready()
    return knitting


def test_a_copy_counts_without_the_server_and_its_counts_come_back_once(
    playwright: Playwright, server: Server, tmp_path: Path
) -> None:
    """Without a worker, which has nothing to do with a file."""
    on_disk = PhoneOnDisk(playwright, tmp_path / "phone", server.address)
    link = server.add_pair()
    context = on_disk.start()
    context.add_init_script(NO_WORKERS)
    watch = Watch()
    watch.follow(context)
    knitting = Knitting(context.pages[0], link).open()
    knitting.count(2)
    knitting.everything_is_sent()
    copy = saved_by(knitting.page, "A copy to count from", tmp_path / "socks.html")

    knitting.page.goto("about:blank")
    context.set_offline(True)
    counting = opened(context, copy)
    counting.is_at(2)
    counting.count(3)
    counting.page.locator("#undo").tap()
    counting.is_at(4)
    counting.page.locator("#note-it").tap()
    counting.page.get_by_role("dialog").locator("textarea").fill("On the train.")
    counting.page.get_by_role("button", name="Keep it").tap()
    expect(counting.page.locator("#kept")).to_have_text("Kept here; 5 not in the pair yet.")
    assert counting.page.locator('a[href^="/"]:visible').count() == 0  # nothing leads where there is no server
    on_disk.kill()

    context = on_disk.start()
    context.add_init_script(NO_WORKERS)
    context.set_offline(True)
    watch.follow(context)
    counting = opened(context, copy)
    counting.is_at(4)
    saved = saved_by(counting.page, "Save my counts", tmp_path / "counts.json")
    assert watch.problems == []

    context.set_offline(False)
    for _ in range(2):  # the second time there is nothing new in it
        page = import_file(context, saved)
        page.wait_for_url(f"**/pair/{link}/knit")
        knitting = Knitting(page, link)
        knitting.is_at(4)
        expect(page.locator("#what-was-done")).to_have_text("What the copy has counted is in this pair now.")
        knitting.everything_is_sent()
        kept = [(one.kind, one.round) for one in server.entries(link)]
        counts = [("count", number) for number in (1, 2, 3, 4, 5)]
        assert kept == [*counts, ("undo", 4), ("note", 4)]

    # A later copy has it all, and knows that the pair has it.
    newer = saved_by(page, "A copy to count from", tmp_path / "newer.html")
    counting = opened(context, newer)
    counting.is_at(4)
    expect(counting.page.locator("#kept")).to_have_text("Kept here.")
    counting.page.locator("#undo").tap()
    counting.is_at(3)
    context.close()


def copied(server: Server, folder: Path) -> Path:
    """The file of a fresh pair."""
    file = folder / "socks.html"
    with urlopen(f"{server.address}/pair/{server.add_pair()}/copy") as answer:
        file.write_bytes(answer.read())
    return file


def test_a_browser_that_cannot_count_from_a_copy_shows_its_pattern(server: Server, page: Page, tmp_path: Path) -> None:
    file = copied(server, tmp_path)
    assert page.context.browser
    for scripts, words in ((False, "Opening…"), (True, "This browser is too old to count from this file.")):
        with page.context.browser.new_context(java_script_enabled=scripts) as context:
            context.add_init_script("delete window.DecompressionStream")
            shown = context.new_page()
            shown.goto(file.as_uri())
            expect(shown.locator("#ahead")).to_contain_text(words)
            expect(shown.locator("#written")).to_contain_text("Cast on")


@pytest.mark.skipif(not HAS_FIREFOX, reason="Firefox is not installed; tests/run says which packages have it")
def test_firefox_keeps_the_counts_of_a_copy_and_saves_them(server: Server, tmp_path: Path) -> None:
    file = copied(server, tmp_path)
    folder = tmp_path / "browser"
    folder.mkdir()
    with firefox(folder) as window:
        window.goto(file.as_uri())
        window.shows("#progress", r"^0 of \d+$")
        window.count(3)
        window.shows("#progress", r"^3 of ")
    with firefox(folder) as window:  # the one before was killed
        window.goto(file.as_uri())
        window.shows("#progress", r"^3 of ")
        window.tap("#undo")
        window.shows("#kept", r"^Kept here; 4 not in the pair yet\.$")
        window.shows("#about-copy button", "Save my counts")  # brought once the round is painted
        window.call("() => [...document.querySelectorAll('#about-copy button')].pop().click()")
        window.shows("#about-copy [role=status]", "with your downloads")
        found = json.loads(_downloaded(window, folder / DOWNLOADS))
    pair, faults = read_pair_file(found)
    assert pair, faults
    assert [(one.kind, one.round) for one in pair.log] == [("count", 1), ("count", 2), ("count", 3), ("undo", 2)]


def _downloaded(window: OtherBrowser, folder: Path) -> str:
    """The one file that was saved, once it is whole."""
    for _ in range(100):
        names = [file for file in folder.glob("*") if file.suffix != ".part"]
        if names and names[0].stat().st_size and not list(folder.glob("*.part")):
            return names[0].read_text()
        window.wait(APART)
    raise AssertionError("nothing was saved")


@pytest.mark.skipif(not HAS_WEBKIT, reason="WebKit is not installed; tests/run says what has it")
def test_webkit_keeps_the_counts_of_a_copy(server: Server, tmp_path: Path) -> None:
    file = copied(server, tmp_path)
    folder = tmp_path / "browser"
    folder.mkdir()
    with webkit_on_disk(folder, file.as_uri()) as window:
        window.shows("#progress", r"^0 of \d+$")
        window.count(2)
        window.shows("#progress", r"^2 of ")
    with webkit_on_disk(folder, file.as_uri()) as window:  # the one before was killed
        window.shows("#progress", r"^2 of ")
        window.shows("#kept", r"^Kept here; 2 not in the pair yet\.$")
