"""What whatever watches a server is told, and what is noted of requests."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from wsgiref.validate import validator

import pytest
from flask import Flask
from werkzeug.test import Client

from companion import wsgi
from companion.cli.output import CannotServeError
from companion.web import create_app

from ...conftest import Browser
from ...storing import damaged


@pytest.fixture
def lines() -> list[str]:
    return []


@pytest.fixture
def logged(tmp_path: Path, lines: list[str]) -> Iterator[Flask]:
    app = create_app(
        {"DATABASE": tmp_path / "pairs.sqlite3", "REQUEST_LOG": [lambda answered: lines.append(answered.as_line())]}
    )
    with closing(app.extensions["store"]):
        yield app


@pytest.mark.parametrize("address", ["/health", "/health?deep"])
def test_a_server_that_is_well_says_so_without_a_cookie(browser: Browser, address: str) -> None:
    answer = browser.client.get(address)
    assert (answer.status_code, answer.text) == (200, "well\n")
    assert "Set-Cookie" not in answer.headers


def test_damaged_data_is_no_fault_of_the_process(logged: Flask) -> None:
    client = logged.test_client()
    damaged(Path(logged.config["DATABASE"]), "ALTER TABLE meta RENAME TO elsewhere")
    assert client.get("/health").status_code == 200
    answer = client.get("/health?deep")
    assert (answer.status_code, answer.text) == (503, "the kept data cannot be read\n")


def test_a_request_is_noted_by_its_endpoint_and_never_by_its_path(logged: Flask, lines: list[str]) -> None:
    client = logged.test_client()
    client.get("/pair/" + "A" * 22)
    client.get("/nowhere/private")
    client.post("/plan")
    noted = [json.loads(line) for line in lines]
    assert [(each["endpoint"], each["method"], each["status"]) for each in noted] == [
        ("pages.plan", "GET", 404),
        (None, "GET", 404),
        ("plans.make", "POST", 400),
    ]
    assert all(0 <= each["ms"] < 60_000 and set(each) == {"endpoint", "method", "status", "ms"} for each in noted)


def test_another_server_takes_its_settings_from_the_environment(tmp_path: Path) -> None:
    folder = tmp_path / "new" / "folder"
    app = wsgi.app({"TAPELINE_DATA": str(folder), "TAPELINE_PUBLIC_URL": "https://socks.example"})
    with closing(app.extensions["store"]):
        assert [path.name for path in folder.iterdir() if path.suffix == ".sqlite3"] == ["tapeline.sqlite3"]
        # PEP 3333, as the standard library checks it.
        with Client(validator(app.wsgi_app)).get("/health", base_url="https://socks.example") as answer:
            assert (answer.status_code, answer.get_data()) == (200, b"well\n")


def test_an_address_in_the_environment_that_is_none_is_refused(tmp_path: Path) -> None:
    with pytest.raises(CannotServeError, match="like https://socks"):
        wsgi.app({"TAPELINE_DATA": str(tmp_path), "TAPELINE_PUBLIC_URL": "socks.example"})
