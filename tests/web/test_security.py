"""Every answer is guarded, every bad request is refused in words, and nothing gives a link away."""

from __future__ import annotations

import logging
import re
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from companion.web import create_app
from companion.web.links import follower_link
from companion.web.security import USUAL_BODY, YEAR

from ..conftest import FORM, Browser, entry
from ..storing import damaged
from .designing import join, lead

SAMPLE_VALUES = {"part": "heel", "version": "0", "path": "x.js"}


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


def test_the_cookie_is_secure_where_the_address_is(store_path: Path) -> None:
    app = create_app({"DATABASE": store_path, "PUBLIC_URL": "https://socks.example"})
    assert "Secure" in app.test_client().get("/csrf").headers["Set-Cookie"]
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


def test_a_json_write_without_its_token_is_told_so(browser: Browser, link: str) -> None:
    answer = browser.client.post(f"/pair/{link}/log", json={"entries": []})
    assert answer.status_code == 400
    assert answer.get_json()["error"] == "csrf"
    assert answer.get_json()["message"]


BAD_REQUESTS = [
    ("GET /pair/nonsense", None, 404),
    ("GET /pair/nonsense/knit", None, 404),
    ("GET /pair/nonsense/pair.json", None, 404),
    ("GET /pair/nonsense/check", None, 404),
    ("GET /pair/%00", None, 404),
    ("GET /pair/" + "x" * 5000, None, 404),
    ("POST /pair/nonsense/log", b"{}", 404),
    ("POST /pair/nonsense/check", {}, 404),
    ("POST /pair/nonsense/check/accept", {}, 404),
    ("POST /pair/nonsense/check/undo", {}, 404),
    ("GET /plan?sample=nonsense", None, 404),
    ("GET /plan?unit=furlong", None, 200),
    ("POST /plan", {}, 422),
    ("POST /plan", {"unit": "furlong", "stitches": "\0"}, 422),
    ("POST /plan/choices", {}, 200),
    ("GET /pair/LINK/check?sock=3", None, 400),
    ("GET /pair/LINK/check?sock=one", None, 400),
    ("GET /pair/LINK/check?sock=²", None, 400),
    ("GET /pair/LINK/check?round=-1", None, 400),
    ("GET /pair/LINK/check?round=99999", None, 400),
    ("GET /pair/LINK/check?round=" + "9" * 5000, None, 400),
    ("POST /pair/LINK/check", {}, 422),
    ("POST /pair/LINK/check", {"stitches_1": "many"}, 422),
    ("POST /pair/LINK/check/accept", {}, 409),
    ("POST /pair/LINK/check/accept", {"sock": "7"}, 400),
    ("POST /pair/LINK/check/accept", {"basis": "9"}, 409),
    ("GET /pair/nonsense/check/result", None, 404),
    ("GET /pair/LINK/check/result?sock=3", None, 400),
    ("POST /pair/LINK/check/leave-out", {}, 409),
    ("POST /pair/LINK/check/undo", {}, 409),
    ("POST /pair/LINK/check/undo", {"sock": "x"}, 400),
    ("GET /pair/LINK/log", None, 405),
    ("DELETE /pair/LINK", None, 405),
    ("POST /pair/LINK/log", b"", 400),
    ("POST /pair/LINK/log", b"[]", 400),
    ("POST /pair/LINK/log", b'{"entries": 1}', 400),
    ("POST /pair/LINK/log", b'{"entries": {}}', 400),
    ("POST /pair/LINK/log", b'{"after": "1"}', 400),
    ("POST /pair/LINK/log", b'{"after": -1}', 400),
    ("POST /pair/LINK/log", b'{"after": 1e999}', 400),
    ("POST /pair/LINK/log", b'{"after": NaN}', 400),
    ("POST /pair/LINK/log", b'{"more": 1}', 400),
    ("POST /pair/LINK/log", b"[" * 100_000, 400),
    ("POST /pair/LINK/log", b"\xff", 400),
    ("POST /pair/LINK/log", b'{"entries": [' + b"1," * 500 + b"1]}", 400),
    ("POST /pair/LINK/log", b" " * (256 * 1024 + 1), 413),
    ("POST /plan", {"title": "x" * USUAL_BODY}, 413),
    ("POST /plan/choices", {"title": "x" * USUAL_BODY}, 413),
    ("POST /pair/LINK/check", {"stitches_1": "x" * USUAL_BODY}, 413),
]


