"""A pair goes into a file and comes back whole; a file that is none is told in words."""

from __future__ import annotations

import io
import json
from typing import Any

import pytest
from flask import Flask
from werkzeug.datastructures import FileStorage
from werkzeug.test import TestResponse, encode_multipart

from companion.pair import Revision
from companion.store import Store

from ..conftest import Browser, entry

NOTE = entry(3, kind="note", round=2, data={"text": "ß ½ <b>"})


@pytest.fixture
def knitted(app: Flask, browser: Browser, link: str) -> str:
    """A pair with counts, a note, a change and a change taken back."""
    entries = [entry(1, after=[]), entry(2, after=[entry(1)["id"]]), NOTE]
    assert browser.post_json(f"/pair/{link}/log", {"after": 0, "entries": entries}).status_code == 200
    store: Store = app.extensions["store"]
    pair = store.find_pair(link)
    assert pair
    first = store.revisions(pair)[0]
    for number in (1, 2):
        store.add_revision(pair, Revision(number, 1, 2, 0, "Sock 1 changed", first.plan), "{}", "rest")
    store.withdraw(pair, 3)
    return link


def exported(browser: Browser, link: str) -> dict[str, Any]:
    answer = browser.get(f"/pair/{link}/export")
    assert answer.status_code == 200
    assert answer.headers["Content-Disposition"] == 'attachment; filename="thursday-socks.tapeline.json"'
    found: dict[str, Any] = json.loads(answer.data)
    return found


def imported(browser: Browser, body: bytes) -> TestResponse:
    # Encoded here, because the test client leaves the file open that it writes a large form to.
    file = FileStorage(io.BytesIO(body), "pair.json", "pair")
    boundary, form = encode_multipart({"pair": file, "csrf_token": browser.token()})
    return browser.client.post("/import", data=form, content_type=f"multipart/form-data; boundary={boundary}")


def test_a_pair_comes_back_whole_under_a_link_of_its_own(app: Flask, browser: Browser, knitted: str) -> None:
    document = exported(browser, knitted)
    assert [one["state"] for one in document["revisions"]] == ["accepted", "accepted", "withdrawn"]
    assert document["log"][2] == NOTE
    assert knitted not in json.dumps(document)
    answer = imported(browser, json.dumps(document).encode())
    assert answer.status_code == 303
    link = answer.headers["Location"].removeprefix("/pair/")
    assert link != knitted
    assert exported(browser, link) == document
    before, after = (browser.get(f"/pair/{one}/pair.json").get_json() for one in (knitted, link))
    assert [sock["round"] for sock in after["socks"]] == [2, 0]
    assert {**after, "cursor": 0} == {**before, "cursor": 0}
    store: Store = app.extensions["store"]
    pairs = [store.find_pair(one) for one in (knitted, link)]
    kept, copied = (list(store.entries(pair).values()) for pair in pairs if pair)
    assert kept == copied


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"format": "diary"}, "no exported pair"),
        ({"version": 2}, "a newer Tapeline has written it"),
        ({"version": "1"}, "version: 1 given"),
        ({"unit": "furlong"}, "unit: furlong given"),
        ({"unit": "\ud800"}, r"unit: \ud800 given"),
        ({"revisions": []}, "revisions: at least 1 is needed"),
        ({"log": [entry(1, round=-1)]}, "log.0.round: -1 given"),
        ({"log": [entry(1), entry(1)]}, "the same id"),
        ({"extra": 1}, "extra: 1 given"),
    ],
)
def test_what_is_wrong_with_a_file_is_told(browser: Browser, link: str, change: dict[str, Any], words: str) -> None:
    answer = imported(browser, json.dumps({**exported(browser, link), **change}).encode())
    assert answer.status_code == 422
    assert "This file cannot be imported" in answer.text
    assert words in answer.text


def test_a_plan_that_does_not_read_is_told(browser: Browser, link: str) -> None:
    document = exported(browser, link)
    document["revisions"][0]["plan"]["sections"] = []
    answer = imported(browser, json.dumps(document).encode())
    assert answer.status_code == 422
    assert "revisions.0.plan.sections" in answer.text


@pytest.mark.parametrize("body", [b"", b"{", b"\xff\xfe", b"[]", b"null", b'{"format": NaN}', b"[" * 100_000])
def test_what_is_no_document_is_told(browser: Browser, body: bytes) -> None:
    assert imported(browser, body).status_code == 422


def test_no_file_is_told(browser: Browser) -> None:
    assert "No file was chosen" in browser.post("/import", {}).text


def test_a_long_logbook_goes_and_comes(browser: Browser, link: str) -> None:
    document = exported(browser, link)
    document["log"] = [entry(number, round=number % 5000, after=[]) for number in range(1, 20_001)]
    answer = imported(browser, json.dumps(document).encode())
    assert answer.status_code == 303
    assert len(exported(browser, answer.headers["Location"].removeprefix("/pair/"))["log"]) == 20_000


def test_the_logbook_page_tells_what_happened_in_the_zone_asked_for(browser: Browser, knitted: str) -> None:
    page = browser.get(f"/pair/{knitted}/logbook").text
    assert "Mon 3 Nov 2025" in page
    for words in (
        "2 rounds counted, 2 rounds done",
        "Note: ß ½ &lt;b&gt;",
        "The plan was changed. Sock 1 changed",
        "19:30",
    ):
        assert words in page, words
    assert page.count("The plan was changed") == 1
    assert "22:30" in browser.get(f"/pair/{knitted}/logbook?zone=Africa/Nairobi").text
    for odd in ("Nowhere/Land", "../../etc/passwd", "%00", "/"):
        assert "zone UTC" in browser.get(f"/pair/{knitted}/logbook?zone={odd}").text
