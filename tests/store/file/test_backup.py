"""Backups are whole, also of a file that is written to; one that is brought back takes the place of all before it."""

from __future__ import annotations

import os
import shutil
import sqlite3
import stat
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest

from companion.store import DamagedStoreError, NotAStoreError, Pair, Store, StoreError, StoreUnavailableError
from companion.store.file.backup import back_up, restore
from companion.store.file.examination import Contents
from companion.store.tables import MIGRATIONS, StoreInUseError

from ...conftest import NOON, made
from ...storing import DAMAGE, LINK, add_pair, counting, damaged, rows


@pytest.fixture
def pair(store: Store) -> Pair:
    return add_pair(store)


@pytest.fixture
def backup(tmp_path: Path, store: Store, pair: Pair, store_path: Path) -> Path:
    """A backup with one entry, of a store that has gone on to a second one by now and is closed."""
    store.add_entries(pair, [made(1)])
    target = tmp_path / "backup.sqlite3"
    back_up(store_path, target, NOON)
    store.add_entries(pair, [made(2)])
    store.close()
    return target


def clocks(path: Path) -> list[int]:
    """The entries in a file."""
    store = Store(path)
    found = store.find_pair(LINK)
    assert found
    numbers = [one.clock for one in store.entries(found).values()]
    store.close()
    return numbers


def test_each_backup_of_a_file_that_another_program_writes_to_is_one_moment_of_it(
    tmp_path: Path, store: Store, pair: Pair, store_path: Path
) -> None:
    assert store.find_pair(LINK) == pair
    with counting(store_path, LINK, made(1), 5000) as writer:
        assert writer.stdout
        try:
            for number in range(4):
                kept_before = int(writer.stdout.readline())
                target = tmp_path / f"backup {number}"
                back_up(store_path, target, NOON)
                found = clocks(target)
                assert found == list(range(1, len(found) + 1))
                assert len(found) >= kept_before
            assert writer.poll() is None, "it was still writing"
        finally:
            writer.kill()


def test_a_backup_is_one_file_that_only_its_owner_can_read(tmp_path: Path, backup: Path) -> None:
    assert [one.name for one in tmp_path.iterdir() if one.name.startswith((".", "backup"))] == ["backup.sqlite3"]
    assert sys.platform == "win32" or stat.S_IMODE(backup.stat().st_mode) == 0o600
    assert rows(backup, "PRAGMA journal_mode") == [("delete",)]


def test_a_backup_says_what_is_in_it_and_is_noted(tmp_path: Path, store: Store, pair: Pair, store_path: Path) -> None:
    store.add_entries(pair, [made(1), made(2)])
    assert back_up(store_path, tmp_path / "backup", NOON) == Contents(1, 0, 2, 0, 0)
    for path in (store_path, tmp_path / "backup"):
        assert rows(path, "SELECT value FROM meta WHERE name = 'newest_backup'") == [("2025-11-03T12:00:00+00:00",)]


def test_a_backup_takes_no_other_files_place(tmp_path: Path, store: Store, store_path: Path) -> None:
    assert store.secret_key()
    there = tmp_path / "there"
    there.write_text("a pattern")
    with pytest.raises(StoreUnavailableError, match="is there already"):
        back_up(store_path, there, NOON)
    assert there.read_text() == "a pattern"


@pytest.mark.parametrize("target", ["nowhere/backup", "a file/backup"])
def test_a_backup_that_cannot_be_written_is_reported(
    tmp_path: Path, store: Store, store_path: Path, target: str
) -> None:
    assert store.secret_key()
    (tmp_path / "a file").touch()
    with pytest.raises(StoreUnavailableError, match="cannot be written"):
        back_up(store_path, tmp_path / target, NOON)


@contextmanager
def full_disk() -> Iterator[None]:
    """No file grows beyond 64 kB, as on a disk that is nearly full."""
    resource = pytest.importorskip("resource")
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (64_000, before[1]))
    yield
    resource.setrlimit(resource.RLIMIT_FSIZE, before)


def test_a_full_disk_is_reported_and_leaves_nothing_behind(tmp_path: Path, store_path: Path, backup: Path) -> None:
    before = {one: one.read_bytes() for one in tmp_path.iterdir()}
    with full_disk():
        with pytest.raises(StoreUnavailableError, match=r"cannot be copied \(.*(I/O|full)"):
            back_up(store_path, tmp_path / "another", NOON)
        with pytest.raises(StoreUnavailableError, match=r"cannot be copied \(.*(I/O|full)"):
            restore(store_path, backup, NOON)
    assert {one: one.read_bytes() for one in tmp_path.iterdir()} == before


def test_where_nothing_is_kept_no_backup_and_no_file_is_made(tmp_path: Path) -> None:
    with pytest.raises(StoreUnavailableError, match="is not there"):
        back_up(tmp_path / "pairs", tmp_path / "backup", NOON)
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("how", DAMAGE)
def test_no_backup_is_made_of_a_damaged_file(tmp_path: Path, store: Store, store_path: Path, how: str) -> None:
    store.add_entries(add_pair(store), [made(1)])
    store.close()
    DAMAGE[how](store_path)
    with pytest.raises(StoreError, match="is damaged"):
        back_up(store_path, tmp_path / "backup", NOON)
    assert not [one for one in tmp_path.iterdir() if "backup" in one.name]


