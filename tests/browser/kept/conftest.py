"""Servers and phones that calculate by themselves."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import AbstractContextManager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from companion.on_phone.runtime import FOLDER

from ...on_phone import RUNTIME
from ..knitting import Knitting
from ..server import Server, serving
from ..used_phone import UsedPhone, UsedPhones
from .calculating import take_the_offer


def with_runtime(folder: Path) -> AbstractContextManager[Server]:
    """A server that has the Python for browsers."""
    (folder / FOLDER).symlink_to(RUNTIME)
    return serving(folder)


def serve_again(server: Server) -> None:
    """Start the server, if a test has killed it."""
    if not server.is_running():
        server.start()


@pytest.fixture(scope="session")
def calculating(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """A server that has the Python for browsers."""
    with with_runtime(tmp_path_factory.mktemp("calculating")) as started:
        yield started


@pytest.fixture
def killable(calculating: Server) -> Iterator[Server]:
    """The same for a test that may kill it."""
    yield calculating
    serve_again(calculating)


@pytest.fixture
def own_calculating(tmp_path: Path) -> Iterator[Server]:
    """The same for one test alone."""
    folder = tmp_path / "server"
    folder.mkdir()
    with with_runtime(folder) as started:
        yield started


@pytest.fixture(scope="session")
def calculator(chromium: Browser, calculating: Server) -> UsedPhone:
    """A phone that has taken the offer of that server. To be ready for that takes it longer than what is asked then."""
    phone = UsedPhones(chromium, calculating.address).phone(0, worker=True)
    take_the_offer(Knitting(phone.emptied(), calculating.add_pair()))
    phone.put_down()
    return phone


@pytest.fixture
def prepared(calculator: UsedPhone, calculating: Server) -> Iterator[Page]:
    """A page on this phone, which has forgotten all else, and has no hidden error. A test may kill its server."""
    yield calculator.emptied()
    serve_again(calculating)
    calculator.put_down()
    assert calculator.watch.problems == []
