"""A server that tests kill, or take the file from, which serves again for the next one, and phones that know it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser

from ...server import Server, serving
from ...used_phone import UsedPhones
from ..conftest import serve_again


@pytest.fixture(scope="session")
def killed_often(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    with serving(tmp_path_factory.mktemp("killed")) as started:
        yield started


@pytest.fixture
def server(killed_often: Server) -> Iterator[Server]:
    """It serves at the beginning of a test."""
    yield killed_often
    serve_again(killed_often)


@pytest.fixture(scope="session")
def used_phones(chromium: Browser, killed_often: Server) -> UsedPhones:
    return UsedPhones(chromium, killed_often.address)
