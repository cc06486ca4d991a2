"""Servers and phones that calculate by themselves."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from companion.on_phone.runtime import FOLDER

from ...on_phone import RUNTIME
from ..server import Server, serving


@pytest.fixture
def calculating(tmp_path: Path) -> Iterator[Server]:
    """A server that has the Python for browsers."""
    folder = tmp_path / "server"
    folder.mkdir()
    (folder / FOLDER).symlink_to(RUNTIME)
    with serving(folder) as started:
        yield started
