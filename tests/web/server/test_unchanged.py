"""A page that a browser has already is not made again, and one of which anything has changed always is."""

from __future__ import annotations

import re
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path
from shutil import copy
from typing import Any
from unittest.mock import patch

import pytest
from flask import Flask, template_rendered

from companion.pair.state import read_kept
from companion.store import Store
from companion.web import create_app
from companion.web.server import unchanged

from ...conftest import NOON, Browser, entry, with_store
from ...storing import damaged
from ..checking import LOOSE, accept, counted, result_of
from ..designing import change, keep_photo
from ..fuzz.everything import pair_with_everything, remark

PLAIN = ("/pair.json", "/pattern.md", "/pattern.txt")
WITH_TOKEN = ("", "/knit", "/pattern")
PAGES = (*PLAIN, *WITH_TOKEN)


def name(browser: Browser, link: str, page: str = "", query: str = "") -> str:
    """The entity tag of a page."""
    return browser.get(f"/pair/{link}{page}{query}").headers["ETag"]


def names(browser: Browser, link: str, query: str = "") -> dict[str, str]:
    """That of each page."""
    return {page: name(browser, link, page, query) for page in PAGES}


@dataclass(frozen=True)
class Kept:
    """The file that a pair is in, the leader's link and the pair's, and its pages' names for a browser that has them.

    The browser's cookie is good for each copy of the file.
    """

    path: Path
    links: tuple[str, str]
    browser: Browser
    names: dict[str, str]


@pytest.fixture(scope="module")
def kept(built_app: Flask, tmp_path_factory: pytest.TempPathFactory) -> Kept:
    """A pair that takes long to make: once for all tests, each of which changes a copy."""
    path = tmp_path_factory.mktemp("kept") / "pairs.sqlite3"
    with closing(Store(path, lambda: NOON)) as store:
        browser = Browser(with_store(built_app, store).test_client())
        links = pair_with_everything(browser)
        return Kept(path, links, browser, names(browser, links[1]))


@pytest.fixture
def store_path(kept: Kept, tmp_path: Path) -> Path:
    return Path(copy(kept.path, tmp_path))


@pytest.fixture
def links(kept: Kept) -> tuple[str, str]:
    """The leader's link and the pair's."""
    return kept.links


def again(browser: Browser, link: str, page: str, known: str) -> int:
    """The status of the answer to a browser that has a page under this name."""
    return browser.get(f"/pair/{link}{page}", headers={"If-None-Match": known}).status_code


@pytest.mark.parametrize("page", PAGES)
def test_what_a_browser_has_is_not_made_again(app: Flask, browser: Browser, links: tuple[str, str], page: str) -> None:
    """RFC 9110, 15.4.5: no content, and the fields that would have come with it: ETag, Cache-Control, Vary."""
    url = f"/pair/{links[1]}{page}"
    first = browser.get(url)
    assert first.headers["Cache-Control"] == "private, no-cache"
    rendered: list[object] = []
    for method in ("GET", "HEAD"):
        read_kept.cache_clear()
        with (
            template_rendered.connected_to(lambda _, **rest: rendered.append(rest), app),
            patch("companion.pair.state.read_plan") as reading,
        ):
            second = browser.client.open(url, method=method, headers={"If-None-Match": first.headers["ETag"]})
        assert (second.status_code, second.data, rendered, reading.call_count) == (304, b"", [], 0)
        for field in ("ETag", "Cache-Control", "Vary"):
            assert second.headers[field] == first.headers[field]


def test_the_name_is_the_same_packed_and_plain_and_says_that_bytes_may_differ(browser: Browser, link: str) -> None:
    """RFC 9110, 8.8.3.3: a strong tag would have to be another one for each content coding."""
    plain = browser.get(f"/pair/{link}/knit")
    packed = browser.get(f"/pair/{link}/knit", headers={"Accept-Encoding": "gzip"})
    assert packed.headers["Content-Encoding"] == "gzip"
    assert packed.headers["ETag"] == plain.headers["ETag"]
    assert plain.headers["ETag"].startswith('W/"')


