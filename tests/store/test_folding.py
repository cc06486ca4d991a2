"""Logs that are folded answer every question as they did before."""

from __future__ import annotations

import json
import random
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path
from uuid import UUID

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from companion.pair.logbook import Entry
from companion.store import Pair, Store
from companion.store.folded import COLUMNS, pack, unpack

from ..conftest import NOON, made
from ..storing import add_pair, damaged, rows
from .test_log_digest import DELIVERIES, an_entry

OVER_BOTH_DATABASES = True

NUMBERS = count()
TOMORROW = (NOON + timedelta(days=1)).isoformat(timespec="seconds")


def answers(store: Store, pair: Pair) -> list[object]:
    """Whatever anybody asks about a pair's log, from every place that a phone may have been left at."""
    entries = store.entries(pair)
    numbers = [0, *entries]
    return [
        [store.news(pair, after) for after in numbers],
        [store.newest_entries(pair, most) for most in (1, 3, 100)],
        [store.met_before(pair, None, number, one.id) for number in numbers for one in entries.values()],
        store.log_digest(pair),
        store.highest_clock(pair),
        store.sync_state(pair),
        store.state(pair),
        store.whole_pair(pair),
    ]


def contents(store: Store, pair: Pair) -> list[object]:
    """The same without the numbers, which no two pairs share."""
    digest, state = store.log_digest(pair), store.sync_state(pair)
    return [list(store.entries(pair).values()), digest.ends, digest.entries, store.highest_clock(pair), state]


def in_turn(store: Store, deliveries: Sequence[Sequence[Entry]], late: Sequence[Entry]) -> None:
    number = next(NUMBERS)
    folded, never = (store.add_pair(f"{name} {number}", "x", "cm", "{}") for name in ("folded", "never"))
    for delivery in deliveries:
        for pair in (folded, never):
            store.add_entries(pair, delivery)
        before = answers(store, folded)
        store.folding.fold(folded, TOMORROW, least=1)
        assert answers(store, folded) == before
        assert contents(store, folded) == contents(store, never)
    # A phone that was away sends all that it has ever counted, and something new.
    for pair in (folded, never):
        store.add_entries(pair, [one for delivery in deliveries for one in delivery])
        store.add_entries(pair, late)
    assert contents(store, folded) == contents(store, never)


LATE = st.lists(an_entry(), max_size=3)


@pytest.mark.usefixtures("store_path")
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=80)
@given(deliveries=DELIVERIES, late=LATE)
def test_a_folded_log_tells_the_same_and_refuses_an_id_twice(
    store: Store, deliveries: list[list[Entry]], late: list[Entry]
) -> None:
    in_turn(store, deliveries, late)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=12)
@given(deliveries=DELIVERIES, late=LATE)
def test_so_it_is_in_either_database(store: Store, deliveries: list[list[Entry]], late: list[Entry]) -> None:
    in_turn(store, deliveries, late)


def knitted(rounds: int) -> list[Entry]:
    """A sock of so many rounds, counted on one phone that names its entries by chance, as all do."""
    chance = random.Random(7)
    ids = [str(UUID(int=chance.getrandbits(128), version=4)) for _ in range(rounds + 1)]
    begun = datetime(2025, 10, 1, 18, 0, tzinfo=UTC)
    moments = (begun + timedelta(seconds=90 * number + chance.randrange(60)) for number in range(rounds))
    return [
        made(
            number,
            id=ids[number],
            after=ids[number - 1 : number] if number > 1 else [],
            at=f"{moment:%Y-%m-%dT%H:%M:%S}.{chance.randrange(1000):03}Z",
        )
        for number, moment in enumerate(moments, 1)
    ]


def test_the_counts_of_a_sock_take_a_tenth_of_the_room(store: Store) -> None:
    """275 bytes for each in the file, with all indexes (`companion capacity`)."""
    pair = add_pair(store)
    entries = knitted(180)
    for start in range(0, len(entries), 12):
        store.add_entries(pair, entries[start : start + 12])
    found = store.folding.fold(pair, TOMORROW)
    assert found.counts == 179  # the last one is where she is
    assert found.size / found.counts < 35


def test_only_what_is_quiet_is_folded(store: Store) -> None:
    pair = add_pair(store)
    store.add_entries(pair, knitted(40))
    assert store.folding.quiet(NOON.isoformat(timespec="seconds")) == []
    assert store.folding.fold(pair, NOON.isoformat(timespec="seconds")).counts == 0
    assert store.folding.quiet(TOMORROW) == [pair]
    assert store.folding.fold(pair, TOMORROW).counts == 39
    assert store.folding.quiet(TOMORROW) == []  # and it is not done again


def test_counts_stay_where_there_are_few_of_them(store: Store) -> None:
    pair = add_pair(store)
    store.add_entries(pair, knitted(12))
    assert store.folding.fold(pair, TOMORROW).counts == 0
    assert len(store.entries(pair)) == 12


@pytest.mark.parametrize("harm", ["device = x'FF'", "clock = 'many'", "received = x'07'", "at = 'yesterday'"])
def test_a_log_with_a_row_that_no_longer_reads_is_left_as_it_is(store: Store, store_path: Path, harm: str) -> None:
    pair = add_pair(store)
    store.add_entries(pair, knitted(40))
    damaged(store_path, f"UPDATE log SET {harm} WHERE number = 20")
    before = rows(store_path, "SELECT * FROM log")
    assert store.folding.fold(pair, TOMORROW).counts == 0
    assert rows(store_path, "SELECT * FROM log") == before


A_ROW = st.tuples(
    st.integers(1, 2**62),
    *(st.text(max_size=4) for _ in range(2)),
    st.integers(1, 2**48),
    st.text(max_size=4),
    st.sampled_from((1, 2)),
    st.sampled_from(("count", "undo", "go")),
    st.integers(0, 2000),
    st.none(),
    st.none() | st.just("[]") | st.lists(st.text(max_size=2), max_size=2).map(json.dumps),
    st.text(max_size=4),
)


@given(packed=st.lists(A_ROW, min_size=1, max_size=12))
def test_whatever_is_packed_comes_out_as_it_was(packed: list[tuple[object, ...]]) -> None:
    assert len(packed[0]) == len(COLUMNS)
    assert unpack(pack(packed)) == packed
