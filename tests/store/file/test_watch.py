"""A store notices what becomes of its file while it is open, and what it had is not lost."""

from __future__ import annotations

import os
import shutil
import stat
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from companion.cli.data_folder import FILE_NAME
from companion.pair.logbook import Entry
from companion.store import Store, StoreReplacedError
from companion.store.file.backup import back_up

from ...cli.serving import serving
from ...conftest import NOON, made
from ...storing import LINK, add_pair, rows


def empty(path: Path) -> None:
    """As `rm FOLDER/*` does."""
    for one in path.parent.iterdir():
        one.unlink()


def another(path: Path) -> None:
    """Another whole file in its place, as by hand."""
    Store(path.with_name("other")).close()
    path.with_name("other").replace(path)


LOSSES: dict[str, Callable[[Path], object]] = {
    "deleted": Path.unlink,
    "deleted with all beside it": empty,
    "renamed": lambda path: path.rename(path.with_name("elsewhere")),
    "replaced": another,
    "robbed of its WAL": lambda path: path.with_name(path.name + "-wal").unlink(),
}


@pytest.mark.parametrize("how", LOSSES)
def test_nothing_is_kept_in_a_file_that_is_gone_and_what_it_had_is_saved(tmp_path: Path, how: str) -> None:
    path = tmp_path / "kept" / "pairs.sqlite3"
    path.parent.mkdir()
    store = Store(path)
    pair = add_pair(store)
    store.add_entries(pair, [made(1)])
    LOSSES[how](path)
    uses: list[Callable[[], object]] = [
        lambda: store.add_entries(pair, [made(2)]), lambda: store.find_pair(LINK), store.close
    ]  # fmt: skip
    for use in uses:
        with pytest.raises(StoreReplacedError, match="pairs-rescued"):
            use()
    store.close()
    rescued = path.with_name("pairs-rescued.sqlite3")
    assert rows(rescued, "SELECT clock FROM log") == [(1,)]
    assert stat.S_IMODE(rescued.stat().st_mode) == 0o600
    assert not list(path.parent.glob("*.part"))


@pytest.mark.skipif(not hasattr(os, "pread"), reason="what is in the file is looked at where it can be")
@pytest.mark.parametrize("with_what", ["a backup", "nothing"])
def test_what_is_copied_over_the_file_is_not_written_to(tmp_path: Path, store_path: Path, with_what: str) -> None:
    """As `cp` does, which leaves the file the same for the system."""
    store = Store(store_path)
    pair = add_pair(store)
    if with_what == "a backup":
        back_up(store_path, tmp_path / "other", NOON)
    else:
        (tmp_path / "other").touch()
    shutil.copyfile(tmp_path / "other", store_path)
    with pytest.raises(StoreReplacedError, match=r"was overwritten .* `companion restore"):
        store.add_entries(pair, [made(1)])
    with pytest.raises(StoreReplacedError, match="was overwritten"):
        store.close()


def test_what_goes_away_in_the_middle_of_a_write_is_not_said_to_be_kept(store_path: Path) -> None:
    store = Store(store_path)
    pair = add_pair(store)

    def while_it_goes() -> Iterator[Entry]:
        store_path.unlink()
        yield made(1)

    with pytest.raises(StoreReplacedError):
        store.add_entries(pair, while_it_goes())
    with pytest.raises(StoreReplacedError):
        store.close()


def test_a_folder_that_is_gone_can_be_made_again_while_the_server_runs(tmp_path: Path) -> None:
    path = tmp_path / "kept" / "pairs.sqlite3"
    path.parent.mkdir()
    store = Store(path)
    add_pair(store)
    shutil.rmtree(path.parent)
    said = set()
    for _ in range(2):
        with pytest.raises(StoreReplacedError, match=r"cannot be saved \(No such file or directory\)") as told:
            store.find_pair(LINK)
        said.add(str(told.value))
    assert len(said) == 1, "the same words, which the log has once"
    path.parent.mkdir()
    with pytest.raises(StoreReplacedError, match="is saved in"):
        store.find_pair(LINK)
    with pytest.raises(StoreReplacedError):
        store.close()
    saved = Store(path.with_name("pairs-rescued.sqlite3"))
    assert saved.find_pair(LINK)
    saved.close()


def test_other_programs_may_come_and_go(store: Store, store_path: Path) -> None:
    """As a backup does, or SQLite's own shell; both check the WAL in, and VACUUM writes every page again."""
    pair = add_pair(store)
    assert rows(store_path, "PRAGMA wal_checkpoint(TRUNCATE)")
    rows(store_path, "VACUUM")
    other = Store(store_path)
    other.add_entries(pair, [made(1)])
    other.close()
    assert store.entries(pair) == {1: made(1)}


def test_a_server_that_lost_its_file_says_so_when_it_ends_too(tmp_path: Path) -> None:
    with serving(tmp_path, "--local") as server:
        address = server.lines[0].split()[-1]
        os.unlink(tmp_path / FILE_NAME)
        with pytest.raises(urllib.error.HTTPError, match="503"):
            urllib.request.urlopen(f"{address}/pair/{LINK}", timeout=20)
        code, _, complained = server.stop()
    assert code == 2
    assert "tapeline-rescued.sqlite3" in complained
    assert "Traceback" not in complained