@pytest.mark.parametrize(("bad_request", "body", "status"), BAD_REQUESTS)
def test_a_bad_request_gets_its_status_and_a_sentence(
    browser: Browser, link: str, bad_request: str, body: Any, status: int
) -> None:
    method, _, url = bad_request.partition(" ")
    address = url.replace("LINK", link)
    token = browser.token()
    data = {**body, "csrf_token": token} if isinstance(body, dict) else body
    answer = browser.client.open(address, method=method, data=data, headers={"X-CSRFToken": token})
    assert answer.status_code == status
    if status < 400 or status == 422:
        return
    assert link not in answer.text
    if url.endswith(("/log", "/pair.json")) and status != 405:
        assert set(answer.get_json()) == {"error", "message"}
        assert answer.get_json()["message"]
    else:
        assert f"Code {status}" in answer.text


def test_a_long_upload_is_refused_before_it_is_read(browser: Browser, link: str) -> None:
    answer = browser.client.post(
        f"/pair/{link}/log",
        headers={"X-CSRFToken": browser.token()},
        environ_overrides={"CONTENT_LENGTH": str(10**9)},
    )
    assert answer.status_code == 413


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60, deadline=None)
@given(body=st.binary(max_size=200) | st.text(alphabet='{}[]":,.0eE-+truefalsnil \\ud8', max_size=80).map(str.encode))
def test_junk_at_the_json_endpoint_is_refused_in_json(browser: Browser, link: str, body: bytes) -> None:
    answer = browser.post_bytes(f"/pair/{link}/log", body)
    assert answer.status_code in {200, 400}
    assert answer.is_json


VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text(),
    lambda inner: st.lists(inner, max_size=3),
)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60, deadline=None)
@given(
    junk=st.dictionaries(
        st.sampled_from(["id", "device", "clock", "at", "sock", "kind", "round", "more"]), VALUES, max_size=8
    )
)
def test_a_junk_entry_is_set_aside_and_fails_nothing(browser: Browser, link: str, junk: dict[str, Any]) -> None:
    answer = browser.post_json(f"/pair/{link}/log", {"entries": [junk, entry(1)]})
    assert answer.status_code == 200
    assert entry(1)["id"] in answer.get_json()["kept"]
    assert len(answer.get_json()["set_aside"]) == 1


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60, deadline=None)
@given(changes=st.dictionaries(st.sampled_from(sorted(FORM)), st.text(max_size=20), max_size=4))
def test_junk_in_the_plan_form_never_fails_the_server(browser: Browser, changes: dict[str, str]) -> None:
    assert browser.post("/plan", {**FORM, **changes}).status_code in {303, 422}


def test_no_log_gives_a_link_away(
    browser: Browser, link: str, caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: object) -> None:
        raise RuntimeError("a needle broke")

    monkeypatch.setattr("companion.web.pages.knit_data", fails)
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


def test_data_that_cannot_be_reached_is_told(browser: Browser, link: str, store_path: Path) -> None:
    token = browser.token()
    damaged(store_path, "ALTER TABLE log RENAME TO elsewhere")
    page = browser.get(f"/pair/{link}/knit")
    assert page.status_code == 503
    assert "Counts stay on the phone" in page.text
    answer = browser.client.post(f"/pair/{link}/log", data=b"{}", headers={"X-CSRFToken": token})
    assert answer.status_code == 503
    assert answer.get_json()["error"] == "unavailable"


@pytest.mark.parametrize(
    ("damage", "page"),
    [
        ("UPDATE pairs SET title = x'00ff'", ""),
        ("UPDATE followers SET version = x'00ff'", "/knit"),
        ("UPDATE revisions SET created = x'00ff'", "/logbook"),
        ("UPDATE revisions SET created = x'00ff'", "/export"),
        ("DELETE FROM revisions", "/check"),
    ],
)
def test_what_no_longer_reads_is_told_and_kept(browser: Browser, store_path: Path, damage: str, page: str) -> None:
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
def test_a_stale_form_of_what_no_longer_reads_is_told_so_too(
    browser: Browser, store_path: Path, damage: str, form: str
) -> None:
    leader = lead(browser)
    url = form.format(leader=leader, follower=follower_link(leader), pair=join(browser, leader))
    damaged(store_path, damage)
    answer = browser.client.post(url)
    assert answer.status_code == 409
    assert "kept" in answer.text


def test_a_plan_that_is_lost_is_told_to_the_knit_page(browser: Browser, link: str, store_path: Path) -> None:
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
