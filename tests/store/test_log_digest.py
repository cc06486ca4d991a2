"""What pages read of a logbook: a few rows of it, which tell the same as all of them."""

from __future__ import annotations

from itertools import count
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from companion.pair.checking.checks import checks_kept
from companion.pair.logbook import THIS_SERVER, Entry, ends, highest_clock, left_out, rounds_done, standing
from companion.pair.state import PairState
from companion.pair.yarn.weighings import weighings_kept
from companion.store import Pair, Store

from ..conftest import entry, made
from ..storing import add_pair, damaged, quarantined, rows

OVER_BOTH_DATABASES = True

NUMBERS = count()
DATA: dict[str, dict[str, Any]] = {
    "note": {"text": "Larch"},
    "check": {"stitches": [{"count": 29, "over_cm": 10}]},
    "weighing": {"grams": 70},
    "length": {"cm": 9},
    "try-on": {"where": "leg", "feels": "tight"},
}
DEVICES = ("aaaaaaaa-0000-4000-8000-000000000001", "bbbbbbbb-0000-4000-8000-000000000002", THIS_SERVER)


@pytest.fixture
def pair(store: Store) -> Pair:
    return add_pair(store)


@st.composite
def an_entry(draw: st.DrawFn) -> Entry:
    """An entry of any kind by any writer, which may go on from moves that are there, come later, or never come."""
    number = draw(st.integers(1, 12))
    kind = draw(st.sampled_from(("count", "count", "count", "undo", "go", "withdrawal", *DATA)))
    named = [entry(one)["id"] for one in draw(st.lists(st.integers(1, 14), max_size=2))]
    return made(
        number,
        clock=draw(st.integers(1, 6)),
        device=draw(st.sampled_from(DEVICES)),
        sock=draw(st.sampled_from((1, 2))),
        round=draw(st.integers(0, 90)),
        kind=kind,
        **({"after": named} if kind in ("count", "undo", "go") and draw(st.booleans()) else {}),
        **({"data": DATA[kind]} if kind in DATA else {}),
        **({"data": {"entry": entry(draw(st.integers(1, 14)))["id"]}} if kind == "withdrawal" else {}),
    )


DELIVERIES = st.lists(st.lists(an_entry(), max_size=5), max_size=6)


@pytest.mark.usefixtures("store_path")
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=150)
@given(deliveries=DELIVERIES)
def test_what_is_known_of_a_logbook_is_what_the_whole_of_it_says(store: Store, deliveries: list[list[Entry]]) -> None:
    """In whatever order entries arrive, and whatever they go on from."""
    tells_the_same(store, deliveries)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=15)
@given(deliveries=DELIVERIES)
def test_so_it_is_in_either_database(store: Store, deliveries: list[list[Entry]]) -> None:
    tells_the_same(store, deliveries)


def tells_the_same(store: Store, deliveries: list[list[Entry]]) -> None:
    pair = store.add_pair(f"link {next(NUMBERS)}", "x", "cm", "{}")
    for delivery in deliveries:
        store.add_entries(pair, delivery)
        whole, known = store.entries(pair), store.log_digest(pair)
        assert known.ends == ends(whole.values())
        assert known.cursor == max(whole, default=0)
        state = PairState(pair.title, pair.unit, (), known.ends, known.entries)
        assert state.done == rounds_done(whole.values())
        assert state.clock == highest_clock(whole.values())
        for remarks_of in (checks_kept, weighings_kept, left_out):
            assert remarks_of(known.entries) == remarks_of(whole.values())
        for kind in ("note", "try-on", "length"):
            assert standing(known.entries, kind) == standing(whole.values(), kind)


def test_of_thousands_of_counts_only_those_beside_a_remark_are_known(store: Store, pair: Pair) -> None:
    counts = [made(number, round=number % 100) for number in range(1, 2001)]
    check = made(5000, clock=700, kind="check", round=0, data=DATA["check"])
    store.add_entries(pair, [*counts, check])
    known = store.log_digest(pair)
    assert known.entries == [
        counts[699],
        check,
    ]  # the count just before it: of the same clock, and by its name the earlier
    assert known.ends == {1: [counts[-1]], 2: []}


@pytest.mark.parametrize("named", [False, True])
def test_a_move_that_arrives_late_is_no_end_where_one_that_was_there_went_on_from_it(
    store: Store, pair: Pair, named: bool
) -> None:
    late = made(1)
    first = made(2, **({"after": [late.id]} if named else {}))
    second = made(3, after=[first.id])
    store.add_entries(pair, [first, second])
    store.add_entries(pair, [late])
    assert store.log_digest(pair).ends[1] == [second]


def test_rounds_that_were_ripped_back_are_known_at_the_next_check(store: Store, pair: Pair) -> None:
    """Ten rounds, six of them ripped, and one more: eleven were knitted when the check was made."""
    counts = [made(number) for number in range(1, 11)]
    ripped = made(11, kind="go", round=4, device=THIS_SERVER)
    check = made(13, kind="check", round=5, data=DATA["check"])
    store.add_entries(pair, [*counts, ripped, made(12, round=5), check])
    [kept] = checks_kept(store.log_digest(pair).entries)
    assert kept.check.round == 11


def test_of_moves_of_the_same_clock_the_one_of_the_later_device_comes_last(store: Store) -> None:
    here, there = (made(number, clock=7, device=DEVICES[number - 1], sock=2, round=number) for number in (1, 2))
    weighing = made(3, clock=8, kind="weighing", round=0, data=DATA["weighing"])
    for moves in ((here, there), (there, here)):
        own = store.add_pair(f"link {next(NUMBERS)}", "x", "cm", "{}")
        store.add_entries(own, [*moves, weighing])
        [kept] = weighings_kept(store.log_digest(own).entries)
        assert kept.done == (0, 2)


def test_the_newest_entries_are_those_that_arrived_last(store: Store, pair: Pair) -> None:
    store.add_entries(pair, [made(number) for number in (5, 1, 4, 2)])
    assert store.newest_entries(pair, 2) == [made(4), made(2)]
    assert len(store.newest_entries(pair, 10)) == 4


@pytest.mark.parametrize("damage", ["round = 'many'", "kind = 'danced'", "at = x'00ff'"])
def test_an_end_that_no_longer_reads_is_set_aside_and_the_one_before_it_holds(
    store: Store, pair: Pair, store_path: Path, damage: str
) -> None:
    store.add_entries(pair, [made(1), made(2), made(3)])
    damaged(store_path, f"UPDATE log SET {damage} WHERE number = 3")
    assert store.log_digest(pair).ends == {1: [made(2)], 2: []}
    assert [one.what for one in quarantined(store_path, pair)] == ["entry 3"]


@pytest.mark.parametrize("damage", ["after = '{'", "after = 7", "after = x'00ff'", "after = '[{}]'", "clock = 'x'"])
def test_counts_are_taken_in_though_a_move_no_longer_reads(
    store: Store, pair: Pair, store_path: Path, damage: str
) -> None:
    store.add_entries(pair, [made(1), made(2), made(5)])
    damaged(store_path, f"UPDATE log SET {damage} WHERE number = 2")
    store.add_entries(pair, [made(1, id=made(9).id, device=DEVICES[1]), made(6)])
    assert store.log_digest(pair).ends == {1: [made(6)], 2: []}


def test_a_deleted_pair_leaves_no_ends_behind(store: Store, pair: Pair, store_path: Path) -> None:
    store.add_entries(pair, [made(1)])
    store.deleting.pair(pair)
    assert rows(store_path, "SELECT count(*) FROM ends") == [(0,)]
