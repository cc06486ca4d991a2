"""Ways back: into a group that was left, and to a design whose leader has lost her link."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from companion.web import create_app

from ...conftest import NOON, Browser
from ..designing import change, handed_out, join, lead, lead_too
from .test_overview import seen, share

OVER_BOTH_DATABASES = True


def code_of(browser: Browser, leader: str) -> str:
    """A new recovery code, as its page shows it."""
    page = browser.post(f"/design/{leader}/recovery", {}).text
    found = re.search(r'<p class="link">((?:[A-Z2-7]{4} ?){4})</p>', page)
    assert found
    return found[1]


def recovered(browser: Browser, code: str) -> str:
    """The new link that a code gives; empty where it gives none."""
    answer = browser.post("/design/recover", {"code": code})
    assert answer.status_code in (303, 404)
    return answer.headers.get("Location", "").rpartition("/")[2].partition("?")[0]


def test_who_has_left_a_group_goes_back_to_where_she_was(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    browser.post(f"/design/{leader}/tell", {"words": "We meet on Thursday."})
    browser.post(f"/pair/{pair}/seen", {"number": "1"})
    browser.post(f"/design/{leader}/tell", {"words": "Bring scales."})
    change(browser, leader, rib="k1 p1")
    browser.post(f"/pair/{pair}/design", {"leave": "y", "version": "2"})
    share(browser, pair, "Ortrun")
    left = browser.post(f"/pair/{pair}/leave", {}).headers["Location"]
    page = browser.get(left).text
    assert "With the group" not in page
    assert f'action="/pair/{pair}/return"' in page
    assert browser.post(f"/pair/{pair}/return", {}).status_code == 303
    page = browser.get(f"/pair/{pair}").text
    assert "With the group" in page
    assert "your plan stays as it is" in page
    assert "Bring scales." in page
    assert "We meet on Thursday." not in page
    assert "1 pair made from this design" in browser.get(f"/design/{leader}").text
    assert "Ortrun" not in seen(browser, leader), "nothing is shared until she says so again"
    assert browser.post(f"/pair/{pair}/return", {}).status_code == 409


def test_the_way_back_is_open_to_the_browser_that_left_and_for_that_pair_alone(browser: Browser) -> None:
    leader = lead(browser)
    pair, other = join(browser, leader), browser.make_pair()
    browser.post(f"/pair/{pair}/leave", {})
    assert browser.post(f"/pair/{other}/return", {}).status_code == 409
    stranger = Browser(browser.client.application.test_client())
    assert stranger.post(f"/pair/{pair}/return", {}).status_code == 409
    browser.post(f"/design/{leader}/delete", {})
    answer = browser.post(f"/pair/{pair}/return", {})
    assert answer.status_code == 409
    assert "There is no way back to the group" in answer.text


def test_a_code_on_paper_gives_a_leader_another_link_once(browser: Browser) -> None:
    lost = lead(browser)
    wiebke, pair, joined = lead_too(browser, lost), join(browser, lost), handed_out(browser, lost)
    old = code_of(browser, lost)
    code = code_of(browser, lost)
    assert old != code
    assert recovered(browser, old) == "", "a newer code takes its place"
    leader = recovered(browser, code.lower().replace(" ", "-").replace("o", "0"))
    assert "made from this design" in browser.get(f"/design/{leader}").text
    assert browser.get(f"/design/{lost}").status_code == 404
    assert handed_out(browser, leader) == handed_out(browser, wiebke) == joined
    assert "Planned from the design" in browser.get(f"/pair/{pair}").text
    assert recovered(browser, code) == "", "it is used up"
    assert browser.post(f"/design/{wiebke}/recovery", {}).status_code == 404
    assert "no recovery code yet" in browser.get(f"/design/{leader}").text


@pytest.mark.parametrize("code", ["", "AAAA AAAA AAAA AAAA", "’; DROP TABLE designs", "ünd wölle" * 4])
def test_no_code_opens_nothing(browser: Browser, code: str) -> None:
    lead(browser)
    answer = browser.post("/design/recover", {"code": code})
    assert answer.status_code == 404
    assert "No design has this code." in answer.text


@pytest.fixture
def elsewhere(tmp_path: Path) -> Iterator[Browser]:
    """A browser at another server."""
    app = create_app({"DATABASE": tmp_path / "elsewhere.sqlite3", "CLOCK": lambda: NOON})
    with closing(app.extensions["store"]):
        yield Browser(app.test_client())


def test_a_code_holds_where_the_design_has_moved(browser: Browser, elsewhere: Browser) -> None:
    leader = lead(browser)
    code = code_of(browser, leader)
    file = browser.get(f"/design/{leader}/move").data
    assert code.replace(" ", "").encode() not in file
    form = {"csrf_token": elsewhere.token(), "design": (io.BytesIO(file), "x.json")}
    elsewhere.client.post("/design/open", data=form, content_type="multipart/form-data")
    assert recovered(elsewhere, code)