@dataclass(frozen=True)
class Led:
    """A pair that follows a design, in one browser."""

    browser: Browser
    leader: str
    link: str

    def sends(self, entry: dict[str, Any]) -> None:
        assert self.browser.post_json(f"/pair/{self.link}/log", {"entries": [entry]}).get_json()["kept"]

    def posts(self, path: str, **form: str) -> None:
        assert self.browser.post(path, form).status_code == 303


SLIP = entry(300, kind="withdrawal", round=40, data={"entry": remark(102, "check")["id"]})

CHANGES: dict[str, Callable[[Led], object]] = {
    "a count": lambda led: counted(led.browser, led.link, 60),
    "a step back": lambda led: led.sends(entry(61, kind="undo", round=59)),
    "a note": lambda led: led.sends(remark(301, "note")),
    "a weighing": lambda led: led.sends(remark(302, "weighing")),
    "a check": lambda led: result_of(led.browser, led.link, LOOSE).status_code,
    "a remark taken back": lambda led: led.sends(SLIP),
    "a step back again": lambda led: led.sends(entry(62, kind="go", round=50)),
    "a change accepted": lambda led: accept(led.browser, led.link, "rest", stitches_1="25", round="50"),
    "a change taken back": lambda led: led.posts(f"/pair/{led.link}/check/undo", sock="1"),
    "what is shared": lambda led: led.posts(f"/pair/{led.link}/share", first_name="Ortrun"),
    "nothing shared": lambda led: led.posts(f"/pair/{led.link}/share/withdraw"),
    "the design": lambda led: change(led.browser, led.leader, note_heel="Slip none."),
    "a photo": lambda led: keep_photo(led.browser, led.leader, part="toe"),
    "a photo removed": lambda led: led.posts(f"/design/{led.leader}/photo/heel/remove"),
}

DONE = (None, 200, 303)
"""What a change answers, where it answers."""


@pytest.mark.usefixtures("app")
@pytest.mark.parametrize("what", CHANGES)
def test_whatever_changes_each_page_is_made_again(kept: Kept, what: str) -> None:
    (leader, link), browser, before = kept.links, kept.browser, kept.names
    assert [again(browser, link, page, before[page]) for page in PAGES] == [304] * len(PAGES)
    assert CHANGES[what](Led(browser, leader, link)) in DONE
    asked = {page: browser.get(f"/pair/{link}{page}", headers={"If-None-Match": before[page]}) for page in PAGES}
    assert [answer.status_code for answer in asked.values()] == [200] * len(PAGES)
    assert all(asked[page].headers["ETag"] != before[page] for page in PAGES)
    assert [again(browser, link, page, asked[page].headers["ETag"]) for page in PAGES] == [304] * len(PAGES)


def test_each_change_makes_a_name_that_was_never_there(browser: Browser, links: tuple[str, str]) -> None:
    """Also one that takes the plan back to what it was: more was counted and written down since."""
    seen = [name(browser, links[1])]
    for make in CHANGES.values():
        assert make(Led(browser, *links)) in DONE
        seen.append(name(browser, links[1]))
    assert len(set(seen)) == len(CHANGES) + 1


def test_the_unit_that_is_asked_for_is_part_of_the_name(browser: Browser, links: tuple[str, str]) -> None:
    cm, inches = names(browser, links[1], "?unit=cm"), names(browser, links[1], "?unit=in")
    assert all(cm[page] != inches[page] for page in PAGES)


def test_the_pages_of_a_pair_have_different_names(browser: Browser, link: str) -> None:
    other = browser.make_pair()
    assert len({*names(browser, link).values(), *names(browser, other).values()}) == 2 * len(PAGES)


