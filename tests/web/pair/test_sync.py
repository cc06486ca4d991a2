"""Logbooks meet at the server: nothing lost, nothing twice, the same place everywhere."""

from __future__ import annotations

from itertools import permutations
from pathlib import Path
from typing import Any

import pytest
from flask import Flask

from ...conftest import Browser, entry, fully
from ...storing import quarantined
from ..checking import LOOSE

# Each statement that a sync makes is run over both in tests/store, with what comes of it.
OVER_BOTH_DATABASES = fully()

OTHER_PHONE = "bbbbbbbb-0000-4000-8000-000000000002"


def send(browser: Browser, link: str, *entries: object, after: int = 0) -> dict[str, Any]:
    answer = browser.post_json(f"/pair/{link}/log", {"after": after, "entries": entries})
    assert answer.status_code == 200
    found: dict[str, Any] = answer.get_json()
    return found


def test_counts_are_kept_and_answered(browser: Browser, link: str) -> None:
    assert send(browser, link, entry(1), entry(2)) == {
        "kept": [entry(1)["id"], entry(2)["id"]],
        "set_aside": [],
        "entries": [],
        "anew": False,
        "epoch": browser.get(f"/pair/{link}/pair.json").get_json()["epoch"],
        "cursor": 2,
        "last": entry(2)["id"],
        "revision": 1,
        "round": {"1": 2, "2": 0},
    }


def test_sending_again_changes_nothing(browser: Browser, link: str) -> None:
    first = send(browser, link, entry(1), entry(2))
    assert send(browser, link, entry(1), entry(2)) == first
    assert send(browser, link)["round"] == first["round"]


def test_another_phone_gets_what_it_has_not_seen(app: Flask, browser: Browser, link: str) -> None:
    send(browser, link, entry(1), entry(2))
    other = Browser(app.test_client())
    first = send(other, link)
    assert first["entries"] == [entry(1), entry(2)]
    mine = entry(3, device=OTHER_PHONE)
    second = send(other, link, mine, after=first["cursor"])
    assert second["entries"] == []
    assert send(browser, link, after=2)["entries"] == [mine]


def test_a_remark_reaches_the_other_phone_and_moves_nothing(app: Flask, browser: Browser, link: str) -> None:
    note = entry(2, kind="note", round=1, data={"text": "The heel begins where the lamp stood."})
    assert send(browser, link, entry(1), note)["round"]["1"] == 1
    assert send(Browser(app.test_client()), link, after=1)["entries"] == [note]


def test_the_order_of_arrival_does_not_matter(browser: Browser) -> None:
    """Two phones counted on from the same round without network; the later clock holds, then the device."""
    entries = [entry(1), entry(2), entry(12, clock=2, device=OTHER_PHONE, round=9), entry(13, clock=3, round=3)]
    places = set()
    for order in permutations(entries):
        link = browser.make_pair()
        for one in order:
            last = send(browser, link, one)
        places.add(last["round"]["1"])
    assert places == {3}


