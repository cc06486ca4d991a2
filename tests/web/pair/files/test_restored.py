"""A phone learns when the server lost what it had told it is kept: its file, or the pair, was put back."""

from __future__ import annotations

import base64
import json
import secrets
from contextlib import closing
from pathlib import Path
from typing import Any
from urllib.parse import quote

import pytest
from flask import Flask
from werkzeug.test import TestResponse

from companion.pair.revisions import Revision
from companion.store import LinkTakenError, Store
from companion.web.links import is_link, new_link

from ....conftest import Browser, entry, made
from ....storing import copied, damaged

FORGET_EPOCH = "DELETE FROM meta WHERE name = 'epoch'"
"""What putting back an earlier copy of the file does to it."""


def sent(browser: Browser, link: str, *entries: object, **where: object) -> dict[str, Any]:
    answer = browser.post_json(f"/pair/{link}/log", {"entries": entries, **where})
    assert answer.status_code == 200, answer.text
    found: dict[str, Any] = answer.get_json()
    return found


def where_left(answer: dict[str, Any]) -> dict[str, Any]:
    """What a phone says of itself after an answer."""
    return {"after": answer["cursor"], "last": answer["last"], "epoch": answer["epoch"]}


def put_back(browser: Browser, link: str, document: object) -> TestResponse:
    return browser.post_json(f"/pair/{link}/put-back", document)


def test_the_epoch_outlives_the_program_and_not_the_putting_back_of_a_file(store_path: Path) -> None:
    with closing(Store(store_path)) as store:
        first = store.epoch()
        assert len(first) == 32
        assert store.epoch() == first
    with closing(Store(store_path)) as store:
        assert store.epoch() == first
        damaged(store_path, FORGET_EPOCH)
        assert store.epoch() != first, "also under a running server"


def test_a_phone_that_goes_on_where_it_was_left_hears_only_what_is_new(browser: Browser, link: str) -> None:
    first = sent(browser, link, entry(1))
    second = sent(browser, link, entry(2), **where_left(first))
    assert (first["anew"], second["anew"]) == (False, False)
    third = sent(browser, link, **where_left(second))
    assert (third["anew"], third["entries"], third["cursor"]) == (False, [], second["cursor"])
    assert third["epoch"] == browser.get(f"/pair/{link}/pair.json").get_json()["epoch"]


def test_a_phone_of_another_epoch_is_answered_as_if_it_knew_nothing(
    browser: Browser, link: str, store_path: Path
) -> None:
    first = sent(browser, link, entry(1), entry(2))
    damaged(store_path, FORGET_EPOCH)
    answer = sent(browser, link, **where_left(first))
    assert answer["anew"]
    assert answer["entries"] == [entry(1), entry(2)]
    assert answer["epoch"] != first["epoch"]
    assert not sent(browser, link, **where_left(answer))["anew"]


def test_a_phone_whose_last_entry_is_another_here_has_to_send_all_again(
    browser: Browser, link: str, store_path: Path, tmp_path: Path
) -> None:
    """As where a plain copy of the file was put back, without a word to the program, and others counted since."""
    sent(browser, link, entry(1))
    copied(store_path, tmp_path / "copy")
    first = sent(browser, link, entry(2))
    copied(tmp_path / "copy", store_path)
    sent(browser, link, entry(3))
    answer = sent(browser, link, **where_left(first))
    assert answer["anew"]
    assert answer["entries"] == [entry(1), entry(3)]


def test_a_phone_from_before_there_were_epochs_takes_the_one_it_meets(browser: Browser, link: str) -> None:
    sent(browser, link, entry(1))
    answer = sent(browser, link, entry(2), after=1)
    assert not answer["anew"]
    assert answer["entries"] == []


@pytest.mark.parametrize(
    "where", [{"epoch": "x" * 65}, {"epoch": 1}, {"last": "x"}, {"last": "\ud800"}, {"last": 7}, {"last": ["x"]}]
)
def test_where_a_phone_cannot_have_been_left_is_reported(browser: Browser, link: str, where: dict[str, Any]) -> None:
    answer = browser.post_json(f"/pair/{link}/log", where)
    assert answer.status_code == 400
    assert next(iter(where)) in answer.get_json()["message"]


