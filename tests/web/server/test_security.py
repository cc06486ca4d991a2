"""Every answer is guarded, and nothing gives a link away."""

from __future__ import annotations

import logging
import re
from pathlib import Path

import pytest
from flask import Flask

from companion.store import Store, StoreReplacedError
from companion.web import create_app
from companion.web.links import follower_link
from companion.web.server.security import YEAR

from ...conftest import FORM, Browser, entry
from ...storing import damaged, overwritten
from ..designing import join, lead

SAMPLE_VALUES = {"key": "ismene", "part": "heel", "version": "0", "path": "x.js"}


def every_address(app: Flask, link: str) -> list[tuple[str, str]]:
    """A method and an address for every route there is."""
    adapter = app.url_map.bind("localhost")
    found = []
    for rule in app.url_map.iter_rules():
        values = {name: {**SAMPLE_VALUES, "link": link}[name] for name in rule.arguments}
        url = adapter.build(rule.endpoint, values)
        found += [(method, url) for method in (rule.methods or set()) - {"HEAD", "OPTIONS"}]
    return found


def test_every_answer_carries_the_guarding_headers(app: Flask, browser: Browser, link: str) -> None:
    """The policy names no 'unsafe-inline': inline script and style stay refused (W3C, CSP Level 3)."""
    addresses = [*every_address(app, link), ("GET", "/nowhere"), ("PUT", "/plan"), ("POST", "/")]
    assert len(addresses) > 12
    for method, url in addresses:
        answer = browser.client.open(url, method=method)
        headers = answer.headers
        policy = headers["Content-Security-Policy"]
        assert "default-src 'none'" in policy, url
        assert "frame-ancestors 'none'" in policy, url
        assert "base-uri 'none'" in policy, url
        assert "unsafe" not in policy, url
        assert headers["Referrer-Policy"] == "no-referrer", url
        assert headers["X-Content-Type-Options"] == "nosniff", url
        assert headers["X-Robots-Tag"].startswith("noindex"), url
        assert headers["Cross-Origin-Opener-Policy"] == "same-origin", url
        assert answer.status_code < 500, url
        if not url.startswith("/static/"):
            assert headers["Cache-Control"] == "private, no-cache", url


def test_no_page_has_inline_script_or_style(browser: Browser, link: str) -> None:
    for url in ("/", "/plan", f"/pair/{link}", f"/pair/{link}/knit", "/knit", f"/pair/{link}/check", "/nowhere"):
        text = browser.get(url).text
        assert not re.search(r"<[^>]+\sstyle\s*=", text), url
        assert not re.search(r"<[^>]+\son[a-z]+\s*=", text), url
        assert "<style" not in text, url
        for tag in re.findall(r"<script[^>]*>", text):
            assert "src=" in tag or 'type="application/json"' in tag, url