def test_a_full_logbook_says_so_to_the_phone(browser: Browser, link: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("companion.store.log.MOST_ENTRIES", 2)
    url = f"/pair/{link}/log"
    assert browser.post_json(url, {"entries": [entry(1), entry(2)]}).status_code == 200
    answer = browser.post_json(url, {"entries": [entry(3)]})
    assert answer.status_code == 413
    assert answer.get_json()["error"] == "too-large"
    assert "The logbook of this pair is full: 2 entries are kept of a pair." in answer.get_json()["message"]
    assert browser.post_json(url, {"entries": [entry(2)]}).get_json()["kept"] == [entry(2)["id"]]
    page = browser.post(f"/pair/{link}/check", LOOSE)
    assert page.status_code == 413
    assert "is full" in page.text


@pytest.mark.parametrize("damaged", [{**entry(2), "round": -1}, {**entry(2), "kind": "danced"}, {"id": entry(2)["id"]}])
def test_a_damaged_entry_is_set_aside_and_the_rest_kept(
    app: Flask, browser: Browser, link: str, store_path: Path, damaged: dict[str, Any]
) -> None:
    found = send(browser, link, entry(1), damaged, entry(3))
    assert found["kept"] == [entry(1)["id"], entry(3)["id"]]
    assert [one["id"] for one in found["set_aside"]] == [entry(2)["id"]]
    assert found["set_aside"][0]["why"]
    assert found["round"]["1"] == 3
    send(browser, link, damaged)
    store = app.extensions["store"]
    pair = store.find_pair(link)
    assert len(quarantined(store_path, pair)) == 1


@pytest.mark.parametrize("clock", [2**53 - 1, 2**48, 2_000_000])
def test_a_clock_far_ahead_of_all_others_takes_none_along(
    app: Flask, browser: Browser, link: str, store_path: Path, clock: int
) -> None:
    send(browser, link, entry(1))
    found = send(browser, link, entry(7, clock=clock), entry(2))
    assert [one["id"] for one in found["set_aside"]] == [entry(7)["id"]]
    assert "allowed up to" in found["set_aside"][0]["why"]
    assert (found["kept"], found["round"]["1"]) == ([entry(2)["id"]], 2)
    assert browser.get(f"/pair/{link}/pair.json").get_json()["clock"] == 2
    store = app.extensions["store"]
    [(_, _, raw)] = quarantined(store_path, store.find_pair(link))
    assert str(clock) in raw


def test_a_phone_that_was_away_for_a_million_counts_is_heard(browser: Browser, link: str) -> None:
    send(browser, link, entry(1))
    far = [entry(number, clock=number * 1_000_000) for number in (2, 3)]
    assert len(send(browser, link, entry(9, clock=1_000_001), *far)["kept"]) == 3
    assert send(browser, link, entry(4, clock=3_000_001))["round"]["1"] == 4


@pytest.mark.parametrize("damaged", [None, 1, "x", [], {}, {"id": 5}, {"id": "\ud800"}, {"\ud800": 1}])
def test_what_is_no_entry_at_all_is_set_aside_too(browser: Browser, link: str, damaged: object) -> None:
    found = send(browser, link, damaged, entry(1))
    assert len(found["set_aside"]) == len(found["kept"]) == 1


def test_a_whole_sock_goes_in_one_message(browser: Browser, link: str) -> None:
    found = send(browser, link, *(entry(number) for number in range(1, 501)))
    assert len(found["kept"]) == 500
    assert found["round"]["1"] == 500


def test_pairs_do_not_mix(browser: Browser, link: str) -> None:
    other = browser.make_pair()
    send(browser, link, entry(1))
    assert send(browser, other)["round"] == {"1": 0, "2": 0}
    assert send(browser, other)["entries"] == []


def test_a_fresh_token_can_be_fetched(browser: Browser, link: str) -> None:
    url = f"/pair/{link}/log"
    stale = browser.client.post(url, json={}, headers={"X-CSRFToken": "stale"})
    assert stale.get_json()["error"] == "csrf"
    fresh = browser.client.get("/csrf").get_json()["token"]
    assert browser.client.post(url, json={}, headers={"X-CSRFToken": fresh}).status_code == 200


def test_what_no_database_can_hold_is_set_aside_and_the_rest_is_kept(browser: Browser, link: str) -> None:
    """PostgreSQL has no NUL in a text (postgresql.org/docs/current/datatype-character.html)."""
    note = entry(1, kind="note", round=0, data={"text": "a\0b"})
    sent = [note, entry(2, id="x\0y"), {"a\0": 1}, "\ud800\0", 2**70, entry(3, round=2**70)]
    answer = browser.post_json(f"/pair/{link}/log", {"entries": [*sent, entry(4)]}).get_json()
    assert len(answer["set_aside"]) + len(answer["kept"]) == 7
    assert answer["kept"][-1] == entry(4)["id"]
