"""A design goes into a file with its photos, and with its links to another server, where its group goes on."""

from __future__ import annotations

import io
import json
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from werkzeug.test import TestResponse

from companion.cli import main
from companion.planning.plan.design import read_design
from companion.store import Store
from companion.web import create_app
from companion.web.links import follower_link

from ....conftest import NOON, Browser, with_store
from ...designing import DESIGN, change, handed_out, join, keep_photo, lead, lead_too


@pytest.fixture(scope="module")
def other_server(tmp_path_factory: pytest.TempPathFactory) -> Flask:
    """Another app than that of the tests, without its store."""
    app = create_app({"DATABASE": tmp_path_factory.mktemp("other") / "pairs.sqlite3", "QUOTAS": False})
    app.extensions["store"].close()
    return app


@pytest.fixture
def elsewhere(other_server: Flask, tmp_path: Path) -> Iterator[Browser]:
    """A browser at another server."""
    with closing(Store(tmp_path / "elsewhere.sqlite3", lambda: NOON)) as store:
        yield Browser(with_store(other_server, store).test_client())


def opened(browser: Browser, body: bytes) -> TestResponse:
    form = {"csrf_token": browser.token(), "design": (io.BytesIO(body), "larch.tapeline.json")}
    return browser.client.post("/design/open", data=form, content_type="multipart/form-data")


def link_of(answer: TestResponse) -> str:
    assert answer.status_code == 303, answer.text
    return answer.headers["Location"].split("/")[2].partition("?")[0]


def test_a_saved_design_is_opened_as_another_with_its_photos(browser: Browser, elsewhere: Browser) -> None:
    leader = lead(browser)
    keep_photo(browser, leader)
    browser.post(f"/design/{leader}/tell", {"words": "For this group alone."})
    file = browser.get(f"/design/{leader}/export").data
    assert leader.encode() not in file
    assert follower_link(leader).encode() not in file
    for where in (browser, elsewhere):
        other = link_of(opened(where, file))
        assert other != leader
        assert where.get(f"/design/{other}/photo/heel").data == browser.get(f"/design/{leader}/photo/heel").data
        assert where.get(f"/design/{other}/export").data == file
        assert "For this group alone." not in where.get(f"/design/{other}").text
        assert join(where, other)


def test_a_group_moves_to_another_server_with_its_links_and_its_pairs(browser: Browser, elsewhere: Browser) -> None:
    leader = lead(browser)
    wiebke = lead_too(browser, leader)
    keep_photo(browser, leader)
    pair, late = join(browser, leader), join(browser, leader)
    change(browser, leader, rib="k1 p1")
    browser.post(f"/pair/{late}/design", {"leave": "y", "version": "2"})
    browser.post(f"/design/{leader}/tell", {"words": "We are moving."})
    browser.post(f"/design/{leader}/replace", {})
    version = {"version": "2", "rib": "k1 p1", "toe": "round", "reveal_on": "2025-12-06"}
    browser.post(f"/design/{leader}/edit", {**DESIGN, **version})
    file = browser.get(f"/design/{leader}/move").data
    assert link_of(opened(elsewhere, file)) == leader
    assert "From Sat 6 Dec 2025." in elsewhere.get(f"/design/{leader}").text
    assert "We are moving." in elsewhere.get(f"/design/{wiebke}").text
    assert handed_out(elsewhere, wiebke) == handed_out(browser, leader)
    assert elsewhere.get(f"/design/{leader}/move").data == file
    for one, offered in ((pair, True), (late, False)):
        exported = browser.get(f"/pair/{one}/export").data
        form = {"csrf_token": elsewhere.token(), "pair": (io.BytesIO(exported), "x.json")}
        there = link_of(elsewhere.client.post("/import", data=form, content_type="multipart/form-data"))
        page = elsewhere.get(f"/pair/{there}").text
        assert "Planned from the design" in page
        assert ("The design has been changed.</b>" in page) == offered
        assert elsewhere.get(f"/pair/{there}/export").data == exported
        assert elsewhere.get(f"/pair/{there}/photo/heel").status_code == 200
    assert "2 pairs made from this design" in elsewhere.get(f"/design/{leader}").text
    again = opened(elsewhere, file)
    assert again.status_code == 422
    assert "on this server already" in again.text