def test_a_day_later_the_rounds_a_day_are_calculated_again(
    browser: Browser, links: tuple[str, str], store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It is noon in UTC; the design's days end at midnight in Berlin, eleven hours later in winter."""
    before = names(browser, links[1])
    monkeypatch.setattr(store, "_now", lambda: NOON + timedelta(hours=10, minutes=59))
    assert names(browser, links[1]) == before
    monkeypatch.setattr(store, "_now", lambda: NOON + timedelta(hours=11))
    assert again(browser, links[1], "", before[""]) == 200


def test_links_to_copy_are_those_of_the_address_that_was_opened(browser: Browser, link: str) -> None:
    before = name(browser, link)
    other = browser.get(f"/pair/{link}", base_url="http://192.168.1.20:8712")
    assert other.headers["ETag"] != before


def test_the_restarted_program_makes_each_page_again(app: Flask, browser: Browser, link: str) -> None:
    """It may be a newer one, with other files, or know of another public address."""
    before = names(browser, link)
    run = app.extensions["run"]
    unchanged.init_app(app)
    try:
        assert all(after != before[page] for page, after in names(browser, link).items())
    finally:
        app.extensions["run"] = run


def test_after_a_backup_was_restored_each_page_is_made_again(browser: Browser, link: str, store_path: Path) -> None:
    """Its numbers may stand for other counts and plans than they did before."""
    before = names(browser, link)
    damaged(store_path, "INSERT OR REPLACE INTO meta VALUES ('epoch', 'another')")
    assert all(after != before[page] for page, after in names(browser, link).items())


def test_each_run_has_a_name_of_its_own(app: Flask, tmp_path: Path) -> None:
    other = create_app({"DATABASE": tmp_path / "other"})
    other.extensions["store"].close()
    assert other.extensions["run"] != app.extensions["run"]


@pytest.mark.parametrize("page", WITH_TOKEN)
def test_a_token_in_a_page_that_was_kept_is_still_good(browser: Browser, links: tuple[str, str], page: str) -> None:
    first = browser.get(f"/pair/{links[1]}{page}")
    token = re.search(r'name="csrf-token" content="([^"]+)"', first.text)
    assert token
    assert again(browser, links[1], page, first.headers["ETag"]) == 304
    form = {"first_name": "Ortrun", "csrf_token": token[1]}
    assert browser.client.post(f"/pair/{links[1]}/share", data=form).status_code == 303


@pytest.mark.parametrize("page", WITH_TOKEN)
def test_a_browser_that_lost_its_cookies_gets_a_page_with_a_token_of_its_own(
    app: Flask, browser: Browser, link: str, page: str
) -> None:
    kept = browser.get(f"/pair/{link}{page}").headers["ETag"]
    anew = Browser(app.test_client())
    answer = anew.get(f"/pair/{link}{page}", headers={"If-None-Match": kept})
    assert answer.status_code == 200
    assert "tapeline=" in answer.headers["Set-Cookie"]
    assert again(anew, link, page, answer.headers["ETag"]) == 304


@pytest.mark.parametrize("page", PLAIN)
def test_what_has_no_token_needs_no_cookie(app: Flask, link: str, page: str) -> None:
    first, second = (Browser(app.test_client()).get(f"/pair/{link}{page}") for _ in range(2))
    assert "Set-Cookie" not in first.headers
    assert first.headers["ETag"] == second.headers["ETag"]


def test_what_changes_nothing_changes_no_name(browser: Browser, links: tuple[str, str]) -> None:
    leader, link = links
    before = names(browser, link)
    counted(browser, browser.make_pair(), 40)
    counted(browser, link, 50)  # sent once more, as after an answer that was lost
    for page in ("check", "check/result", "yarn", "logbook", "export", "second", "design"):
        assert browser.get(f"/pair/{link}/{page}").status_code == 200
    browser.get(f"/design/{leader}/group")
    assert names(browser, link) == before


def test_a_refusal_has_no_name(browser: Browser) -> None:
    answer = browser.get(f"/pair/{'x' * 22}/knit", headers={"If-None-Match": "*"})
    assert answer.status_code == 404
    assert "ETag" not in answer.headers
