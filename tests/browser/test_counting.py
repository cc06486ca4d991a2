"""Counts are written down by a worker beside the page, and by the page itself where there is none."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from .conftest import NewPhone
from .knitting import Knitting
from .server import Server

BUSY = 3_000
"""Milliseconds that a page is held up for."""

TAP_AND_BE_BUSY = """(busy) => {
    document.getElementById("done").click();
    setTimeout(() => {
        const end = Date.now() + busy;
        while (Date.now() < end);
        window.free = Date.now();
    });
}"""

COUNTED = """async () => {
    const open = indexedDB.open("tapeline");
    await new Promise((done) => (open.onsuccess = done));
    for (;;) {
        const asked = open.result.transaction("log").objectStore("log").count();
        await new Promise((done) => (asked.onsuccess = done));
        if (asked.result) return Date.now();
        await new Promise((done) => setTimeout(done, 20));
    }
}"""

FULL = "() => { IDBObjectStore.prototype.add = () => { throw new Error('the device is full') } }"

SLOW_READING = """() => {
    const { set } = Object.getOwnPropertyDescriptor(IDBTransaction.prototype, "oncomplete");
    const later = (answer) => (event) => setTimeout(answer, 500, event);
    Object.defineProperty(IDBTransaction.prototype, "oncomplete", {
        set(answer) { set.call(this, this.mode === "readonly" ? later(answer) : answer); },
    });
    window.shown = [];
    const progress = document.getElementById("progress");
    new MutationObserver(() => shown.push(parseInt(progress.textContent))).observe(progress, { childList: true });
    new BroadcastChannel("tapeline").postMessage(location.pathname.split("/")[2]);
}"""
"""What another tab tells of has the page read the pair again; its answers come late."""


def writes_beside(knitting: Knitting) -> None:
    """Wait until the worker is there that writes counts down."""
    knitting.is_complete()
    page = knitting.page
    while not any("count-worker" in worker.url for worker in page.workers):
        page.wait_for_event("worker")
    page.wait_for_load_state("networkidle")


def test_a_count_is_on_disk_however_busy_its_page_is(knitting: Knitting) -> None:
    writes_beside(knitting)
    other = knitting.page.context.new_page()
    other.goto("/")
    knitting.page.evaluate(TAP_AND_BE_BUSY, BUSY)
    kept = other.evaluate(COUNTED)
    knitting.is_at(1)
    assert kept < knitting.page.evaluate("free")


def test_without_workers_the_page_counts_by_itself(page: Page, server: Server, link: str) -> None:
    page.add_init_script("delete window.Worker")
    knitting = Knitting(page, link).open()
    knitting.is_complete()
    knitting.count(3)
    page.locator("#undo").tap()
    knitting.is_at(2)
    knitting.everything_is_sent()
    assert [(entry.kind, entry.round) for entry in server.entries(link)][-2:] == [("count", 3), ("undo", 2)]


def test_a_count_that_the_worker_cannot_keep_is_told_and_not_painted(knitting: Knitting) -> None:
    writes_beside(knitting)
    [worker] = knitting.page.workers
    worker.evaluate("() => { self.add = IDBObjectStore.prototype.add }")
    worker.evaluate(FULL)
    knitting.let_time_pass()
    knitting.done.tap()
    expect(knitting.page.locator("#kept")).to_contain_text("could not be kept, so the round stays: the device is full")
    knitting.is_at(0)
    worker.evaluate("() => { IDBObjectStore.prototype.add = self.add }")
    knitting.count()
    knitting.everything_is_sent()


def test_a_count_is_not_painted_over_by_what_was_read_before_it(knitting: Knitting) -> None:
    writes_beside(knitting)
    knitting.page.evaluate(SLOW_READING)
    knitting.let_time_pass()
    knitting.done.tap()
    knitting.is_at(1)
    knitting.everything_is_sent()
    knitting.page.evaluate("() => new Promise((go) => setTimeout(go, 1500))")
    assert knitting.page.evaluate("shown") == [1]


def test_two_tabs_of_a_pair_count_each_tap_once(new_phone: NewPhone, server: Server, link: str) -> None:
    context = new_phone(server)
    tabs = [Knitting(context.new_page(), link).open() for _ in range(2)]
    for tab in tabs:
        writes_beside(tab)
    for _ in range(10):
        for tab in tabs:
            tab.page.evaluate("() => void document.getElementById('done').click()")
        for tab in tabs:
            tab.let_time_pass()
    for tab in tabs:
        tab.is_at(20)
        tab.everything_is_sent()
    assert server.counted(link) == list(range(1, 21))
