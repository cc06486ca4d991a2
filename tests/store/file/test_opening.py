"""The store's file: older ones are brought up to date, others left alone, and what is damaged is told or set aside."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from pathlib import Path

import pytest

from companion.store import (
    DamagedPairError,
    NotAStoreError,
    Pair,
    Store,
    StoreError,
    StoreUnavailableError,
    Unreadable,
)
from companion.store.quarantine import MOST_BYTES, MOST_THINGS
from companion.store.tables import MIGRATIONS

from ...conftest import NOON, made
from ...storing import DAMAGE, LINK, add_pair, damaged, quarantined, rows, written


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
    with pytest.raises(NotAStoreError, match="is not an SQLite file"):
        Store(store_path)
    assert store_path.read_text().startswith("Dear diary")


@pytest.mark.parametrize("version", [0, 3, 99])
def test_a_database_of_another_program_is_left_alone(store_path: Path, version: int) -> None:
    damaged(store_path, "CREATE TABLE recipes (name TEXT)")
    damaged(store_path, f"PRAGMA user_version = {version}")
    before = store_path.read_bytes()
    with pytest.raises(NotAStoreError, match="of another program"):
        Store(store_path)
    assert store_path.read_bytes() == before


@pytest.mark.parametrize("how", DAMAGE)
def test_a_damaged_file_is_called_so_with_what_to_do(store_path: Path, how: str) -> None:
    store = Store(store_path)
    store.add_entries(add_pair(store), [made(1)])
    store.close()
    DAMAGE[how](store_path)
    with pytest.raises(StoreError) as told:  # noqa: PT012 - at the start, or at the first use
        store = Store(store_path)
        try:
            pair = store.find_pair(LINK)
            assert pair
            store.add_entries(pair, [made(2)])
        finally:
            store.close()
    assert "damaged" in str(told.value)
    assert "companion restore" in str(told.value)
    assert str(store_path) in str(told.value)


def test_a_folder_that_is_not_there_is_reported(tmp_path: Path) -> None:
    with pytest.raises(StoreUnavailableError, match="cannot be opened"):
        Store(tmp_path / "nowhere" / "file")


def older(path: Path, monkeypatch: pytest.MonkeyPatch, version: int) -> Pair:
    """A file of an older version with a pair in it."""
    with monkeypatch.context() as patched:
        patched.setattr("companion.store.tables.MIGRATIONS", MIGRATIONS[:version])
        old = Store(path, lambda: NOON)
        pair = add_pair(old)
        old.close()
    return pair


def test_a_file_from_before_remarks_is_brought_up_to_date(store_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    pair = older(store_path, monkeypatch, 1)
    written(store_path, pair, made(1))
    store = Store(store_path, lambda: NOON)
    store.add_entries(pair, [made(2)])
    assert list(store.entries(pair).values()) == [made(1), made(2)]
    store.close()


def test_places_and_ends_in_an_older_file_are_found_when_it_is_brought_up_to_date(
    store_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    pair = older(store_path, monkeypatch, 4)
    moves = made(1), made(2), made(3, clock=2, round=9, sock=2), made(4, kind="undo", round=1)
    written(store_path, pair, *moves)
    store = Store(store_path, lambda: NOON)
    assert store.sync_state(pair).done == {1: 1, 2: 9}
    assert store.log_digest(pair).ends == {1: [moves[3]], 2: [moves[2]]}
    store.close()


def test_a_clock_that_none_could_go_on_from_is_set_aside_when_an_older_file_is_brought_up_to_date(
    store_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    pair = older(store_path, monkeypatch, 6)
    written(store_path, pair, made(1), made(2, round=77), made(3, sock=2))
    damaged(store_path, "UPDATE log SET clock = ? WHERE number = 2", 2**53 - 1)
    damaged(store_path, "UPDATE places SET clock = ?, round = 77 WHERE sock = 1", 2**53 - 1)
    store = Store(store_path, lambda: NOON)
    assert store.sync_state(pair).done == {1: 1, 2: 3}
    assert list(store.entries(pair).values()) == [made(1), made(3, sock=2)]
    assert store.highest_clock(pair) == 3
    [(what, why, raw)] = quarantined(store_path, pair)
    assert (what, made(2).id in raw) == ("entry 2", True)
    assert str(2**53 - 1) in why
    store.add_entries(pair, [made(4)])
    assert store.sync_state(pair).done[1] == 4
    store.close()


def test_an_entry_that_no_longer_reads_is_set_aside_once(store: Store, pair: Pair, store_path: Path) -> None:
    store.add_entries(pair, [made(1), made(2)])
    damaged(store_path, "UPDATE log SET kind = 'danced' WHERE number = 1")
    for _ in range(2):
        assert list(store.entries(pair).values()) == [made(2)]
    [(what, why, raw)] = quarantined(store_path, pair)
    assert what == "entry 1"
    assert "danced" in why
    assert '"danced"' in raw


def test_only_so_much_is_set_aside_of_a_pair(store: Store, pair: Pair, store_path: Path) -> None:
    other = store.add_pair("another link", "x", "cm", "{}")
    kept = [Unreadable("entry as sent", "no sock", str(number)) for number in range(MOST_THINGS)]
    store.quarantine(pair, [*kept[:10], *kept])
    store.quarantine(pair, [Unreadable("entry as sent", "no sock", "one more"), kept[0]])
    assert quarantined(store_path, pair) == kept
    large = [Unreadable("entry as sent", "ö" * 100, size * "x") for size in (100, MOST_BYTES - 500, 101)]
    store.quarantine(other, large)
    assert quarantined(store_path, other) == large[:2]
    assert len(large[0].why.encode()) == 200


def test_what_is_set_aside_at_once_is_kept_whole_or_not_at_all(store: Store, pair: Pair, store_path: Path) -> None:
    def things() -> Iterator[Unreadable]:
        yield Unreadable("entry as sent", "no sock", "1")
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        store.quarantine(pair, things())
    assert quarantined(store_path, pair) == []


@pytest.mark.parametrize(
    "damage",
    ["id = x'00ff'", "clock = x'00ff'", "kind = CAST(x'00ff' AS TEXT)", "data = '{'", "data = x'00ff'", "data = 7"],
)
def test_an_entry_of_bytes_is_set_aside_too(store: Store, pair: Pair, store_path: Path, damage: str) -> None:
    store.add_entries(pair, [made(1), made(2)])
    damaged(store_path, f"UPDATE log SET {damage} WHERE number = 1")
    assert list(store.entries(pair).values()) == [made(2)]
    assert len(quarantined(store_path, pair)) == 1


@pytest.mark.parametrize(
    "damage",
    [
        "UPDATE revisions SET plan = x'00ff'",
        "UPDATE revisions SET done = 'many'",
        "UPDATE revisions SET summary = 7.5, other_done = 0.5",
        "DELETE FROM revisions",
    ],
)
def test_a_revision_that_no_longer_reads_is_reported(store: Store, pair: Pair, store_path: Path, damage: str) -> None:
    damaged(store_path, damage)
    with pytest.raises(DamagedPairError, match="kept"):
        store.revisions(pair)


def test_a_pair_without_a_plan_has_no_newest_one(store: Store, pair: Pair, store_path: Path) -> None:
    damaged(store_path, "DELETE FROM revisions")
    with pytest.raises(DamagedPairError, match="kept"):
        store.sync_state(pair)


def test_a_pair_that_no_longer_reads_is_reported(store: Store, pair: Pair, store_path: Path) -> None:
    assert store.find_pair(LINK) == pair
    damaged(store_path, "UPDATE pairs SET title = x'00ff'")
    with pytest.raises(DamagedPairError, match="kept"):
        store.find_pair(LINK)


def test_those_who_write_beside_one_another_are_each_next_in_turn(
    store_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As from several processes: each store has a hold of the file of its own. Nobody is refused for being early."""
    monkeypatch.setattr("companion.store.file.opening.WAIT_FOR_LOCK", 0)
    with closing(Store(store_path)) as one, closing(Store(store_path)) as other, ThreadPoolExecutor(4) as pool:
        pair = add_pair(one)
        writes = [pool.submit((one, other)[number % 2].add_entries, pair, [made(number)]) for number in range(1, 101)]
        assert [write.result() for write in writes] == [None] * 100
        assert len(other.entries(pair)) == 100
