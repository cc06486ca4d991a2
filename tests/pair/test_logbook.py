"""The logbook: which entries are sound, their order, and the place that follows from them."""

from __future__ import annotations

from itertools import permutations
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.pair.logbook import (
    FURTHEST_AHEAD,
    HIGHEST_CLOCK,
    Entry,
    ahead_of_all,
    ends,
    highest_clock,
    left_out,
    read_entry,
    rounds_done,
)

from ..conftest import entry, fully, made
from ..planning.asking import planned
from ..two_phones import SOCK, knitted_apart


def test_a_sound_entry_is_read_as_it_is() -> None:
    found, faults = read_entry(entry(3))
    assert not faults
    assert found
    assert found.as_json() == entry(3)


def test_every_round_of_the_tallest_sock_can_be_counted() -> None:
    """The largest foot, cuff and leg that a request may have, at the finest gauge."""
    tallest = planned(
        foot={"ball_circumference_cm": 33, "length_cm": 36, "heel_diagonal_cm": 50},
        gauge={"stitches_per_10cm": 60, "rounds_per_10cm": 100},
        ease={"length_cm": -1},
        cuff={"length_cm": 40},
        leg={"length_cm": 60},
    )
    assert read_entry(entry(1, round=len(tallest.rounds())))[0]


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("id", "nonsense"),
        ("id", 5),
        ("id", "00000000-0000-4000-8000-000000000001\n"),
        ("device", None),
        ("clock", 0),
        ("clock", 2**48 + 1),
        ("clock", 2**53 - 1),
        ("clock", 2**53),
        ("clock", 1.0),
        ("clock", "1"),
        ("clock", True),
        ("at", "yesterday"),
        ("at", "2025-11-03T19:30:00"),
        ("at", "2025-11-03T19:30:00+01:00"),
        ("sock", 0),
        ("sock", 3),
        ("sock", True),
        ("sock", 1.0),
        ("sock", "1"),
        ("kind", "rip"),
        ("round", -1),
        ("round", 5001),
        ("round", True),
        ("extra", 1),
        ("after", "x"),
        ("after", [entry(1)["id"]] * 17),
    ],
)
def test_a_damaged_entry_is_reported_by_its_field(field: str, value: object) -> None:
    found, faults = read_entry(entry(1) | {field: value})
    assert found is None
    assert [fault.where for fault in faults] == [field]
    assert faults[0].message


SPOT = {"count": 31.5, "over_cm": 10}
REMARKS: list[tuple[str, dict[str, Any]]] = [
    ("note", {"text": "ß" * 1000}),
    ("try-on", {"where": "instep", "feels": "tight"}),
    ("check", {"stitches": [SPOT, SPOT], "rounds": [SPOT]}),
    ("check", {"rounds": [SPOT]}),
    ("weighing", {"grams": 41.5, "yarn": "B"}),
    ("length", {"cm": 12.5, "from": "back of heel"}),
    ("length", {"cm": 14.5, "from": "section"}),
    ("withdrawal", {"entry": "00000000-0000-4000-8000-000000000001"}),
]


@pytest.mark.parametrize(("kind", "data"), REMARKS)
def test_a_remark_is_read_as_it_is_and_moves_nothing(kind: str, data: dict[str, Any]) -> None:
    remark = entry(9, kind=kind, round=4, data=data)
    found, faults = read_entry(remark)
    assert not faults
    assert found
    assert found.as_json() == remark
    assert rounds_done([made(1), found]) == {1: 1, 2: 0}
    assert highest_clock([made(1), found]) == 9


@pytest.mark.parametrize(("kind", "data"), REMARKS)
def test_a_remark_that_was_taken_back_keeps_its_name_and_place_alone(kind: str, data: dict[str, Any]) -> None:
    emptied = entry(9, kind=kind, round=4)
    found, _ = read_entry(emptied)
    if kind == "withdrawal":
        assert found is None
        return
    assert found
    assert found.emptied
    assert not made(8, kind=kind, data=data).emptied
    assert found.as_json() == emptied
    assert left_out([found]) == {found.id}


@pytest.mark.parametrize(
    ("kind", "data", "where"),
    [
        ("note", "loose", "data"),
        ("note", {}, "data.text"),
        ("note", {"text": ""}, "data.text"),
        ("note", {"text": "x" * 1001}, "data.text"),
        ("note", {"text": 5}, "data.text"),
        ("note", {"text": "x", "photo": "y"}, "data.photo"),
        ("try-on", {"where": "knee", "feels": "right"}, "data.where"),
        ("try-on", {"where": "heel"}, "data.feels"),
        ("check", {}, "data"),
        ("check", {"stitches": [{"count": 0, "over_cm": 10}]}, "data.stitches.0.count"),
        ("weighing", {"grams": -1}, "data.grams"),
        ("weighing", {"grams": float("nan")}, "data.grams"),
        ("weighing", {"grams": 1, "yarn": "E"}, "data.yarn"),
        ("length", {"cm": True, "from": "cast-on"}, "data.cm"),
        ("length", {"cm": 9, "from": "knee"}, "data.from"),
        ("withdrawal", {"entry": "the last one"}, "data.entry"),
        ("withdrawal", None, "data"),
        ("count", {"text": "x"}, "data"),
        ("note", {"text": "x", "more": "y" * 5000}, "data"),
    ],
)
def test_a_remark_that_says_nothing_is_reported_by_its_field(kind: str, data: object, where: str) -> None:
    found, faults = read_entry(entry(1, kind=kind, data=data))
    assert found is None
    assert [fault.where for fault in faults] == [where]
    assert faults[0].message


