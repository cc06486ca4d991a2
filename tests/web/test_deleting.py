"""A pair or a design is deleted after one question, and nothing of it is answered or kept any more."""

from __future__ import annotations

from pathlib import Path

import pytest

from companion.store import Store
from companion.web.links import follower_link

from ..conftest import Browser
from ..store.test_deleting import on_disk
from ..storing import damaged
from .designing import change, join, keep_photo, lead
from .fuzz.everything import pair_with_everything


def test_a_pair_is_deleted_after_one_question(browser: Browser, store_path: Path) -> None:
    _, link = pair_with_everything(browser)
    other = browser.make_pair(title="Sunday socks")
    plan = browser.get(f"/pair/{link}").text
    assert f'href="/pair/{link}/delete">Delete this pair' in plan
    page = browser.get(f"/pair/{link}/delete").text
    assert "It is for good" in page
    assert f'href="/pair/{link}/export"' in page
    assert browser.get(f"/pair/{link}").status_code == 200, "asking deletes nothing"
    answer = browser.post(f"/pair/{link}/delete", {})
    assert answer.status_code == 303
    assert "The pair was deleted" in browser.get(answer.headers["Location"]).text
    for path in ("", "/knit", "/pair.json", "/yarn", "/export", "/logbook", "/delete"):
        assert browser.get(f"/pair/{link}{path}").status_code == 404, path
    assert browser.post_json(f"/pair/{link}/log", {"entries": []}).status_code == 404
    assert browser.post(f"/pair/{link}/delete", {}).status_code == 404
    assert not [word for word in (b"Ortrun", b"Half a size smaller") if word in on_disk(store_path)]
    assert browser.get(f"/pair/{other}").status_code == 200


def test_the_first_page_tells_of_nothing_that_was_not_deleted(browser: Browser) -> None:
    for address in ("/", "/?did=", "/?did=everything"):
        assert "was deleted" not in browser.get(address).text


def test_deleting_needs_the_token_of_the_page(browser: Browser, link: str) -> None:
    leader = lead(browser)
    for address in (f"/pair/{link}", f"/design/{leader}"):
        assert browser.client.post(f"{address}/delete").status_code == 400
        assert browser.get(address).status_code == 200


def test_a_pair_that_no_longer_reads_can_be_deleted(browser: Browser, link: str, store_path: Path) -> None:
    damaged(store_path, "UPDATE revisions SET plan = 'moth-eaten'")
    assert browser.get(f"/pair/{link}").status_code == 409
    assert browser.get(f"/pair/{link}/delete").status_code == 200
    assert browser.post(f"/pair/{link}/delete", {}).status_code == 303
    assert browser.get(f"/pair/{link}").status_code == 404
    assert b"moth-eaten" not in on_disk(store_path)


@pytest.mark.parametrize("changed", [False, True])
def test_a_deleted_design_leaves_its_followers_their_pairs(browser: Browser, store: Store, changed: bool) -> None:
    leader = lead(browser)
    keep_photo(browser, leader)
    link = join(browser, leader)
    browser.post(f"/pair/{link}/share", {"first_name": "Ortrun"})
    if changed:
        change(browser, leader, leg_length="16")
        assert browser.post(f"/pair/{link}/design", {"version": "2"}).status_code == 303
    assert "Slip the first stitch" in browser.get(f"/pair/{link}/pattern").text
    assert f'href="/design/{leader}/delete">Delete this design' in browser.get(f"/design/{leader}").text
    assert "The 1 pair made from it stays with their knitters" in " ".join(
        browser.get(f"/design/{leader}/delete").text.split()
    )
    found = store.find_pair(link)
    assert found
    before = store.whole_pair(found)
    answer = browser.post(f"/design/{leader}/delete", {})
    assert answer.status_code == 303
    assert "The design was deleted." in browser.get(answer.headers["Location"]).text
    for path in (f"/design/{leader}", f"/design/{leader}/group", f"/join/{follower_link(leader)}/grid"):
        assert browser.get(path).status_code == 404, path
    joining = browser.get(f"/join/{follower_link(leader)}")
    assert joining.status_code == 404
    assert "its leader has deleted the design" in joining.text
    assert store.whole_pair(found) == before.model_copy(update={"version": 1, "follows": None})
    for path in ("", "/knit", "/pair.json", "/pattern", "/check", "/yarn", "/logbook", "/next", "/export"):
        page = browser.get(f"/pair/{link}{path}")
        assert page.status_code == 200, path
        assert "With the group" not in page.text
    for path in ("/design", "/photo/heel"):
        assert browser.get(f"/pair/{link}{path}").status_code == 404, path