def test_a_backup_brought_back_is_what_is_kept_from_then_on(store_path: Path, backup: Path) -> None:
    found, kept = restore(store_path, backup, NOON)
    assert found.entries == 1
    assert clocks(store_path) == [1]
    assert kept == store_path.with_name("pairs-until-2025-11-03T120000Z.sqlite3")
    assert clocks(kept) == [1, 2]
    assert clocks(backup) == [1]


def test_nobody_else_can_read_what_is_brought_back_or_kept(store_path: Path, backup: Path) -> None:
    if sys.platform == "win32":
        pytest.skip("Windows has no such modes")
    _, kept = restore(store_path, backup, NOON)
    assert kept
    assert {stat.S_IMODE(one.stat().st_mode) for one in (store_path, kept)} == {0o600}


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() != 0, reason="only root can give a file away")
def test_what_root_brings_back_belongs_to_whom_the_folder_belongs(store_path: Path, backup: Path) -> None:
    os.chown(store_path.parent, 4711, 4712)
    store_path.with_name("pairs.sqlite3.lock").unlink()
    restore(store_path, backup, NOON)
    for one in (store_path, store_path.with_name("pairs.sqlite3.lock")):
        assert (one.stat().st_uid, one.stat().st_gid) == (4711, 4712)


def epoch(path: Path) -> str:
    """What a server tells phones that starts with this file."""
    store = Store(path)
    found = store.epoch()
    store.close()
    return found


@pytest.mark.parametrize("way", ["restore", "by hand"])
def test_after_a_backup_is_brought_back_there_is_another_epoch(
    tmp_path: Path, store: Store, store_path: Path, way: str
) -> None:
    before = store.epoch()
    back_up(store_path, tmp_path / "backup", NOON)
    assert store.epoch() == before
    store.close()
    if way == "restore":
        restore(store_path, tmp_path / "backup", NOON)
    else:
        shutil.copy(tmp_path / "backup", store_path)
    assert epoch(store_path) != before


def test_any_whole_file_brought_back_gives_another_epoch(store_path: Path, backup: Path) -> None:
    epochs = [epoch(store_path)]
    _, kept = restore(store_path, backup, NOON)
    epochs.append(epoch(store_path))
    assert kept
    restore(store_path, kept, NOON)
    epochs.append(epoch(store_path))
    assert clocks(store_path) == [1, 2]
    assert len(set(epochs)) == 3


def test_two_backups_brought_back_at_one_moment_lose_nothing(store_path: Path, backup: Path) -> None:
    kept = {restore(store_path, backup, NOON)[1] for _ in range(3)}
    assert len(kept) == 3


def test_the_wal_of_a_killed_server_is_kept_with_its_file_and_never_met_by_another(
    tmp_path: Path, store: Store, pair: Pair, store_path: Path
) -> None:
    """A copy of all its files is what a killed program leaves: sqlite.org/wal.html, section 4."""
    back_up(store_path, tmp_path / "backup", NOON)
    store.add_entries(pair, [made(1), made(2)])
    killed = tmp_path / "killed" / store_path.name
    killed.parent.mkdir()
    for ending in ("", "-wal", "-shm"):
        shutil.copy(f"{store_path}{ending}", f"{killed}{ending}")
    assert killed.with_name(killed.name + "-wal").stat().st_size
    _, kept = restore(killed, tmp_path / "backup", NOON)
    assert not killed.with_name(killed.name + "-wal").exists()
    assert clocks(killed) == []
    assert kept
    assert clocks(kept) == [1, 2]


@pytest.mark.parametrize("how", DAMAGE)
def test_a_backup_takes_the_place_of_a_damaged_file_which_is_kept(
    tmp_path: Path, store: Store, pair: Pair, store_path: Path, how: str
) -> None:
    back_up(store_path, tmp_path / "backup", NOON)
    store.add_entries(pair, [made(1)])
    store.close()
    DAMAGE[how](store_path)
    store_path.with_name(store_path.name + "-wal").write_bytes(b"what is left of it" * 100)
    before = store_path.read_bytes()
    _, kept = restore(store_path, tmp_path / "backup", NOON)
    assert clocks(store_path) == []
    assert kept
    # Its first 100 bytes say how it is written to (sqlite.org/fileformat2.html, 1.3).
    assert kept.read_bytes()[100:] == before[100:]


def test_a_wal_without_its_file_is_not_met_by_another(store_path: Path, backup: Path) -> None:
    store_path.unlink()
    wal = store_path.with_name(store_path.name + "-wal")
    wal.write_bytes(b"left over" * 1000)
    restore(store_path, backup, NOON)
    assert not wal.exists()
    assert clocks(store_path) == [1]


def test_a_backup_moves_to_a_computer_where_nothing_is_kept_yet(tmp_path: Path, backup: Path) -> None:
    (tmp_path / "other").mkdir()
    path = tmp_path / "other" / "pairs.sqlite3"
    assert restore(path, backup, NOON)[1] is None
    assert clocks(path) == [1]