@pytest.mark.parametrize("data", [None, 1, "x", [], [entry(1)]])
def test_what_is_no_object_is_reported(data: object) -> None:
    found, faults = read_entry(data)
    assert found is None
    assert faults


def test_a_clock_may_be_ahead_of_all_others_by_so_much_and_no_more() -> None:
    near, far = made(1, clock=10 + FURTHEST_AHEAD), made(2, clock=11 + FURTHEST_AHEAD)
    assert ahead_of_all([near], 10) == {}
    assert list(ahead_of_all([far], 10)) == [far.id]
    assert ahead_of_all([far, near], 10) == {}, "whatever their order, the nearer one takes the further one along"
    told = str(ahead_of_all([far], 10)[far.id])
    assert told == f"clock: {far.clock} given; allowed up to {far.clock - 1}, so far ahead of all others"


def test_clocks_of_a_full_logbook_stay_below_the_highest() -> None:
    assert 200_000 * FURTHEST_AHEAD < HIGHEST_CLOCK // 2 < HIGHEST_CLOCK < 2**53


def test_no_entries_mean_nothing_done() -> None:
    assert rounds_done([]) == {1: 0, 2: 0}
    assert highest_clock([]) == 0


def test_the_last_entry_of_a_sock_is_its_place() -> None:
    log = [made(1), made(2), made(3, kind="undo", round=1), made(4, sock=2, kind="go", round=40)]
    assert rounds_done(log) == {1: 1, 2: 40}
    assert highest_clock(log) == 4


def test_entries_of_one_clock_are_ordered_by_device_then_id() -> None:
    log = [
        made(1, clock=5, device="bbbbbbbb-0000-4000-8000-000000000001", round=11),
        made(2, clock=5, device="aaaaaaaa-0000-4000-8000-000000000001", round=12),
        made(3, clock=5, device="aaaaaaaa-0000-4000-8000-000000000001", round=13),
    ]
    assert [one.round for one in sorted(log, key=Entry.order)] == [12, 13, 11]
    assert {rounds_done(order)[1] for order in permutations(log)} == {11}


@given(st.lists(st.tuples(st.integers(1, 9), st.integers(0, 99)), max_size=8), st.randoms(use_true_random=False))
def test_the_order_of_arrival_does_not_matter(steps: list[tuple[int, int]], random: Any) -> None:
    log = [made(number, clock=clock, round=place) for number, (clock, place) in enumerate(steps, start=1)]
    shuffled = random.sample(log, len(log))
    assert rounds_done(shuffled) == rounds_done(log)


def test_a_move_that_names_none_goes_on_from_everything_before_it() -> None:
    log = [made(1, after=[]), made(2, after=[], round=9), made(3)]
    assert [one.round for one in ends(log)[1]] == [3]
    assert ends([])[1] == ends(log)[2] == []


def test_moves_made_without_knowledge_of_each_other_are_both_ends() -> None:
    first, mine, others = made(1, after=[]), made(2, after=[made(1).id]), made(12, clock=2, after=[made(1).id], round=5)
    assert ends([first, mine, others])[1] == [mine, others]
    settled = made(13, clock=3, kind="go", round=2, after=[mine.id, others.id])
    assert ends([settled, others, mine, first])[1] == [settled]


@given(st.integers(0, 2**32), st.integers(1, 400))
def test_the_ends_are_what_nobody_went_on_from(seed: int, steps: int) -> None:
    """Whatever the network did: every move is there once, everywhere, and only what differs is asked."""
    ledger, phones, server = knitted_apart(seed, steps)
    assert set(server) == {move.id for move in ledger.moves}
    for phone in phones:
        assert phone.entries == server
    found = ends(server.values())[SOCK]
    assert {end.id for end in found} == ledger.ends_among(server.values())
    assert rounds_done(server.values())[SOCK] == (found[-1].round if found else 0)


def test_ten_thousand_moves_of_two_phones_meet() -> None:
    asked = 0
    for seed in range(3 if fully() else 1):
        ledger, phones, server = knitted_apart(seed, 11_000)
        assert len(server) == len(ledger.moves) > 10_000 or seed
        assert all(phone.entries == server for phone in phones)
        assert {end.id for end in ends(server.values())[SOCK]} == ledger.ends_among(server.values())
        asked += sum(phone.asked for phone in phones)
    assert asked


@given(st.integers(0, 2**32), st.integers(1, 200), st.randoms(use_true_random=False))
def test_neither_order_nor_doubles_change_the_ends(seed: int, steps: int, random: Any) -> None:
    log = list(knitted_apart(seed, steps)[2].values())
    twice = random.sample(log * 2, 2 * len(log))
    assert ends(twice) == ends(log)
    assert rounds_done(twice) == rounds_done(log)
