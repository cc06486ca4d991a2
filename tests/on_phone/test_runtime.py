"""The Python for browsers is taken in whole or not at all, and only where it is does anybody hear of it."""

from __future__ import annotations

import gzip
import hashlib
from pathlib import Path

import pytest

from companion.cli import main
from companion.on_phone import runtime
from companion.web import create_app
from companion.web.server.security import CALCULATES

from ..conftest import Browser
from . import NOT_HERE, RUNTIME


def test_a_changed_file_is_as_good_as_none(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    wanted = {name: hashlib.sha256(name.encode()).hexdigest() for name in ("one", "two")}
    monkeypatch.setattr(runtime, "FILES", wanted)
    assert runtime.size(tmp_path) == 0
    for name in wanted:
        (tmp_path / name).write_text(name)
    assert runtime.size(tmp_path) == 6
    (tmp_path / "two").write_text("too")
    assert runtime.size(tmp_path) == 0


@pytest.mark.parametrize("left", [b"", b"not gzip", gzip.compress(b"another file"), gzip.compress(b"file " * 99)[:-9]])
def test_what_was_packed_is_taken_only_if_it_is_the_file(tmp_path: Path, left: bytes) -> None:
    body = b"file " * 99
    packed = runtime.packed(tmp_path, body)
    assert gzip.decompress(packed) == body
    [kept] = tmp_path.iterdir()
    kept.write_bytes(otherwise := gzip.compress(body, 1))
    assert runtime.packed(tmp_path, body) == otherwise != packed
    kept.write_bytes(left)
    assert runtime.packed(tmp_path, body) == packed == kept.read_bytes()


def test_where_nothing_can_be_kept_it_is_packed_all_the_same(tmp_path: Path) -> None:
    assert gzip.decompress(runtime.packed(tmp_path / "not there", b"file")) == b"file"


def test_where_it_cannot_be_fetched_it_is_said_what_is_needed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    assert main(["runtime", "--data", str(tmp_path / "data")]) == 1
    assert "npm is needed to fetch it; install it and try again" in capsys.readouterr().out
    assert not runtime.installed(tmp_path / "data" / runtime.FOLDER)


def test_without_it_nothing_is_offered(browser: Browser) -> None:
    assert browser.get("/runtime").get_json() == {"bytes": 0, "files": {}}


def test_only_the_worker_that_calculates_may_compile(browser: Browser, link: str) -> None:
    shell = browser.get("/sw.js").text
    [planner] = [path for path in shell.split('"') if path.endswith(CALCULATES)]
    assert "script-src 'self' 'wasm-unsafe-eval';" in browser.get(planner).headers["Content-Security-Policy"]
    for other in (planner.replace("planner", "runtime"), f"/pair/{link}/knit", "/made-here"):
        assert "script-src 'self';" in browser.get(other).headers["Content-Security-Policy"]


@pytest.mark.skipif(not runtime.installed(RUNTIME), reason=NOT_HERE)
def test_each_file_is_under_a_digest_of_its_own(tmp_path: Path) -> None:
    app = create_app({"DATABASE": tmp_path / "pairs.sqlite3", "RUNTIME": RUNTIME, "QUOTAS": False})
    browser = Browser(app.test_client())
    offered = browser.get("/runtime").get_json()
    sizes = 0
    for name, address in offered["files"].items():
        answer = browser.get(address, headers={"Accept-Encoding": "gzip"})
        assert answer.status_code == 200, name
        assert "immutable" in answer.headers["Cache-Control"]
        sizes += len(answer.data)
        digest = address.split("/")[2]
        assert browser.get(address.replace(digest, "0" * len(digest))).status_code == 404
    assert offered["bytes"] == sizes < 10_000_000
    app.extensions["store"].close()
