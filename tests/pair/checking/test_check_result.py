"""What all the checks of a pair mean: what counts, what can be left out, and what the result is named by."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from companion.pair.checking.check_result import CheckResult
from companion.pair.logbook import Entry

from ...conftest import made
from ..states import state_of

LOOSE = [{"count": 27, "over_cm": 10}, {"count": 54, "over_cm": 20}]


def check(number: int, spots: Sequence[dict[str, Any]] = LOOSE) -> Entry:
    return made(number, kind="check", round=40, data={"stitches": list(spots)})


def result(request_data: dict[str, Any], log: Sequence[Entry]) -> CheckResult:
    pair = state_of(request_data, [made(1, kind="go", round=40), *log])
    return CheckResult(pair, pair.position(1))


def test_without_a_count_there_is_no_result(request_data: dict[str, Any]) -> None:
    assert result(request_data, []).found_or_fault() == (None, [])


def test_the_newest_check_comes_first_and_each_can_be_left_out(request_data: dict[str, Any]) -> None:
    length = made(4, kind="length", round=40, data={"cm": 9})
    found = result(request_data, [check(2), check(3), length])
    assert [one.id for one in found.checks] == [made(3).id, made(2).id]
    assert found.slips_possible == {made(number).id for number in (2, 3, 4)}


def test_what_no_fabric_explains_is_a_miscount_and_changes_nothing(request_data: dict[str, Any]) -> None:
    miscount = check(3, [{"count": 12, "over_cm": 10}])
    alone, both = result(request_data, [check(2)]), result(request_data, [check(2), miscount])
    assert both.miscounts == {miscount.id}
    assert both.basis == alone.basis
    assert both.found == alone.found


def test_a_check_more_or_less_is_another_basis(request_data: dict[str, Any]) -> None:
    slip = made(4, kind="withdrawal", round=40, data={"entry": made(3).id})
    once = result(request_data, [check(2)])
    twice = result(request_data, [check(2), check(3)])
    left_out = result(request_data, [check(2), check(3), slip])
    assert once.basis != twice.basis
    assert left_out.basis == once.basis
