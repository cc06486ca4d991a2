"""The store's file: older ones are brought up to date, others left alone, and what is damaged is told or set aside."""

from __future__ import annotations

from pathlib import Path

import pytest

from companion.store import DamagedPairError, NotAStoreError, Pair, Store, StoreUnavailableError
from companion.store.tables import MIGRATIONS

from .conftest import NOON, entry, made
from .storing import LINK, add_pair, damaged, rows


@pytest.fixture
def pair(store: Store) -> Pair:
    return add_pair(store)


def test_a_new_file_has_the_newest_version(store: Store, store_path: Path) -> None:
    assert store.secret_key()
    assert rows(store_path, "PRAGMA user_version") == [(len(MIGRATIONS),)]


def test_a_file_of_a_newer_version_is_left_alone(store_path: Path) -> None:
    Store(store_path).close()
    damaged(store_path, "PRAGMA user_version = 99")
    with pytest.raises(NotAStoreError, match="newer version"):
        Store(store_path)
    assert rows(store_path, "PRAGMA user_version") == [(99,)]


def test_a_file_that_is_something_else_is_left_alone(store_path: Path) -> None:
    store_path.write_text("Dear diary, today I cast on a sock." * 50)
    with pytest.raises(NotAStoreError, match="not a database"):
        Store(store_path)
    assert store_path.read_text().startswith("Dear diary")


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(StoreUnavailableError, match="cannot be opened"):
        Store(tmp_path / "nowhere" / "file")


def test_a_file_from_before_remarks_is_brought_up_to_date(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "old"
    with monkeypatch.context() as patched:
        patched.setattr("companion.store.tables.MIGRATIONS", MIGRATIONS[:1])
        old = Store(path, lambda: NOON)
        pair = old.add_pair(LINK, "Thursday socks", "cm", "{}")
        old.close()
    values = entry(1)
    damaged(
        path,
        f"INSERT INTO log ({', '.join(values)}, pair, received) VALUES ({'?, ' * len(values)}1, '')",
        *values.values(),
    )
    store = Store(path, lambda: NOON)
    store.add_entries(pair, [made(2)])
    assert list(store.entries(pair).values()) == [made(1), made(2)]
    store.close()


def test_places_in_an_older_file_are_found_when_it_is_brought_up_to_date(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as patched:
        patched.setattr("companion.store.tables.MIGRATIONS", MIGRATIONS[:4])
        old = Store(tmp_path / "old", lambda: NOON)
        pair = old.add_pair(LINK, "Thursday socks", "cm", "{}")
        old.add_entries(pair, [made(1), made(2), made(3, clock=2, round=9, sock=2), made(4, kind="undo", round=1)])
        old.close()
    store = Store(tmp_path / "old", lambda: NOON)
    assert store.places(pair) == {1: 1, 2: 9}
    store.close()


def test_an_entry_that_no_longer_reads_is_set_aside_once(store: Store, pair: Pair, store_path: Path) -> None:
    store.add_entries(pair, [made(1), made(2)])
    damaged(store_path, "UPDATE log SET kind = 'danced' WHERE number = 1")
    for _ in range(2):
        assert list(store.entries(pair).values()) == [made(2)]
    [(what, why, raw)] = store.things_set_aside(pair)
    assert what == "entry 1"
    assert "danced" in why
    assert '"danced"' in raw


@pytest.mark.parametrize(
    "damage",
    ["id = x'00ff'", "clock = x'00ff'", "kind = CAST(x'00ff' AS TEXT)", "data = '{'", "data = x'00ff'", "data = 7"],
)
def test_an_entry_of_bytes_is_set_aside_too(store: Store, pair: Pair, store_path: Path, damage: str) -> None:
    store.add_entries(pair, [made(1), made(2)])
    damaged(store_path, f"UPDATE log SET {damage} WHERE number = 1")
    assert list(store.entries(pair).values()) == [made(2)]
    assert len(store.things_set_aside(pair)) == 1


@pytest.mark.parametrize(
    "damage",
    [
        "UPDATE revisions SET plan = x'00ff'",
        "UPDATE revisions SET done = 'many'",
        "UPDATE revisions SET summary = 7.5, other_done = 0.5",
        "DELETE FROM revisions",
    ],
)
def test_a_revision_that_no_longer_reads_is_told(store: Store, pair: Pair, store_path: Path, damage: str) -> None:
    damaged(store_path, damage)
    with pytest.raises(DamagedPairError, match="kept"):
        store.revisions(pair)


def test_a_pair_without_a_plan_has_no_newest_one(store: Store, pair: Pair, store_path: Path) -> None:
    damaged(store_path, "DELETE FROM revisions")
    with pytest.raises(DamagedPairError, match="kept"):
        store.newest_revision(pair)


def test_a_pair_that_no_longer_reads_is_told(store: Store, pair: Pair, store_path: Path) -> None:
    assert store.find_pair(LINK) == pair
    damaged(store_path, "UPDATE pairs SET title = x'00ff'")
    with pytest.raises(DamagedPairError, match="kept"):
        store.find_pair(LINK)
