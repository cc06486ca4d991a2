"""What is known of a pair's gauge."""

from __future__ import annotations

from typing import Any

import pytest

from companion.pair.evidence import evidence_of, known_of
from companion.pair.logbook import Entry
from companion.planning import Check
from companion.planning.gauge.observations import Assumed

from ..conftest import made
from .states import state_of


def check(number: int, stitches: float, **changes: Any) -> Entry:
    return made(number, kind="check", round=40, data={"stitches": [{"count": stitches, "over_cm": 10}]}, **changes)


def test_every_check_of_both_socks_counts_once(request_data: dict[str, Any]) -> None:
    pair = state_of(request_data, [check(1, 28), check(2, 28.5, sock=2)])
    found, gauges = evidence_of(pair), known_of(pair).plain
    assert [type(item) for item in found] == [Assumed, Check, Check]
    assert isinstance(found[0], Assumed)
    assert found[0].stitches_per_10cm == 30
    # The counts say 28.25, and what was assumed is not so far off that it does not count a little.
    assert 28.25 < gauges.stitches.per_10cm < 28.6
    # Both were made after as many rounds of the pair, and are one with two spots.
    assert len(gauges.stitches.seen) == 2


def test_a_miscount_from_a_phone_without_network_is_left_out(request_data: dict[str, Any]) -> None:
    assert len(evidence_of(state_of(request_data, [check(1, 12), check(2, 28)]))) == 2


@pytest.mark.parametrize("log", [[], [made(1, kind="note", data={"text": "blue"})]])
def test_without_a_check_only_what_was_planned_is_known(request_data: dict[str, Any], log: list[Entry]) -> None:
    [assumed] = evidence_of(state_of(request_data, log))
    assert isinstance(assumed, Assumed)