def test_the_cookie_is_out_of_reach_and_lasts_a_year(browser: Browser) -> None:
    cookie = browser.get("/csrf").headers["Set-Cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=Lax" in cookie
    assert "Secure" not in cookie
    assert "Expires=" in cookie
    kept = browser.client.get_cookie("tapeline")
    assert kept
    assert kept.expires
    assert YEAR == 365 * 24 * 3600


def test_the_cookie_is_secure_where_the_request_is(store_path: Path) -> None:
    app = create_app({"DATABASE": store_path, "PUBLIC_URL": "https://socks.example"})
    by_https, by_http = (
        app.test_client().get("/csrf", base_url=base).headers["Set-Cookie"]
        for base in ("https://socks.example", "http://192.0.2.7:8712")
    )
    assert by_https.startswith("__Host-tapeline=")
    assert "; Secure;" in by_https
    assert "Domain" not in by_https
    assert by_http.startswith("tapeline=")
    assert "Secure" not in by_http
    app.extensions["store"].close()


def test_a_token_survives_a_restart(store_path: Path) -> None:
    first = create_app({"DATABASE": store_path})
    before = Browser(first.test_client())
    token = before.token()
    cookie = before.client.get_cookie("tapeline")
    assert cookie
    first.extensions["store"].close()
    second = create_app({"DATABASE": store_path})
    after = second.test_client()
    after.set_cookie("tapeline", cookie.value)
    assert after.post("/plan", data={**FORM, "csrf_token": token}).status_code == 303
    second.extensions["store"].close()


@pytest.mark.parametrize("token", [None, "", "nonsense", "ünlautere Zeichen", "a.b.c"])
def test_a_form_without_its_token_comes_back_as_it_was(browser: Browser, token: str | None) -> None:
    browser.get("/")
    data = FORM if token is None else {**FORM, "csrf_token": token}
    answer = browser.client.post("/plan", data=data)
    assert answer.status_code == 400
    assert 'value="Thursday socks"' in answer.text
    assert "send it once more" in answer.text


def test_the_token_of_another_browser_is_refused(app: Flask, browser: Browser, link: str) -> None:
    stranger = Browser(app.test_client())
    stranger.get("/")
    answer = stranger.client.post(f"/pair/{link}/check", data={"csrf_token": browser.token()})
    assert answer.status_code == 400


def test_a_json_write_without_its_token_is_refused_in_words(browser: Browser, link: str) -> None:
    answer = browser.client.post(f"/pair/{link}/log", json={"entries": []})
    assert answer.status_code == 400
    assert answer.get_json()["error"] == "csrf"
    assert answer.get_json()["message"]


def test_no_log_gives_a_link_away(
    browser: Browser, link: str, caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: object) -> None:
        raise RuntimeError("a needle broke")

    monkeypatch.setattr("companion.web.pair.pages.kept_data", fails)
    with caplog.at_level(logging.DEBUG):
        answer = browser.get(f"/pair/{link}/knit")
        browser.client.post(f"/pair/{link}/log", data=b"junk")
        browser.get(f"/pair/{link}/nowhere")
    assert answer.status_code == 500
    assert "Nothing that was counted is lost" in answer.text
    assert link not in answer.text
    assert "needle" not in answer.text
    assert "pages.knit" in caplog.text
    assert "a needle broke" in caplog.text
    assert link not in caplog.text


def test_no_other_page_gives_a_link_away(browser: Browser, link: str) -> None:
    other = browser.make_pair(title="Sunday socks")
    for url in ("/", "/plan", "/knit", "/sw.js", f"/pair/{other}", f"/pair/{other}/pair.json"):
        assert link not in browser.get(url).text, url


def test_links_are_long_and_never_the_same(browser: Browser) -> None:
    """22 characters of a 64-letter alphabet hold 128 bits: 22 * 6 = 132 >= 128."""
    links = {browser.make_pair() for _ in range(4)}
    assert len(links) == 4
    assert all(re.fullmatch(r"[\w-]{22}", link) for link in links)


def test_data_that_cannot_be_reached_is_reported(browser: Browser, link: str, store_path: Path) -> None:
    token = browser.token()
    damaged(store_path, "ALTER TABLE log RENAME TO elsewhere")
    page = browser.get(f"/pair/{link}/knit")
    assert page.status_code == 503
    assert "Counts stay on the phone" in page.text
    answer = browser.client.post(f"/pair/{link}/log", data=b"{}", headers={"X-CSRFToken": token})
    assert answer.status_code == 503
    assert answer.get_json()["error"] == "unavailable"
    assert page.headers["Retry-After"] == answer.headers["Retry-After"] == "5"


@pytest.mark.parametrize(
    ("damage", "page"),
    [
        ("UPDATE pairs SET title = x'00ff'", ""),
        ("UPDATE followers SET version = x'00ff'", "/knit"),
        ("UPDATE revisions SET created = x'00ff', summary = 'Changed'", "/logbook"),
        ("UPDATE revisions SET created = 'Monday', summary = 'Changed'", "/logbook"),
        ("UPDATE revisions SET summary = x'00ff'", "/logbook"),
        ("UPDATE revisions SET created = x'00ff'", "/export"),
        ("DELETE FROM revisions", "/check"),
    ],
)
def test_what_no_longer_reads_is_reported_and_kept(browser: Browser, store_path: Path, damage: str, page: str) -> None:
    link = join(browser, lead(browser))
    damaged(store_path, damage)
    answer = browser.get(f"/pair/{link}{page}")
    assert answer.status_code == 409
    assert "kept" in answer.text


@pytest.mark.parametrize(
    ("damage", "form"),
    [
        ("DELETE FROM revisions", "/pair/{pair}/check"),
        ("UPDATE design_versions SET document = x'00ff'", "/design/{leader}/edit"),
        ("UPDATE design_versions SET document = x'00ff'", "/join/{follower}"),
    ],
)
def test_a_stale_form_of_what_no_longer_reads_is_refused_in_words_too(
    browser: Browser, store_path: Path, damage: str, form: str
) -> None:
    leader = lead(browser)
    url = form.format(leader=leader, follower=follower_link(leader), pair=join(browser, leader))
    damaged(store_path, damage)
    answer = browser.client.post(url)
    assert answer.status_code == 409
    assert "kept" in answer.text


def test_a_plan_that_is_lost_is_reported_to_the_knit_page(browser: Browser, link: str, store_path: Path) -> None:
    damaged(store_path, "DELETE FROM revisions")
    answer = browser.post_json(f"/pair/{link}/log", {"entries": [entry(1)]})
    assert answer.status_code == 409
    assert answer.get_json() == {"error": "conflict", "message": "This pair has lost its plan. The counts are kept."}


def test_the_log_tells_why_the_data_cannot_be_reached(
    browser: Browser, link: str, store_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    damaged(store_path, "ALTER TABLE log RENAME TO elsewhere")
    browser.get(f"/pair/{link}/knit")
    assert "pages.knit" in caplog.text
    assert "no such table: log" in caplog.text
    assert link not in caplog.text


def test_damage_is_reported_to_phones_and_once_to_the_owner(
    app: Flask, store_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    browser = Browser(app.test_client())
    link = browser.make_pair()
    app.extensions["store"].close()
    overwritten(store_path, "pairs")
    app.extensions["store"] = again = Store(store_path)
    page = browser.get(f"/pair/{link}/knit")
    answer = browser.post_json(f"/pair/{link}/log", {"entries": [entry(1)]})
    assert (page.status_code, answer.status_code) == (503, 503)
    for words in (page.text, answer.get_json()["message"]):
        assert "damaged" in words
        assert "Counts stay on the phone" in words
    [line] = caplog.messages
    assert f"{store_path} is damaged" in line
    assert "companion restore" in line
    assert link not in line
    again.close()


@pytest.mark.parametrize("becomes", ["deleted", "replaced"])
def test_a_file_that_goes_away_while_it_is_served_is_reported_and_saved(
    app: Flask, tmp_path: Path, caplog: pytest.LogCaptureFixture, becomes: str
) -> None:
    kept = tmp_path / "kept"
    kept.mkdir()
    app.extensions["store"] = store = Store(kept / "pairs.sqlite3")
    app.config["SECRET_KEY"] = store.secret_key()
    browser = Browser(app.test_client())
    link = browser.make_pair()
    assert browser.post_json(f"/pair/{link}/log", {"entries": [entry(1)]}).status_code == 200
    for one in kept.iterdir():
        one.unlink()
    if becomes == "replaced":
        Store(kept / "pairs.sqlite3").close()
    page = browser.get(f"/pair/{link}/knit")
    answer = browser.post_json(f"/pair/{link}/log", {"entries": [entry(2)]})
    assert (page.status_code, answer.status_code) == (503, 503)
    for words in (page.text, answer.get_json()["message"]):
        assert "moved away" in words
        assert "Counts stay on the phone" in words
    [line] = caplog.messages
    assert "deleted, moved or replaced" in line
    assert link not in line
    with pytest.raises(StoreReplacedError, match="pairs-rescued"):
        store.close()
    rescued = Store(kept / "pairs-rescued.sqlite3")
    pair = rescued.find_pair(link)
    assert pair
    assert [one.id for one in rescued.entries(pair).values()] == [entry(1)["id"]]
    rescued.close()
