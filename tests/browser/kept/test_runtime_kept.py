"""What a phone calculates with is here whole or not at all, whatever ends or fills it."""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, Playwright, expect

from companion.on_phone.runtime import ENGINE, installed, library

from ...conftest import fully
from ...on_phone import NOT_HERE, RUNTIME
from ..checking import count
from ..chromium import PhoneOnDisk
from ..conftest import NewPhone
from ..given import NO_WORKERS
from ..knitting import Knitting
from ..server import Server
from ..used_phone import UsedPhones
from .calculating import OFFER, fetch_runtime

pytestmark = pytest.mark.skipif(not installed(RUNTIME), reason=NOT_HERE)

PART = 4_000_000
"""Bytes, of which there are more in all of it."""

MODULE = """const scripts = document.querySelector("script[src*='/static/']").src.split("/js/")[0];
    const { CACHE, keepRuntime, offered, runtimeHere } = await import(`${scripts}/js/phone/runtime.js`);"""

BEGIN = f"""async (part) => {{
    {MODULE}
    const there = await offered();
    window.reached = new Promise((reached) => keepRuntime(there, (now) => now >= part && reached(true)));
}}"""
HERE = f"async () => {{ {MODULE} return runtimeHere(); }}"
FETCH = f"async () => {{ {MODULE} await keepRuntime(await offered()); return runtimeHere(); }}"
OFFERED = f"async () => {{ {MODULE} return offered(); }}"
SUMS = """async (files) => {
    const hex = (bytes) => [...new Uint8Array(bytes)].map((one) => one.toString(16).padStart(2, "0")).join("");
    const sums = {};
    for (const [name, url] of Object.entries(files)) {
        const bytes = await (await caches.match(url)).arrayBuffer();
        sums[name] = hex(await crypto.subtle.digest("SHA-256", bytes));
    }
    return sums;
}"""
KEEP_MADE = """async (link) => {
    const scripts = document.querySelector("script[src*='/static/']").src.split("/js/")[0];
    const { keepMade } = await import(`${scripts}/js/phone/made-here.js`);
    const { listPairs } = await import(`${scripts}/js/pair/pairs-here.js`);
    const socks = [{ script: 0 }, { script: 0 }];
    const data = { title: "Ash", socks, scripts: [{ revision: 1, total: 9 }] };
    const { put } = IDBObjectStore.prototype;
    IDBObjectStore.prototype.put = function (...given) {
        if (this.name === "meta") throw new DOMException("the device is full", "QuotaExceededError");
        return put.apply(this, given);
    };
    const failed = await keepMade(link, "v", { data, file: {}, plan: "" }).then(() => false, () => true);
    IDBObjectStore.prototype.put = put;
    return [failed, (await listPairs()).filter((pair) => pair.link === link).length];
}"""


@pytest.fixture(scope="module")
def used_phones(chromium: Browser, calculating: Server) -> UsedPhones:
    """Phones that have met the server that offers it, and have none of it."""
    return UsedPhones(chromium, calculating.address)


def whole(page: Page, runtime: dict[str, Any]) -> None:
    """Each file is the one that was pinned."""
    sums = page.evaluate(SUMS, runtime["files"])
    name, compiled = library(RUNTIME)
    pinned = {**ENGINE, name: hashlib.sha256(compiled).hexdigest()}
    assert {name: sums[name] for name in pinned} == pinned


def test_a_phone_that_dies_while_it_is_fetched_has_none_until_it_is_whole(
    playwright: Playwright, calculating: Server, tmp_path: Path
) -> None:
    """Without a worker, which has no part in it."""
    phone = PhoneOnDisk(playwright, tmp_path / "phone", calculating.address)

    def begun() -> Page:
        page = phone.start().pages[0]
        page.add_init_script(NO_WORKERS)
        page.goto("/")
        return page

    page = begun()
    for part in (0.1, 0.5, 0.8) if fully() else (0.5,):
        page.evaluate(BEGIN, part)
        page.evaluate("window.reached")
        phone.kill()
        page = begun()
        assert page.evaluate(HERE) is None
    whole(page, page.evaluate(FETCH))
    page.context.close()
    page = begun()
    whole(page, page.evaluate(HERE))
    page.context.close()


def test_who_removes_it_or_has_no_web_assembly_waits_for_the_network(new_phone: NewPhone, calculating: Server) -> None:
    link = calculating.add_pair()
    page = new_phone(calculating)
    knitting = Knitting(page, link).open()
    knitting.go_to_round(41)
    knitting.everything_is_sent()
    fetch_runtime(page)
    knitting.is_complete()
    knitting.open_menu()
    page.get_by_role("button", name="Remove it").tap()
    expect(page.get_by_role("button", name=OFFER)).to_be_visible()
    assert page.evaluate(HERE) is None

    page = page.context.new_page()
    page.add_init_script("delete globalThis.WebAssembly")
    knitting = Knitting(page, link).open()
    knitting.is_complete()
    knitting.open_menu()
    assert page.evaluate(OFFERED) is None
    expect(page.get_by_role("button", name=OFFER)).to_have_count(0)
    page.keyboard.press("Escape")
    page.context.set_offline(True)
    page.get_by_role("link", name="Gauge check").tap()
    count(page, "27", "38")
    expect(page.locator("#unseen-check")).to_have_text("Gauge check kept. What it means comes with the network.")


def test_a_full_phone_says_so_and_counts_on(new_phone: NewPhone, calculating: Server) -> None:
    link = calculating.add_pair()
    page = new_phone(calculating)
    knitting = Knitting(page, link).open()
    knitting.everything_is_sent()
    knitting.is_complete()
    knitting.works_without_network()
    knitting.open_menu()
    session = page.context.new_cdp_session(page)
    origin = {"origin": calculating.address}
    room = session.send("Storage.getUsageAndQuota", origin)["usage"] + PART
    session.send("Storage.overrideQuotaForOrigin", {**origin, "quotaSize": room})
    page.get_by_role("button", name=OFFER).tap()
    expect(page.get_by_text("There is no room for it on this phone.")).to_be_visible()
    assert page.evaluate(HERE) is None
    assert page.evaluate("caches.has('runtime')") is False, "what came of it would take the room of counts"
    page.keyboard.press("Escape")
    # Nor does half a pair stay of one for which there is no room.
    assert page.evaluate(KEEP_MADE, "bG9uZy1lbm91Z2gtbGluaw") == [True, 0]
    knitting.count(2)
    # Nor is there room for another byte: a count is so little that it is kept all the same.
    session.send("Storage.overrideQuotaForOrigin", {**origin, "quotaSize": 1})
    knitting.count()
    page.reload()
    knitting.is_at(3)
    knitting.everything_is_sent()
    assert calculating.counted(link) == [1, 2, 3]
    session.detach()  # there is room again