def test_a_pair_whose_design_is_not_here_is_one_of_its_own(browser: Browser, elsewhere: Browser) -> None:
    exported = browser.get(f"/pair/{join(browser, lead(browser))}/export").data
    form = {"csrf_token": elsewhere.token(), "pair": (io.BytesIO(exported), "x.json")}
    there = link_of(elsewhere.client.post("/import", data=form, content_type="multipart/form-data"))
    assert "Planned from the design" not in elsewhere.get(f"/pair/{there}").text


def test_a_pair_that_follows_nothing_is_written_as_it_always_was(browser: Browser) -> None:
    file = browser.get(f"/pair/{browser.make_pair()}/export").get_json()
    assert (file["version"], list(file)) == (1, ["format", "version", "title", "unit", "revisions", "log"])


def test_the_command_reads_a_saved_design(browser: Browser, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    leader = lead(browser)
    keep_photo(browser, leader)
    printed = []
    for name in ("export", "design.json"):
        path = tmp_path / name
        path.write_bytes(browser.get(f"/design/{leader}/{name}").data)
        assert main(["grid", str(path)]) == 0
        printed.append(capsys.readouterr().out)
    assert printed[0] == printed[1]
    alone = opened(browser, (tmp_path / "design.json").read_bytes())
    document = browser.get(f"/design/{link_of(alone)}/design.json").get_json()
    assert read_design(document) == read_design(json.loads((tmp_path / "design.json").read_text()))


def without(*path: str) -> Callable[[Any], None]:
    def changed(file: Any) -> None:
        for name in path[:-1]:
            file = file[name]
        del file[path[-1]]

    return changed


def with_value(value: object, *path: str) -> Callable[[Any], None]:
    def changed(file: Any) -> None:
        for name in path[:-1]:
            file = file[name]
        file[path[-1]] = value

    return changed


DAMAGED = "It was damaged, or changed by hand. Save the design again"


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        (with_value("tapeline pair", "format"), "This is no design"),
        (with_value(2, "version"), "A newer Tapeline has written it"),
        (without("design"), DAMAGED),
        (with_value("z9", "design", "cuff", "rib"), DAMAGED),
        (with_value("not base64", "photos", "heel"), DAMAGED),
        (with_value("bm8gcGhvdG8=", "photos", "heel"), DAMAGED),
        (with_value("../../etc", "moved", "leader"), DAMAGED),
        (with_value([{}], "moved", "told"), DAMAGED),
        (with_value([{"title": 7}], "moved", "before"), DAMAGED),
        (with_value([{"key": "x", "name": "y", "since": "2025-11-03T12:00:00Z"}], "moved", "further"), DAMAGED),
        (with_value("yesterday", "moved", "ended"), DAMAGED),
    ],
)
def test_what_is_wrong_with_a_file_is_reported(
    browser: Browser, elsewhere: Browser, changed: Callable[[Any], None], said: str
) -> None:
    leader = lead(browser)
    keep_photo(browser, leader)
    file = json.loads(browser.get(f"/design/{leader}/move").data)
    changed(file)
    answer = opened(elsewhere, json.dumps(file).encode())
    assert answer.status_code == 422
    assert said in answer.text
    assert elsewhere.get(f"/design/{leader}").status_code == 404


def test_what_is_no_file_is_reported(browser: Browser) -> None:
    assert "not a whole file" in opened(browser, b"{").text
    assert "This is no design" in opened(browser, b"[]").text
    assert "No file was chosen" in browser.post("/design/open", {}).text
