"""A clock that none can go on from, as a phone may have taken it over before there was a limit, stops no counting."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from ..knitting import ALL_SENT, Knitting
from ..server import Server

FURTHEST = 2**53 - 1

TAKE_OVER = """async ([link, clock]) => {
    const open = indexedDB.open("tapeline");
    const database = await new Promise((done) => (open.onsuccess = () => done(open.result)));
    const stores = database.transaction(["pairs", "log"], "readwrite");
    const got = (asked) => new Promise((done) => (asked.onsuccess = () => done(asked.result)));
    const record = await got(stores.objectStore("pairs").get(link));
    const last = record.ends[1][0];
    const name = (end) => "00000000-0000-4000-8000-00000000000" + end;
    const at = "2025-11-03T19:30:00Z";
    const device = "bbbbbbbb-0000-4000-8000-000000000002";
    const jump = { ...last, id: name(1), device, clock, at, kind: "go", round: 40, after: [last.id] };
    const mine = { ...last, id: name(2), clock: clock + 1, round: 3, after: [last.id] };
    stores.objectStore("log").put({ ...jump, link, sent: 1 });
    stores.objectStore("log").put({ ...mine, link, sent: 2, why: "refused" });
    record.ends[1] = [jump];
    stores.objectStore("pairs").put({ ...record, clock, round: { 1: 40, 2: 0 } });
    await new Promise((done) => (stores.oncomplete = done));
    database.close();
}"""
"""The phone has heard of a jump of another device with the highest clock there was, and the server refused a count."""


@pytest.mark.usefixtures("without_worker")
def test_a_clock_that_none_can_go_on_from_stops_no_counting(server: Server, link: str, knitting: Knitting) -> None:
    knitting.count(2)
    expect(knitting.page.locator("#kept")).to_contain_text(ALL_SENT)
    knitting.page.evaluate(TAKE_OVER, [link, FURTHEST])
    knitting.page.reload()
    knitting.is_at(3)
    expect(knitting.page.locator("#kept")).to_contain_text("1 not taken by the server, kept here: its clock is too far")
    knitting.count()
    expect(knitting.page.locator("#kept")).to_contain_text(ALL_SENT)
    assert server.counted(link) == [1, 2, 3, 4]
    assert sorted(entry.clock for entry in server.entries(link)) == [1, 2, 3, 4]
