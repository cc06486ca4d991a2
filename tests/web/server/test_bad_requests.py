"""Every bad request is refused in words: another server's address, junk in a form, in a header, in JSON."""

from __future__ import annotations

import io
from typing import Any

import pytest
from flask import Flask
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from companion.web.server.security import USUAL_BODY, WORDS

from ...conftest import FORM, Browser, entry
from ...planning.asking import WHOLE_PLANS

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
        assert f"<h1>{WORDS[status if status in WORDS else 400][1]}</h1>" in answer.text


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


@settings(WHOLE_PLANS, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(changes=st.dictionaries(st.sampled_from(sorted(FORM)), st.text(max_size=20), max_size=4))
def test_junk_in_the_plan_form_never_fails_the_server(browser: Browser, changes: dict[str, str]) -> None:
    assert browser.post("/plan", {**FORM, **changes}).status_code in {303, 422}


@pytest.mark.parametrize("form", ["/plan", "/plan/choices", "/plan/shoe-size", "/design", "/design/preview"])
def test_json_is_no_form(browser: Browser, form: str) -> None:
    headers = {"X-CSRFToken": browser.token()}
    empty = browser.client.post(form, headers=headers).status_code
    for body in (b"[" * 20_000, b"1", b'["title"]', b'{"title": 5}', b'{"unit": [[]]}', b"{"):
        answer = browser.client.post(form, data=body, content_type="application/json", headers=headers)
        assert answer.status_code == empty, body[:20]


@pytest.mark.parametrize("form", ["/plan", "/plan/choices", "/plan/shoe-size", "/design", "/design/preview"])
def test_a_file_is_no_typed_text(browser: Browser, form: str) -> None:
    fields = [*FORM, "shoe_size"]
    files = {name: (io.BytesIO(b"text"), "text.txt") for name in fields}
    answer = browser.client.post(form, data=files, headers={"X-CSRFToken": browser.token()})
    assert answer.status_code == browser.post(form, {}).status_code


@pytest.mark.parametrize("form", ["/plan", "/import", "/design", "/pair/{}/log", "/nowhere"])
def test_a_field_without_a_name_is_refused(browser: Browser, link: str, form: str) -> None:
    """RFC 7578, section 4.2: each part of a form has a name."""
    body = b"--x\r\nContent-Disposition: form-data\r\n\r\nSocks\r\n--x--\r\n"
    answer = browser.client.post(form.format(link), data=body, content_type="multipart/form-data; boundary=x")
    assert answer.status_code == (404 if form == "/nowhere" else 400)


@pytest.mark.parametrize(
    "host", ["evil.example", "192.0.2.9:80", "socks.example.evil.example", "[2001:db8::9]", "[", ""]
)
def test_what_was_meant_for_another_server_is_refused(app: Flask, monkeypatch: pytest.MonkeyPatch, host: str) -> None:
    monkeypatch.setitem(app.config, "HOSTS", frozenset({"socks.example", "::1"}))
    monkeypatch.setitem(app.config, "PUBLIC_URL", "https://socks.example")
    client = app.test_client()
    for known in ("socks.example", "SOCKS.example:443", "[::1]:8712"):
        assert client.get("/plan", headers={"Host": known}).status_code == 200
    answer = client.get("/plan", headers={"Host": host})
    assert answer.status_code == 400
    assert "Open https://socks.example instead." in answer.text


@pytest.mark.parametrize(
    "host", ["[", "[::1", "a b", "socks.example:port", "\xff", "socks.example@evil.example", "x" * 300]
)
def test_an_address_that_is_none_fails_nothing(app: Flask, monkeypatch: pytest.MonkeyPatch, host: str) -> None:
    """Flask makes no addresses where it cannot read the Host, and a page has those of its style sheets."""
    for hosts in (None, frozenset({"socks.example"})):
        monkeypatch.setitem(app.config, "HOSTS", hosts)
        for path in ("/plan", "/plan/", "/nowhere"):
            answer = app.test_client().get(path, environ_overrides={"HTTP_HOST": host})
            assert answer.status_code < 500
            assert "<h1>" in answer.text


@pytest.mark.parametrize("path", ["//pair/{}", "/pair//{}", "/pair/{}//knit", "//pair/{}/", "///", "//plan"])
def test_no_address_is_answered_with_the_way_to_another(browser: Browser, link: str, path: str) -> None:
    asked = {"PATH_INFO": path.format(link), "REQUEST_URI": path.format(link)}
    answer = browser.get("/", headers={"Host": "evil.example"}, environ_overrides=asked)
    assert answer.status_code == 404
    assert "Location" not in answer.headers
    assert "evil.example" not in answer.text
