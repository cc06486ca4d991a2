"""A pair goes into a file and comes back whole; what is not one is refused in words."""

from __future__ import annotations

import io
import json
from typing import Any
from urllib.parse import urlsplit

import pytest
from flask import Flask
from werkzeug.datastructures import FileStorage
from werkzeug.test import TestResponse, encode_multipart

from companion.pair.file import read_pair_file
from companion.pair.revisions import Revision
from companion.planning.faults import MOST_FAULTS
from companion.store import Store

from ....conftest import Browser, entry

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


def link_in(answer: TestResponse) -> str:
    """The link of the pair that an import leads to."""
    return urlsplit(answer.headers["Location"]).path.removeprefix("/pair/")


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
    link = link_in(answer)
    assert link != knitted
    assert exported(browser, link) == document
    before, after = (browser.get(f"/pair/{one}/pair.json").get_json() for one in (knitted, link))
    assert [sock["round"] for sock in after["socks"]] == [2, 0]
    own = {"cursor": 0, "mark": ""}
    assert {**after, **own} == {**before, **own}
    store: Store = app.extensions["store"]
    pairs = [store.find_pair(one) for one in (knitted, link)]
    kept, copied = (list(store.entries(pair).values()) for pair in pairs if pair)
    assert kept == copied


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"format": "diary"}, "no exported pair"),
        ({"version": 3}, "A newer Tapeline has written it"),
        ({"version": "1"}, "changed by hand"),
        ({"unit": "furlong"}, "changed by hand"),
        ({"unit": "\ud800"}, "changed by hand"),
        ({"revisions": []}, "changed by hand"),
        ({"log": [entry(1, round=-1)]}, "changed by hand"),
        ({"log": [entry(1), entry(1)]}, "the same id"),
        ({"extra": 1}, "changed by hand"),
    ],
)
def test_what_is_wrong_with_a_file_is_reported(browser: Browser, link: str, change: dict[str, Any], words: str) -> None:
    answer = imported(browser, json.dumps({**exported(browser, link), **change}).encode())
    assert answer.status_code == 422
    assert "This file cannot be imported" in answer.text
    assert words in answer.text


def test_a_plan_that_does_not_read_is_reported(browser: Browser, link: str) -> None:
    document = exported(browser, link)
    document["revisions"][0]["plan"]["sections"] = []
    answer = imported(browser, json.dumps(document).encode())
    assert answer.status_code == 422
    assert "changed by hand" in answer.text


def test_a_file_whose_clocks_leave_no_room_is_refused(browser: Browser, link: str) -> None:
    whole = {**exported(browser, link), "log": [entry(1, clock=2**48)]}
    answer = imported(browser, json.dumps(whole).encode())
    assert answer.status_code == 422
    assert "leave no room for further counts" in answer.text


@pytest.mark.parametrize("body", [b"", b"{", b"\xff\xfe", b"[]", b"null", b'{"format": NaN}', b"[" * 100_000])
def test_what_is_no_document_is_reported(browser: Browser, body: bytes) -> None:
    assert imported(browser, body).status_code == 422


@pytest.mark.parametrize("created", ["", "last winter", "2025-11-03", "2025-11-03T12:00:00+05:00", "9" * 41])
def test_a_change_of_the_plan_without_its_moment_is_reported(browser: Browser, link: str, created: str) -> None:
    document = exported(browser, link)
    document["revisions"].append({**document["revisions"][0], "number": 2, "summary": "Warmer", "created": created})
    answer = imported(browser, json.dumps(document).encode())
    assert answer.status_code == 422
    assert "changed by hand" in answer.text


def test_no_file_is_reported(browser: Browser) -> None:
    assert "No file was chosen" in browser.post("/import", {}).text


def test_a_long_logbook_goes_and_comes(browser: Browser, link: str) -> None:
    document = exported(browser, link)
    document["log"] = [entry(number, round=number % 5000, after=[]) for number in range(1, 9_001)]
    answer = imported(browser, json.dumps(document).encode())
    assert answer.status_code == 303
    again = browser.get(f"/pair/{link_in(answer)}/export").data
    assert imported(browser, again).status_code == 303, "what is exported can be imported"
    assert len(exported(browser, link_in(answer))["log"]) == 9_000


def test_a_file_that_is_too_long_is_refused_in_words(browser: Browser) -> None:
    answer = imported(browser, b" " * 2 * 1024 * 1024)
    assert answer.status_code == 413
    assert "may have 2 MB" in answer.text


def test_of_thousands_of_faults_the_first_are_reported(browser: Browser, link: str) -> None:
    junk = [{f"k{number}": number for number in range(150)}] * 400
    document = exported(browser, link)
    for part in ("log", "revisions"):
        found, faults = read_pair_file({**document, part: junk})
        assert found is None
        assert len(faults) <= MOST_FAULTS
        assert {fault.where.split(".")[1] for fault in faults} == {"0"}, "after a wrong one no others are looked at"


def test_the_logbook_page_tells_what_happened_in_the_zone_asked_for(browser: Browser, knitted: str) -> None:
    page = browser.get(f"/pair/{knitted}/logbook").text
    assert "Mon 3 Nov 2025" in page
    for words in (
        "Sock 1, cuff, after round 2: 2 rounds counted",
        "Note: ß ½ &lt;b&gt;",
        "The plan was changed. Sock 1 changed",
        "19:30",
    ):
        assert words in page, words
    assert page.count("The plan was changed") == 1
    assert "22:30" in browser.get(f"/pair/{knitted}/logbook?zone=Africa/Nairobi").text
    for odd in ("Nowhere/Land", "../../etc/passwd", "%00", "/"):
        assert "zone UTC" in browser.get(f"/pair/{knitted}/logbook?zone={odd}").text
