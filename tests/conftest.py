"""What the tests of web, store and command share."""

from __future__ import annotations

import gc
import json
import os
import re
import signal
import sys
import tempfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from shutil import copyfile
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from hypothesis import HealthCheck, settings
from playwright.sync_api import Browser as Chromium
from playwright.sync_api import Playwright, sync_playwright
from werkzeug.datastructures import MultiDict
from werkzeug.test import TestResponse

from companion.forms.plan_form import PlanForm
from companion.forms.plan_outcome import plan_outcome
from companion.pair.logbook import Entry
from companion.planning import Plan
from companion.store import Store
from companion.web import create_app
from companion.web.links import new_link

from .browser.chromium import engine
from .browser.strangers import writing_down
from .store.postgresql import PostgreSQL, emptied, program, running

# Python looks through what may go in circles every 700 objects. Thousands of tests are collected and stay; a knitted
# sock is ten thousand stitches, and hardly any go in circles.
gc.set_threshold(100_000)

QUICK = settings(
    max_examples=20, deadline=None, derandomize=True, database=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.register_profile("quick", QUICK)
settings.register_profile("full", QUICK, max_examples=2000)
settings.register_profile("first", QUICK, max_examples=10)
settings.load_profile("quick")


def fully() -> bool:
    """Whether everything is to be tried that takes long (`--hypothesis-profile=full`)."""
    return settings.get_current_profile_name() == "full"


MEMORY = Path("/dev/shm")
"""Where Linux keeps files in memory."""

if sys.platform == "linux" and "TMPDIR" not in os.environ and MEMORY.is_dir():
    room = os.statvfs(MEMORY)
    # A database waits for its disk at every write: a dozen times a test, and longer than the test calculates.
    # Only the end of the computer could tell the difference. Programs that are installed there have to run as well.
    if room.f_bavail * room.f_frsize > 2**31 and not room.f_flag & os.ST_NOEXEC:
        os.environ["TMPDIR"] = tempfile.tempdir = str(MEMORY)


def at_first() -> bool:
    """Whether a first look is enough (`--hypothesis-profile=first`)."""
    return settings.get_current_profile_name() == "first"


NOON = datetime(2025, 11, 3, 12, 0, tzinfo=UTC)

FORM = {
    "unit": "cm",
    "title": "Thursday socks",
    "ball_circumference": "23",
    "foot_length": "25",
    "stitches": "30",
    "rounds": "42",
    "rib": "k2 p2",
    "cuff_length": "4",
    "leg_length": "14",
}
"""A plan form filled in soundly; with it the leg gets a multiple of four stitches."""


def pytest_collection_finish() -> None:
    """Thousands of tests are held to the end, and Python need not look through them for what can be let go."""
    gc.collect()
    gc.freeze()


@dataclass
class Browser:
    """A browser with cookies that sends the token a page would have."""

    client: FlaskClient
    _token: str = ""

    def get(self, url: str, **arguments: Any) -> TestResponse:
        return self.client.get(url, **arguments)

    def token(self) -> str:
        """Asked for once: it holds as long as the cookie that came with it."""
        self._token = self._token or str(self.client.get("/csrf").get_json()["token"])
        return self._token

    def post(self, url: str, form: Mapping[str, str]) -> TestResponse:
        return self.client.post(url, data={**form, "csrf_token": self.token()})

    def post_json(self, url: str, data: object) -> TestResponse:
        return self.client.post(url, json=data, headers={"X-CSRFToken": self.token()})

    def post_bytes(self, url: str, body: bytes) -> TestResponse:
        return self.client.post(url, data=body, headers={"X-CSRFToken": self.token()})

    def make_pair(self, **changes: str) -> str:
        """A new pair; returns its link."""
        answer = self.post("/plan", {**FORM, **changes})
        assert answer.status_code == 303, answer.text
        found = re.fullmatch(r"/pair/([\w-]{22})", answer.headers["Location"])
        assert found
        return found[1]


@pytest.fixture
def interrupts() -> Iterator[None]:
    """A program begun here can be interrupted: tests that a shell has put into its background ignore that signal."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    """One for the whole run: a second one in the same process cannot start."""
    with sync_playwright() as started:
        yield started


@pytest.fixture(scope="session")
def strangers() -> list[str]:
    """What the browser asked of anybody but this computer, a line for each request."""
    return []


@pytest.fixture(scope="session")
def chromium(playwright: Playwright, strangers: list[str]) -> Iterator[Chromium]:
    """A browser without windows."""
    with writing_down(strangers) as arguments:
        browser = engine(playwright, *arguments)
        yield browser
        browser.close()


@pytest.fixture
def store_path(tmp_path: Path) -> Path:
    return tmp_path / "pairs.sqlite3"


@pytest.fixture(scope="session")
def postgresql() -> Iterator[PostgreSQL]:
    """A database server for the whole run, where one is installed."""
    if not program("postgres"):
        pytest.skip("PostgreSQL is not here")
    with running() as server:
        yield server


@pytest.fixture(scope="session")
def server_database(postgresql: PostgreSQL) -> str:
    return postgresql.make("pairs")


@pytest.fixture
def database(request: pytest.FixtureRequest) -> Path | str:
    """Where the store keeps what it keeps: a file, or for tests over both databases the address of one on a server."""
    if getattr(request, "param", "file") == "file":
        found: Path = request.getfixturevalue("store_path")
        return found
    address: str = request.getfixturevalue("server_database")
    emptied(address)
    return address


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """Run what a module has to show of the store over both databases, but for what it shows of the file."""
    over_both = getattr(metafunc.module, "OVER_BOTH_DATABASES", False) and "store_path" not in metafunc.fixturenames
    if over_both and "database" in metafunc.fixturenames:
        metafunc.parametrize("database", ["file", "server"], indirect=True)


@pytest.fixture(scope="session")
def new_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A file as the store makes it, with nothing in it yet: to copy it takes a tenth of the time."""
    path = tmp_path_factory.mktemp("new") / "pairs.sqlite3"
    Store(path, lambda: NOON).close()
    return path


@pytest.fixture
def store(database: Path | str, new_file: Path) -> Iterator[Store]:
    if isinstance(database, Path) and not database.exists():
        copyfile(new_file, database)
    opened = Store(database, lambda: NOON)
    # Until its first connection is there, a thread of the pool may ask for chance, which Hypothesis refuses as its own.
    opened.find_pair("")
    yield opened
    opened.close()


@pytest.fixture(scope="session")
def built_app(tmp_path_factory: pytest.TempPathFactory) -> Flask:
    """The app with its routes, templates and files, which are read and compiled once. Its store is closed."""
    made = create_app({"DATABASE": tmp_path_factory.mktemp("built") / "pairs.sqlite3", "QUOTAS": False})
    made.extensions["store"].close()
    return made


def with_store(app: Flask, store: Store) -> Flask:
    """The app, from now on with this store."""
    app.extensions["store"] = store
    app.config["SECRET_KEY"] = store.secret_key()
    store.epoch()
    return app


@pytest.fixture
def app(built_app: Flask, store: Store) -> Flask:
    """The app on a store of the test's own."""
    return with_store(built_app, store)


@pytest.fixture
def browser(app: Flask) -> Browser:
    return Browser(app.test_client())


@pytest.fixture(scope="session")
def usual_plan() -> Plan:
    """What FORM asks for."""
    plan = plan_outcome(PlanForm(MultiDict(FORM))).plan
    assert plan
    return plan


@pytest.fixture
def link(store: Store, usual_plan: Plan) -> str:
    """The link of a fresh pair, kept as the page of the form does it."""
    made = new_link()
    store.add_pair(made, usual_plan.title, "cm", usual_plan.model_dump_json())
    return made


@pytest.fixture
def request_data() -> dict[str, Any]:
    """A sound plan request."""
    return {
        "schema": 1,
        "title": "Thursday socks",
        "foot": {"ball_circumference_cm": 23, "length_cm": 25},
        "gauge": {"stitches_per_10cm": 30, "rounds_per_10cm": 42},
    }


@pytest.fixture
def request_file(tmp_path: Path, request_data: dict[str, Any]) -> Path:
    """A file with a sound plan request."""
    path = tmp_path / "request.json"
    path.write_text(json.dumps(request_data))
    return path


def entry(number: int, **changes: Any) -> dict[str, Any]:
    """A sound logbook entry: the `number`th count of sock 1 on one phone."""
    return {
        "id": f"00000000-0000-4000-8000-{number:012x}",
        "device": "aaaaaaaa-0000-4000-8000-000000000001",
        "clock": number,
        "at": "2025-11-03T19:30:00Z",
        "sock": 1,
        "kind": "count",
        "round": number,
        **changes,
    }


def made(number: int, **changes: Any) -> Entry:
    """The same, read."""
    return Entry.model_validate(entry(number, **changes))
