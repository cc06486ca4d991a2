"""What is made from one address in an hour is limited: with a sentence, and nothing that was typed is lost."""

from __future__ import annotations

import io
import time
from collections.abc import Iterator

import pytest
from flask import Flask
from werkzeug.test import TestResponse

from companion.web.links import follower_link, new_link
from companion.web.server import quotas

from ...conftest import FORM, Browser, entry
from ..designing import BODY, DESIGN, change, join, keep_photo, lead

HOUR = 3600


@pytest.fixture
def few(app: Flask, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Two of each are allowed, and none was made yet."""
    for name in ("PAIRS", "DESIGNS", "IMPORTS", "PHOTOS"):
        monkeypatch.setattr(quotas, name, quotas.Quota(2, getattr(quotas, name).what))
    monkeypatch.setitem(app.config, "QUOTAS", True)
    quotas.init_app(app)
    yield
    quotas.init_app(app)


def refused(answer: TestResponse, what: str) -> str:
    assert answer.status_code == 429
    assert 0 < int(answer.headers["Retry-After"]) <= HOUR
    assert f"From one address at most 2 {what} in an hour" in answer.text
    assert "Try again in 60 minutes." in answer.text
    return answer.text


@pytest.mark.usefixtures("few")
def test_a_plan_too_many_is_refused_with_the_form_as_it_was(browser: Browser) -> None:
    links = [browser.make_pair() for _ in range(2)]
    page = refused(browser.post("/plan", FORM), "pairs are planned")
    assert 'value="Thursday socks"' in page
    assert browser.post("/plan", {**FORM, "stitches": "many"}).status_code == 422, "what makes no pair does not count"
    assert browser.post("/plan/choices", FORM).status_code == 200
    for link in links:
        counts = {"entries": [entry(number) for number in range(1, 300)]}
        for _ in range(4):
            assert browser.post_json(f"/pair/{link}/log", counts).status_code == 200, "counting is never limited"


@pytest.mark.usefixtures("few")
def test_joining_counts_among_the_pairs(browser: Browser) -> None:
    leader = lead(browser)
    join(browser, leader)
    browser.make_pair()
    page = refused(browser.post(f"/join/{follower_link(leader)}", BODY), "pairs are planned")
    assert 'value="23"' in page


@pytest.mark.usefixtures("few")
def test_designs_and_their_changes_are_limited(browser: Browser) -> None:
    leader = lead(browser)
    change(browser, leader, leg_length="16")
    page = refused(browser.post("/design", DESIGN), "designs are made or changed")
    assert "Larch and moss" in page
    form = {**DESIGN, "version": "2", "leg_length": "18"}
    assert "Slip the first stitch" in refused(
        browser.post(f"/design/{leader}/edit", form), "designs are made or changed"
    )
    assert browser.post(f"/design/{leader}/edit", {**form, "leg_length": "16"}).status_code == 303


@pytest.mark.usefixtures("few")
def test_imports_are_limited_whether_they_read_or_not(browser: Browser, link: str) -> None:
    whole = browser.get(f"/pair/{link}/export").data
    for body, status in ((whole, 303), (b"a sock", 422), (whole, 429)):
        form = {"pair": (io.BytesIO(body), "pair.json"), "csrf_token": browser.token()}
        answer = browser.client.post("/import", data=form)
        assert answer.status_code == status
    refused(answer, "files are imported")


@pytest.mark.usefixtures("few")
def test_pairs_put_back_count_among_the_imports(browser: Browser, link: str) -> None:
    whole = browser.get(f"/pair/{link}/export").get_json()
    answers = [browser.post_json(f"/pair/{new_link()}/put-back", whole) for _ in range(3)]
    assert [answer.status_code for answer in answers] == [201, 201, 429]
    refused(answers[-1], "files are imported")


@pytest.mark.usefixtures("few")
def test_photos_are_limited(browser: Browser) -> None:
    leader = lead(browser)
    assert [keep_photo(browser, leader) for _ in range(3)] == [303, 303, 429]


@pytest.mark.usefixtures("few")
@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("192.0.2.7", "192.0.2.8", False),
        ("192.0.2.7", "::ffff:192.0.2.7", True),
        ("2001:db8:1:2::1", "2001:db8:1:2:ffff::9", True),  # RFC 6177: a site has a /64 or more to itself
        ("2001:db8:1:2::1", "2001:db8:1:3::1", False),
        ("somewhere", "elsewhere", False),
    ],
)
def test_each_home_is_counted_by_itself(app: Flask, one: str, other: str, same: bool) -> None:
    def left(address: str) -> int:
        with app.test_request_context("/", environ_base={"REMOTE_ADDR": address}):
            found = 0
            while quotas.refusal(quotas.PAIRS) is None:
                found += 1
            return found

    assert left(one) == 2
    assert left(other) == (0 if same else 2)


@pytest.mark.usefixtures("few")
def test_an_hour_later_there_is_room_again(browser: Browser, monkeypatch: pytest.MonkeyPatch) -> None:
    for _ in range(2):
        browser.make_pair()
    refused(browser.post("/plan", FORM), "pairs are planned")
    now = time.time()
    monkeypatch.setattr("time.time", lambda: now + HOUR + 1)
    browser.make_pair()


def test_a_classroom_is_within_the_limits() -> None:
    """Forty at one address, each of whom plans a pair, and joins twice more after changes of mind."""
    assert quotas.PAIRS.most >= 40 * 3
    assert min(quotas.IMPORTS.most, quotas.PHOTOS.most, quotas.DESIGNS.most) >= 40
