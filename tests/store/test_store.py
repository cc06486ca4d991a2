"""The store: what is kept stays kept, whole or not at all."""

from __future__ import annotations

import threading
from itertools import count
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from companion.pair.logbook import Entry, rounds_done
from companion.pair.revisions import Revision
from companion.store import FullPairError, Pair, StaleRevisionError, Store, StoreUnavailableError

from ..conftest import NOON, made
from ..storing import LINK, add_pair, rows

OVER_BOTH_DATABASES = True

NUMBERS = count()


@pytest.fixture
def pair(store: Store) -> Pair:
    return add_pair(store)


def change(done: int = 10, based_on: int = 1) -> Revision:
    return Revision(based_on, 1, done, 0, "Sock 1 changed", '{"second": true}')


def test_a_pair_is_found_by_its_link_alone(store: Store, pair: Pair) -> None:
    assert store.find_pair(LINK) == pair
    assert store.find_pair(LINK.upper()) is None
    assert store.find_pair("") is None


def test_the_file_does_not_hold_the_link(store: Store, pair: Pair, store_path: Path) -> None:
    assert store.find_pair(LINK) == pair
    for path in store_path.parent.iterdir():
        assert LINK.encode() not in path.read_bytes()


def test_everything_survives_closing(store_path: Path) -> None:
    first = Store(store_path, lambda: NOON)
    key = first.secret_key()
    pair = first.add_pair(LINK, "Thursday socks", "in", "{}")
    first.add_entries(pair, [made(1), made(2)])
    first.add_revision(pair, change(), "{}", "rest")
    first.close()
    second = Store(store_path)
    assert second.secret_key() == key
    assert second.find_pair(LINK) == pair
    assert list(second.entries(pair).values()) == [made(1), made(2)]
    assert [one.number for one in second.revisions(pair)] == [1, 2]
    second.close()


def test_a_remark_comes_back_as_it_was(store: Store, pair: Pair) -> None:
    note = made(1, kind="note", round=0, data={"text": "Half\u00a0size smaller, ½ – 'so'"})
    store.add_entries(pair, [note, made(2)])
    assert list(store.entries(pair).values()) == [note, made(2)]


def test_two_stores_have_different_keys(tmp_path: Path) -> None:
    one, other = Store(tmp_path / "one"), Store(tmp_path / "other")
    assert len(one.secret_key()) == 64
    assert one.secret_key() != other.secret_key()
    one.close()
    other.close()


def test_the_clock_given_is_written_down(store: Store, pair: Pair, store_path: Path) -> None:
    store.add_entries(pair, [made(1)])
    assert rows(store_path, "SELECT received FROM log") == [("2025-11-03T12:00:00+00:00",)]
    assert rows(store_path, "SELECT created FROM pairs") == [("2025-11-03T12:00:00+00:00",)]


@pytest.mark.usefixtures("store_path")
def test_a_write_is_on_the_disk_before_it_returns(store: Store) -> None:
    """WAL with synchronous=FULL (2) syncs at each commit: sqlite.org/pragma.html#pragma_synchronous."""
    with store._reading() as db:
        assert db.execute("PRAGMA synchronous").fetchone() == (2,)
        assert db.execute("PRAGMA journal_mode").fetchone() == ("wal",)
        assert db.execute("PRAGMA foreign_keys").fetchone() == (1,)


def test_an_entry_sent_twice_is_kept_once_as_first_written(store: Store, pair: Pair) -> None:
    store.add_entries(pair, [made(1), made(2)])
    store.add_entries(pair, [made(2, round=99), made(3)])
    assert list(store.entries(pair).values()) == [made(1), made(2), made(3)]


@pytest.mark.usefixtures("store_path")
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=40)
@given(
    sent=st.lists(
        st.tuples(
            st.integers(1, 20), st.integers(1, 5), st.sampled_from((1, 2)), st.integers(0, 90),
            st.sampled_from(("count", "undo", "go", "note")),
        ),
        max_size=20,
    )
)  # fmt: skip
def test_the_place_kept_beside_the_log_is_the_place_in_it(
    store: Store, sent: list[tuple[int, int, int, int, str]]
) -> None:
    """In whatever order entries arrive; of those that come a second time with something else the first is kept."""
    pair = store.add_pair(f"link {next(NUMBERS)}", "x", "cm", "{}")
    first: dict[int, Entry] = {}
    for number, clock, sock, done, kind in sent:
        data = {"data": {"text": "Larch"}} if kind == "note" else {}
        one = made(number, clock=clock, sock=sock, round=done, kind=kind, **data)
        store.add_entries(pair, [one])
        first.setdefault(number, one)
    assert list(store.entries(pair).values()) == list(first.values())
    assert store.sync_state(pair).done == rounds_done(store.entries(pair).values())
    assert store.news(pair, 0) == (store.entries(pair), max(store.entries(pair), default=0))