def test_a_file_system_without_second_names_gets_a_copy(
    store_path: Path, backup: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(*_: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(Path, "hardlink_to", refused)
    _, kept = restore(store_path, backup, NOON)
    assert kept
    assert clocks(kept) == [1, 2]


def test_a_file_in_use_is_not_replaced(tmp_path: Path, store: Store, pair: Pair, store_path: Path) -> None:
    back_up(store_path, tmp_path / "backup", NOON)
    store.add_entries(pair, [made(1)])
    with pytest.raises(StoreInUseError, match="by a server"):
        restore(store_path, tmp_path / "backup", NOON)
    assert list(store.entries(pair).values()) == [made(1)]


def test_a_file_open_in_another_program_is_not_replaced(store_path: Path, backup: Path) -> None:
    with closing(sqlite3.connect(store_path)) as shell:
        assert shell.execute("SELECT count(*) FROM log").fetchone() == (2,)
        with pytest.raises(StoreInUseError, match="another program"):
            restore(store_path, backup, NOON)
    assert clocks(store_path) == [1, 2]


@pytest.mark.parametrize("version", range(1, len(MIGRATIONS)))
def test_an_older_backup_is_brought_up_to_date(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, version: int) -> None:
    old, backup, path = (tmp_path / name for name in ("old", "backup", "new"))
    with monkeypatch.context() as patched:
        patched.setattr("companion.store.tables.MIGRATIONS", MIGRATIONS[:version])
        add_pair(before := Store(old))
        before.close()
        back_up(old, backup, NOON)
    assert rows(backup, "PRAGMA user_version") == [(version,)]
    restore(path, backup, NOON)
    assert rows(path, "PRAGMA user_version") == [(len(MIGRATIONS),)]
    assert clocks(path) == []


REFUSED = {
    **{how: (damage, "is damaged") for how, damage in DAMAGE.items()},
    "something else": (lambda path: path.write_text("Dear diary" * 500), "is not an SQLite file"),
    "empty": (lambda path: os.truncate(path, 0), "is empty"),
    "not there": (Path.unlink, "is not there"),
    "of a newer version": (lambda path: damaged(path, "PRAGMA user_version = 99"), "newer version"),
    "with entries of no pair": (lambda path: damaged(path, "UPDATE log SET pair = 99"), "belong to nothing: 1"),
}


@pytest.mark.parametrize("backup_is", REFUSED)
def test_what_is_no_whole_backup_is_refused_and_nothing_changed(store_path: Path, backup: Path, backup_is: str) -> None:
    spoil, words = REFUSED[backup_is]
    spoil(backup)
    before = {one: one.read_bytes() for one in store_path.parent.iterdir()}
    with pytest.raises((NotAStoreError, DamagedStoreError, StoreUnavailableError), match=words) as told:
        restore(store_path, backup, NOON)
    assert str(backup) in str(told.value)
    assert {one: one.read_bytes() for one in store_path.parent.iterdir()} == before


KILLED = """
import os, shutil, signal, sys
from pathlib import Path
from companion.store.file.backup import restore
from tests.conftest import NOON

STEPS = {"open", "sqlite3.connect", "os.rename", "os.link", "os.remove", "tempfile.mkstemp", "os.chown"}
before, backup, folder, name = (Path(given) for given in sys.argv[1:])
taken = 0

def step(event, _):
    global taken
    if event in STEPS:
        taken += 1
        if taken > last:
            os.kill(os.getpid(), signal.SIGKILL)

for last in range(100):
    shutil.copytree(before, folder / str(last))
    child = os.fork()
    if not child:
        sys.addaudithook(step)
        restore(folder / str(last) / name, backup, NOON)
        os._exit(0)
    if not os.waitpid(child, 0)[1]:
        break
"""
"""Brings a backup back, killed after none of its steps, after one, and so on until nothing kills it any more.

Steps are told by the events of docs.python.org/3/library/audit_events.
"""


@pytest.mark.skipif(not hasattr(os, "fork"), reason="Windows kills in another way")
def test_a_restore_that_is_killed_leaves_the_file_before_or_the_backup(
    tmp_path: Path, store: Store, pair: Pair, store_path: Path
) -> None:
    back_up(store_path, tmp_path / "backup", NOON)
    store.add_entries(pair, [made(1)])
    before, after = tmp_path / "before", tmp_path / "after"
    before.mkdir()
    for one in tmp_path.glob("pairs*"):
        shutil.copy(one, before)
    subprocess.run([sys.executable, "-c", KILLED, before, tmp_path / "backup", after, store_path.name], check=True)
    found = [clocks(after / str(step) / store_path.name) for step in range(len(list(after.iterdir())))]
    assert 8 < len(found) < 100
    restored = found.index([])
    assert found == [[1]] * restored + [[]] * (len(found) - restored)
    for step in range(restored, len(found)):
        [kept] = (after / str(step)).glob("pairs-until-*")
        assert clocks(kept) == [1]
