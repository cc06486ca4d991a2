"""Days are counted in the design's time zone, through every change of the clocks."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.group.stages import day_at, paces
from companion.pair.logbook import SOCKS, Sock
from companion.planning.plan.design import Design, Stage
from companion.planning.plan.document import PartOfSock

ENDS = {"cuff": 10, "leg": 60, "heel": 90, "foot": 130, "toe": 150}


def words(by: date, today: date, done: int) -> str:
    design = Design(stages=(Stage(name="Leg", until="leg", by=by),))
    [pace] = paces(design, {1: ENDS, 2: ENDS}, {1: done, 2: 0}, today)
    return pace.words


@pytest.mark.parametrize(
    ("moment", "zone", "day"),
    [
        # From the rules of the IANA time zone database (tzdata): Berlin is UTC+1, from the last Sunday of March UTC+2.
        ("2025-11-02T22:59:59+00:00", "Europe/Berlin", date(2025, 11, 2)),
        ("2025-11-02T23:00:00+00:00", "Europe/Berlin", date(2025, 11, 3)),
        ("2026-03-29T21:59:59+00:00", "Europe/Berlin", date(2026, 3, 29)),
        ("2026-03-29T22:00:00+00:00", "Europe/Berlin", date(2026, 3, 30)),
        ("2025-11-03T09:59:00+00:00", "Pacific/Kiritimati", date(2025, 11, 3)),  # UTC+14
        ("2025-11-03T10:00:00+00:00", "Pacific/Kiritimati", date(2025, 11, 4)),
        ("2025-11-03T10:00:00+00:00", "Pacific/Pago_Pago", date(2025, 11, 2)),  # UTC-11
        ("2025-11-03T18:14:00+00:00", "Asia/Kathmandu", date(2025, 11, 3)),  # UTC+5:45
        ("2025-11-03T18:15:00+00:00", "Asia/Kathmandu", date(2025, 11, 4)),
        ("2025-11-03T12:00:00+00:00", "No/Such_Zone", date(2025, 11, 3)),
        ("2025-11-03T12:00:00+00:00", "/etc/passwd", date(2025, 11, 3)),
    ],
)
def test_the_day_is_the_one_of_the_zone(moment: str, zone: str, day: date) -> None:
    assert day_at(moment, zone) == day


@pytest.mark.parametrize(
    ("by", "done", "said"),
    [
        (date(2025, 11, 9), 0, "60 rounds left, 9 a day"),
        (date(2025, 11, 4), 0, "60 rounds left, 30 a day"),
        (date(2025, 11, 3), 59, "1 round left, due today"),
        (date(2025, 11, 2), 0, "60 rounds left, and the day is over"),
        (date(2025, 11, 9), 60, "done"),
        (date(2025, 11, 2), 61, "done"),
    ],
)
def test_the_pace_in_words(by: date, done: int, said: str) -> None:
    assert words(by, date(2025, 11, 3), done) == said


@given(left=st.integers(1, 400), days=st.integers(2, 400))
def test_the_rounds_a_day_are_enough_and_one_fewer_is_not(left: int, days: int) -> None:
    start = date(2025, 11, 3)
    design = Design(stages=(Stage(name="Leg", until="leg", by=date.fromordinal(start.toordinal() + days - 1)),))
    [pace] = paces(design, {1: {"leg": left}, 2: {"leg": left}}, {1: 0, 2: 0}, start)
    assert pace.days == days
    assert pace.a_day * days >= left > (pace.a_day - 1) * days


def test_stages_come_in_the_order_of_their_days() -> None:
    stages = [
        Stage(name=name, until="leg", by=date.fromisoformat(by))
        for name, by in (("b", "2025-11-09"), ("a", "2025-11-05"))
    ]
    found = paces(Design(stages=tuple(stages)), {1: ENDS, 2: ENDS}, {1: 0, 2: 0}, date(2025, 11, 3))
    assert [pace.stage.name for pace in found] == ["a", "b"]


@pytest.mark.parametrize(
    ("sock", "until", "done", "two_at_a_time", "said"),
    [
        # Two socks of 150 rounds are 300, in 25 days 12 a day.
        (2, "toe", (0, 0), False, "300 rounds left on both socks, 12 a day"),
        (2, "toe", (150, 0), False, "150 rounds left, 6 a day"),
        (2, "toe", (160, 25), False, "125 rounds left, 5 a day"),
        (2, "leg", (100, 0), False, "110 rounds left on both socks, 5 a day"),
        (2, "leg", (100, 60), False, "done"),
        (1, "leg", (0, 0), False, "60 rounds left, 3 a day"),
        # Side by side, the other one has to come as far and no further.
        (1, "leg", (0, 0), True, "120 rounds left on both socks, 5 a day"),
        (2, "leg", (60, 50), True, "10 rounds left, 1 a day"),
    ],
)
def test_rounds_of_the_other_sock_that_come_before_a_stage_count(
    sock: Sock, until: PartOfSock, done: tuple[int, int], two_at_a_time: bool, said: str
) -> None:
    design = Design(stages=(Stage(name="A stage", sock=sock, until=until, by=date(2025, 11, 27)),))
    there = dict(zip(SOCKS, done, strict=True))
    [pace] = paces(design, {1: ENDS, 2: ENDS}, there, date(2025, 11, 3), two_at_a_time=two_at_a_time)
    assert pace.words == said