def test_the_same_entry_may_belong_to_two_pairs(store: Store, pair: Pair) -> None:
    other = store.add_pair("another-link", "x", "cm", "{}")
    store.add_entries(pair, [made(1)])
    store.add_entries(other, [made(1)])
    assert len(store.entries(pair)) == len(store.entries(other)) == 1


def test_an_accepted_change_gets_the_next_number(store: Store, pair: Pair) -> None:
    assert store.add_revision(pair, change(), "{}", "rest") == 2
    found = store.revisions(pair)
    assert [one.number for one in found] == [1, 2]
    assert found[1] == Revision(2, 1, 10, 0, "Sock 1 changed", '{"second": true}', "rest")


def test_a_change_worked_out_from_an_older_plan_is_refused_whole(store: Store, pair: Pair) -> None:
    store.add_revision(pair, change(), "{}", "rest")
    with pytest.raises(StaleRevisionError):
        store.add_revision(pair, change(based_on=1), "{}", "rest", [made(1)])
    assert store.sync_state(pair).revision == 2
    assert store.entries(pair) == {}


def test_a_withdrawn_change_is_kept_but_not_followed(store: Store, pair: Pair, store_path: Path) -> None:
    store.add_revision(pair, change(), "{}", "rest")
    store.withdraw(pair, 2)
    assert [one.number for one in store.revisions(pair)] == [1]
    assert rows(store_path, "SELECT number, state FROM revisions") == [(1, "accepted"), (2, "withdrawn")]
    assert store.add_revision(pair, change(), "{}", "rest") == 3


def test_a_full_logbook_takes_no_more_and_knows_what_it_has(
    store: Store, pair: Pair, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("companion.store.log.MOST_ENTRIES", 3)
    store.add_entries(pair, [made(1), made(2)])
    with pytest.raises(FullPairError, match="3 entries are kept of a pair"):
        store.add_entries(pair, [made(3), made(4)])
    store.add_entries(pair, [made(1), made(3)])
    store.add_entries(pair, [made(2)])
    with pytest.raises(FullPairError):
        store.add_revision(pair, change(), "", "rip", [made(4)])
    assert list(store.entries(pair).values()) == [made(1), made(2), made(3)]
    assert store.sync_state(pair).revision == 1


def test_a_plan_is_changed_as_often_as_an_exported_pair_may_have_it(
    store: Store, pair: Pair, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("companion.store.plans.MOST_REVISIONS", 2)
    store.add_revision(pair, change(), "", "rest")
    store.withdraw(pair, 2)
    with pytest.raises(FullPairError, match="changed 2 times"):
        store.add_revision(pair, change(), "", "rest")
    assert store.sync_state(pair).revision == 1


@pytest.mark.parametrize("number", [1, 2, 7])
def test_only_the_newest_change_can_be_withdrawn(store: Store, pair: Pair, number: int) -> None:
    store.add_revision(pair, change(), "{}", "rest")
    store.add_revision(pair, change(based_on=2), "{}", "rest")
    with pytest.raises(StaleRevisionError):
        store.withdraw(pair, number)
    assert store.sync_state(pair).revision == 3


def test_the_first_plan_cannot_be_withdrawn(store: Store, pair: Pair) -> None:
    with pytest.raises(StaleRevisionError):
        store.withdraw(pair, 1)
    assert store.sync_state(pair).revision == 1


def test_a_failure_in_the_middle_leaves_nothing_behind(store: Store, pair: Pair, store_path: Path) -> None:
    orphan = Pair(999, "nobody's", "cm")
    with pytest.raises(StoreUnavailableError, match="FOREIGN KEY"):
        store.add_entries(orphan, [made(1)])
    assert rows(store_path, "SELECT count(*) FROM log") == [(0,)]
    store.add_entries(pair, [made(1)])
    assert len(store.entries(pair)) == 1


def test_threads_write_side_by_side(store: Store, pair: Pair) -> None:
    threads = [
        threading.Thread(target=lambda start=start: store.add_entries(pair, [made(start + n) for n in range(10)]))
        for start in (1, 11, 21, 31)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(one.clock for one in store.entries(pair).values()) == list(range(1, 41))
