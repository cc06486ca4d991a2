"""What a pair teaches of a knitter's own gauge."""

from __future__ import annotations

from typing import Any

import pytest

from companion.pair.learned_gauges import decided, gauges_learned, learned_from, next_request, undecided
from companion.pair.logbook import Entry

from ..conftest import made
from .states import state_of


@pytest.fixture
def fog(request_data: dict[str, Any]) -> dict[str, Any]:
    """A request with a yarn of this name on thin needles."""
    yarn = {"key": "A", "name": "fog", "metres_per_100g": 420, "grams": 100}
    return {**request_data, "yarns": [yarn], "needles": {"size_mm": 2.25}}


def check(number: int, stitches: float | None, rounds: float | None = None) -> Entry:
    data: dict[str, Any] = {}
    for what, count in (("stitches", stitches), ("rounds", rounds)):
        if count is not None:
            data[what] = [{"count": count, "over_cm": 10}, {"count": count, "over_cm": 9.9}]
    return made(number, kind="check", round=40, data=data)


def test_nothing_is_learned_before_the_first_check(request_data: dict[str, Any]) -> None:
    assert learned_from(state_of(request_data)) is None


def test_a_gauge_is_learned_with_yarn_needle_and_how_sure_it_is(fog: dict[str, Any]) -> None:
    once = learned_from(state_of(fog, [check(1, 29, 41)]))
    assert once
    assert (once["yarn"], once["needle_mm"], once["checks"]) == ("fog", 2.25, 1)
    assert once["at"] == "2025-11-03T19:30:00Z"
    assert once["rounds"]["per_10cm"] == pytest.approx(41, abs=0.7)
    twice = learned_from(state_of(fog, [check(1, 29, 41), check(2, 29, 41)]))
    assert twice
    assert twice["checks"] == 2
    assert twice["stitches"]["give_or_take"] < once["stitches"]["give_or_take"]


def test_rounds_that_were_never_counted_are_not_learned(request_data: dict[str, Any]) -> None:
    found = learned_from(state_of(request_data, [check(1, 29)]))
    assert found
    assert found["rounds"] is None


def test_rounds_alone_teach_no_gauge(request_data: dict[str, Any]) -> None:
    assert learned_from(state_of(request_data, [check(1, None, 41)])) is None


def test_a_check_that_was_left_out_teaches_nothing(request_data: dict[str, Any]) -> None:
    slip = check(1, 29)
    pair = state_of(request_data, [slip, made(2, kind="withdrawal", round=40, data={"entry": slip.id})])
    assert learned_from(pair) is None
    assert next_request(pair) == (pair.plan(1).request, 0)


def test_a_gauge_stays_open_until_it_is_decided_to_knit_on_and_is_open_again_after_the_next_check(
    request_data: dict[str, Any],
) -> None:
    """Taken back, a decision decides nothing; what is at the same clock on another phone comes in their order."""
    decision = made(2, kind="decision", round=40, data={"way": "as it is"})
    taken_back = made(3, kind="withdrawal", round=40, data={"entry": decision.id})

    def is_open(*entries: Entry) -> bool:
        pair = state_of(request_data, entries)
        found = gauges_learned(pair)
        assert found
        return undecided(pair, found[0])

    assert is_open(check(1, 26))
    assert not is_open(check(1, 26), decision)
    assert not is_open(check(1, 30))
    assert is_open(check(1, 26), decision, check(3, 26))
    assert is_open(check(1, 26), decision, taken_back)


def test_only_what_was_off_and_is_settled_counts_as_decided(request_data: dict[str, Any]) -> None:
    decision = made(2, kind="decision", round=40, data={"way": "as it is"})

    def is_decided(*entries: Entry) -> bool:
        pair = state_of(request_data, entries)
        found = gauges_learned(pair)
        assert found
        return decided(pair, found[0])

    assert is_decided(check(1, 26), decision)
    assert not is_decided(check(1, 26))
    assert not is_decided(check(1, 26), decision, check(3, 26))
    assert not is_decided(check(1, 30), decision)