def test_what_the_server_wrote_itself_comes_back_from_a_phone(
    app: Flask, browser: Browser, link: str, store_path: Path, tmp_path: Path
) -> None:
    copied(store_path, tmp_path / "copy")
    own = entry(1, kind="go", device="00000000-0000-0000-0000-000000000000")
    store: Store = app.extensions["store"]
    pair = store.find_pair(link)
    assert pair
    store.add_entries(pair, [made(1, kind="go", device=own["device"])])
    assert sent(browser, link)["entries"] == [own]
    copied(tmp_path / "copy", store_path)
    assert sent(browser, link)["entries"] == []
    assert sent(browser, link, own)["kept"] == [own["id"]]
    assert sent(browser, link)["entries"] == [own]


def test_links_are_sixteen_bytes_in_base64url(browser: Browser) -> None:
    """Checked against Python's own base64, which reads what is not made by it too."""
    for _ in range(200):
        assert is_link(new_link())
        text = secrets.token_urlsafe(18)[:22]
        whole = base64.urlsafe_b64encode(base64.urlsafe_b64decode(text + "==")).decode().rstrip("=") == text
        assert is_link(text) == whole
    for wrong in ("", "A" * 21, "A" * 23, "A" * 21 + "B", "A" * 21 + "\n", "A" * 22 + "\n", "é" + "A" * 21):
        assert not is_link(wrong)
        assert put_back(browser, quote(wrong or "x"), {}).status_code == 404


def test_a_pair_is_put_back_under_its_link(app: Flask, browser: Browser, link: str) -> None:
    store: Store = app.extensions["store"]
    pair = store.find_pair(link)
    assert pair
    sent(browser, link, entry(1), entry(2), entry(3, kind="note", round=2, data={"text": "Ash"}))
    [first] = store.revisions(pair)
    for number in (1, 2):
        store.add_revision(pair, Revision(number, 1, 2, 0, "Sock 1 changed", first.plan), "{}", "rest")
    store.withdraw(pair, 3)
    document = json.loads(browser.get(f"/pair/{link}/export").data)
    known = browser.get(f"/pair/{link}/pair.json").get_json()
    lost = new_link()
    answer = put_back(browser, lost, document)
    assert (answer.status_code, answer.get_json()) == (201, {})
    assert json.loads(browser.get(f"/pair/{lost}/export").data) == document
    its_own = {"cursor": 0, "mark": ""}  # where it is received, and what tells its link from others
    assert browser.get(f"/pair/{lost}/pair.json").get_json() | its_own == known | its_own


def test_a_pair_that_is_here_is_not_put_back(app: Flask, browser: Browser, link: str) -> None:
    document = json.loads(browser.get(f"/pair/{link}/export").data)
    sent(browser, link, entry(1))
    answer = put_back(browser, link, document)
    assert answer.status_code == 409
    assert answer.get_json() == {
        "error": "conflict", "message": "The server has this pair already, so it was not put back."
    }  # fmt: skip
    assert sent(browser, link)["entries"] == [entry(1)]
    store: Store = app.extensions["store"]
    pair = store.find_pair(link)
    assert pair
    with pytest.raises(LinkTakenError):
        store.add_whole_pair(link, store.whole_pair(pair))


@pytest.mark.parametrize(
    ("change", "words"),
    [({"format": "diary"}, "no exported pair"), ({"revisions": []}, "damaged"), ({"log": [entry(1)] * 2}, "same id")],
)
def test_what_is_no_pair_is_not_put_back(browser: Browser, link: str, change: dict[str, Any], words: str) -> None:
    document = json.loads(browser.get(f"/pair/{link}/export").data)
    lost = new_link()
    answer = put_back(browser, lost, {**document, **change})
    assert answer.status_code == 422
    assert words in answer.get_json()["message"]
    assert browser.get(f"/pair/{lost}").status_code == 404


def test_a_pair_put_back_is_not_the_one_that_the_other_phone_knew(app: Flask, browser: Browser, link: str) -> None:
    """Deleted with its entries and put back by one phone, it may lack what only the other has."""
    document = json.loads(browser.get(f"/pair/{link}/export").data)
    first = sent(browser, link, entry(1), entry(2))
    store: Store = app.extensions["store"]
    pair = store.find_pair(link)
    assert pair
    store.deleting.pair(pair)
    assert put_back(browser, link, {**document, "log": [entry(1)]}).status_code == 201
    answer = sent(browser, link, **where_left(first))
    assert answer["anew"]
    assert answer["entries"] == [entry(1)]


def test_the_knit_page_of_a_pair_that_is_not_here_opens_what_the_browser_kept(browser: Browser) -> None:
    answer = browser.get(f"/pair/{new_link()}/knit")
    assert answer.status_code == 404
    assert "knit.js" in answer.text
    assert 'id="pair"' not in answer.text
