"""The checks in a logbook as evidence: both socks, ripped rounds, mistakes."""

from __future__ import annotations

from typing import Any

import pytest

from companion.pair.checking.checks import checks_kept, is_miscount
from companion.pair.logbook import THIS_SERVER, Entry
from companion.planning import Check, PlanRequest, make_plan
from companion.planning.gauge.check import Spot

from ...conftest import made

SPOT = {"count": 31.5, "over_cm": 10}


def check(number: int, place: int, **changes: Any) -> Entry:
    return made(number, kind="check", round=place, data={"stitches": [SPOT]}, **changes)


def test_a_check_on_sock_two_comes_after_the_rounds_of_sock_one() -> None:
    log = [made(1, kind="go", round=40), check(2, 40), made(3, kind="go", round=160), check(4, 30, sock=2)]
    found = checks_kept(log)
    assert [(one.sock, one.round, one.check.round) for one in found] == [(1, 40, 40), (2, 30, 190)]


def test_two_at_a_time_the_rounds_of_both_are_counted() -> None:
    log = [made(1, kind="go", round=40), made(2, kind="go", round=38, sock=2), check(3, 40), check(4, 38, sock=2)]
    assert [one.check.round for one in checks_kept(log)] == [78, 78]


def test_what_was_ripped_was_knitted_too() -> None:
    log = [made(1, kind="go", round=40), check(2, 40), made(3, kind="go", round=0, device=THIS_SERVER), check(4, 25)]
    assert [one.check.round for one in checks_kept(log)] == [40, 65]


def test_a_correction_of_the_place_is_no_ripping() -> None:
    log = [made(1, kind="go", round=40), made(2, kind="go", round=38), check(3, 38)]
    assert [one.check.round for one in checks_kept(log)] == [38]


def test_the_order_is_that_of_the_logbook_wherever_the_entries_come_from() -> None:
    log = [check(3, 60), made(1, kind="go", round=40), check(2, 40), made(4, kind="note", data={"text": "blue"})]
    assert [one.round for one in checks_kept(log)] == [40, 60]


def test_a_slip_of_the_pen_is_left_out() -> None:
    slip = check(1, 20)
    log = [slip, made(2, kind="withdrawal", data={"entry": slip.id}), check(3, 20)]
    assert [one.id for one in checks_kept(log)] == [log[2].id]


def test_what_was_emptied_is_left_out_also_before_its_withdrawal_arrives() -> None:
    assert checks_kept([made(1, kind="check", round=20)]) == []


@pytest.mark.parametrize(("count", "cannot_be"), [(30, False), (26, False), (15, True)])
def test_what_no_fabric_explains_is_a_miscount(request_data: dict[str, Any], count: int, cannot_be: bool) -> None:
    plan = make_plan(PlanRequest.model_validate(request_data))
    assert is_miscount(Check(stitches=(Spot(count=count, over_cm=10),)), plan) is cannot_be
