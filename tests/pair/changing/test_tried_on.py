"""Which try-ons of a sock count."""

from __future__ import annotations

from typing import Any

from companion.pair.changing.tried_on import FitResult
from companion.pair.logbook import Entry

from ...conftest import made
from ..states import state_of


def tried(number: int, felt: str, **changes: Any) -> Entry:
    """A try-on, like "tight foot"."""
    feels, where = felt.split()
    return made(number, **{"kind": "try-on", "round": 40, "data": {"where": where, "feels": feels}, **changes})


def felt(request_data: dict[str, Any], *log: Entry) -> list[str]:
    """What counts for sock 1, in order."""
    pair = state_of(request_data, [made(1, kind="go", round=40), *log])
    result = FitResult(pair, pair.position(1))
    assert result.basis == " ".join(["1", *(one.id for one in result.entries)])
    return [f"{one.felt.feels} {one.felt.where}" for one in result.found]


def test_nothing_was_felt_before_the_first_try_on(request_data: dict[str, Any]) -> None:
    assert felt(request_data) == []


def test_the_newest_for_each_part_at_the_last_round_counts(request_data: dict[str, Any]) -> None:
    log = (tried(2, "loose leg", round=30), tried(3, "tight foot"), tried(4, "tight heel"), tried(5, "right foot"))
    assert felt(request_data, *log) == ["right foot", "tight heel"]


def test_the_other_sock_and_slips_do_not_count(request_data: dict[str, Any]) -> None:
    slip = made(4, kind="withdrawal", round=40, data={"entry": made(3).id})
    assert felt(request_data, tried(2, "tight leg"), tried(3, "tight foot"), slip, tried(5, "loose leg", sock=2)) == [
        "tight leg"
    ]
