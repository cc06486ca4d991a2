"""A count is written down before it is painted, or said to be lost."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from ..conftest import NewPhone
from ..knitting import Knitting
from ..server import Server

pytestmark = pytest.mark.usefixtures("without_worker")

FULL = """() => {
    window.add = IDBObjectStore.prototype.add;
    IDBObjectStore.prototype.add = () => { throw new Error('the device is full') };
}"""

NO_NOTES = """() => {
    const given = IDBIndex.prototype.getAll;
    IDBIndex.prototype.getAll = function (...asked) {
        if (this.name === "notes") throw new DOMException("gone", "UnknownError");
        return given.apply(this, asked);
    };
}"""
HELD_READING = """async () => {
    const { set } = Object.getOwnPropertyDescriptor(IDBTransaction.prototype, "oncomplete");
    const held = [];
    let free = false;
    const asked = new Promise((read) => {
        const hold = (answer) => (event) => {
            if (free) return answer(event);
            held.push(() => answer(event));
            read();
        };
        Object.defineProperty(IDBTransaction.prototype, "oncomplete", {
            set(answer) { set.call(this, this.mode === "readonly" ? hold(answer) : answer); },
        });
    });
    window.shown = [];
    const progress = document.getElementById("progress");
    new MutationObserver(() => shown.push(parseInt(progress.textContent))).observe(progress, { childList: true });
    window.letGo = () => {
        free = true;
        for (const answer of held) answer();
    };
    new BroadcastChannel("tapeline").postMessage(location.pathname.split("/")[2]);
    await asked;
}"""
"""What another tab tells of has the page read the pair again; its answers are held back until `letGo`."""


def test_a_count_that_cannot_be_kept_is_reported_whole_and_not_painted(knitting: Knitting) -> None:
    page = knitting.page
    page.set_viewport_size({"width": 800, "height": 360})
    page.evaluate(FULL)
    knitting.let_time_pass()
    knitting.done.tap()
    expect(page.locator("#kept")).to_contain_text("was not kept, so the round stays: the device is full")
    knitting.is_at(0)
    assert page.locator(".between").evaluate("(told) => told.scrollHeight <= told.clientHeight"), "on its side"
    knitting.page.evaluate("() => { IDBObjectStore.prototype.add = window.add }")
    knitting.count()
    knitting.everything_is_sent()
    notes_that_the_browser_does_not_give_do_not_hinder_counting(knitting)


def notes_that_the_browser_does_not_give_do_not_hinder_counting(knitting: Knitting) -> None:
    knitting.page.evaluate(NO_NOTES)
    knitting.count()
    knitting.count()
    knitting.is_at(3)
    knitting.everything_is_sent()


def test_storage_that_is_cleared_under_an_open_page_is_reported_in_words(knitting: Knitting) -> None:
    page = knitting.page
    knitting.count()
    knitting.everything_is_sent()
    session = page.context.new_cdp_session(page)
    session.send("Storage.clearDataForOrigin", {"origin": page.url.split("/pair/")[0], "storageTypes": "indexeddb"})
    knitting.let_time_pass()
    knitting.done.tap()
    expect(page.locator("#kept")).to_have_text(
        "The tap was not kept, so the round stays: the browser has cleared away what was kept here; "
        "load the page again to go on."
    )
    knitting.is_at(1)
    page.get_by_role("button", name="Note", exact=True).tap()
    page.get_by_label("Note", exact=True).fill("Birch")
    page.get_by_role("button", name="Keep it").tap()
    expect(page.get_by_role("dialog").get_by_role("alert")).to_contain_text("cleared away what was kept here")
    knitting.open()
    knitting.is_at(1)
    knitting.count()
    knitting.everything_is_sent()


def test_a_count_is_not_painted_over_by_what_was_read_before_it(knitting: Knitting) -> None:
    knitting.is_complete()
    knitting.page.wait_for_load_state("networkidle")
    knitting.page.evaluate(HELD_READING)
    knitting.count()
    knitting.page.evaluate("letGo()")
    knitting.everything_is_sent()
    assert knitting.page.evaluate("shown") == [1]


def test_two_tabs_of_a_pair_count_each_tap_once(new_phone: NewPhone, server: Server, link: str) -> None:
    context = new_phone(server).context
    tabs = [Knitting(context.new_page(), link).open() for _ in range(2)]
    for _ in range(5):
        for tab in tabs:
            tab.page.evaluate("() => void document.getElementById('done').click()")
        for tab in tabs:
            tab.let_time_pass()
    for tab in tabs:
        tab.is_at(10)
        tab.everything_is_sent()
    assert server.counted(link) == list(range(1, 11))
