"""What the server keeps is closed to everybody else on its computer."""

from __future__ import annotations

import os
import stat
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from companion.store import Store
from companion.store.file.privacy import make_private_folder

from ...conftest import made
from ...storing import add_pair

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such modes")


@pytest.fixture(autouse=True)
def usual_umask() -> Iterator[None]:
    """The one that most systems begin with, by which everybody may read new files."""
    before = os.umask(0o022)
    yield
    os.umask(before)


def modes(folder: Path) -> dict[str, int]:
    return {one.name: stat.S_IMODE(one.stat().st_mode) for one in folder.iterdir()}


def test_a_new_file_and_those_beside_it_are_closed(tmp_path: Path) -> None:
    store = Store(tmp_path / "pairs")
    store.add_entries(add_pair(store), [made(1)])
    found = modes(tmp_path)
    store.close()
    assert {"pairs", "pairs-wal", "pairs-shm"} <= set(found)
    assert set(found.values()) == {0o600}


def test_files_that_were_there_before_are_closed(tmp_path: Path) -> None:
    before = Store(tmp_path / "pairs")
    add_pair(before)
    for one in tmp_path.iterdir():
        one.chmod(0o644)
    after = Store(tmp_path / "pairs")
    assert after.secret_key()
    assert set(modes(tmp_path).values()) == {0o600}
    after.close()
    before.close()


@pytest.mark.parametrize("there_before", [False, True])
def test_the_folder_is_closed(tmp_path: Path, there_before: bool) -> None:
    folder = tmp_path / "kept"
    if there_before:
        folder.mkdir()
        (folder / "pairs").touch()
        assert modes(tmp_path) == {"kept": 0o755}
    make_private_folder(folder)
    assert modes(tmp_path) == {"kept": 0o700}


@pytest.mark.parametrize("purpose", ["for everybody, like /tmp", "of other folders, like a home"])
def test_a_folder_that_others_need_stays_open(tmp_path: Path, purpose: str) -> None:
    folder = tmp_path / "shared"
    folder.mkdir()
    if purpose.startswith("for everybody"):
        folder.chmod(0o1777)
    else:
        (folder / "another").mkdir()
    before = modes(tmp_path)
    make_private_folder(folder)
    assert modes(tmp_path) == before
