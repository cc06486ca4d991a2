"""Servers and phones that calculate by themselves."""

from __future__ import annotations

import fcntl
import os
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from companion.on_phone.runtime import FOLDER

from ...on_phone import RUNTIME
from ..knitting import Knitting
from ..server import Server, serving
from ..used_phone import UsedPhone, UsedPhones
from .calculating import save_image, take_image, take_the_offer


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


@contextmanager
def shared_folder(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A folder of all workers of the run, for the one that has it."""
    own = tmp_path_factory.getbasetemp()
    folder = (own.parent if "PYTEST_XDIST_WORKER" in os.environ else own) / "shared"
    folder.mkdir(exist_ok=True)
    with (folder / "lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        yield folder


@pytest.fixture(scope="session")
def calculator(chromium: Browser, calculating: Server, tmp_path_factory: pytest.TempPathFactory) -> UsedPhone:
    """A phone that calculates. To be ready for that takes it longer than what is asked then.

    The first one of a run takes the offer of the server; it makes what those of the other workers begin Python by.
    """
    phone = UsedPhones(chromium, calculating.address).phone(0, worker=True)
    page = phone.emptied()
    with shared_folder(tmp_path_factory) as folder:
        if not take_image(page, folder):
            take_the_offer(Knitting(page, calculating.add_pair()))
            save_image(page, folder)
    phone.put_down()
    return phone


@pytest.fixture
def prepared(calculator: UsedPhone) -> Iterator[Page]:
    """A page on this phone, which has forgotten all else, and has no hidden error."""
    yield calculator.emptied()
    calculator.put_down()
    assert calculator.watch.problems == []
