"""Weighings are read from the logbook with the places of both socks."""

from __future__ import annotations

from companion.pair.logbook import Entry
from companion.pair.yarn.weighings import weighings_kept, weighings_of

from ...conftest import entry


def weighing(number: int, grams: float, place: int, sock: int = 1, **data: str) -> Entry:
    return Entry(**entry(number, kind="weighing", round=place, sock=sock, data={"grams": grams, **data}))


def moved(number: int, place: int, sock: int = 1) -> Entry:
    return Entry(**entry(number, kind="go", round=place, sock=sock))


def test_each_yarn_has_its_weighings_in_the_order_of_the_clocks() -> None:
    log = [weighing(4, 60, 50), moved(3, 50), weighing(2, 90, 20, yarn="B"), moved(1, 20), weighing(5, 58.5, 55)]
    assert weighings_of(log) == {"B": [(90.0, (20, 0))], "A": [(60.0, (50, 0)), (58.5, (55, 0))]}


def test_the_other_sock_is_where_it_was_last() -> None:
    log = [moved(1, 200), moved(2, 12, sock=2), weighing(3, 40, 12, sock=2), moved(4, 30, sock=2), weighing(5, 39, 200)]
    assert weighings_of(log) == {"A": [(40.0, (200, 12)), (39.0, (200, 30))]}


def test_a_slip_of_the_pen_does_not_count() -> None:
    slip = weighing(1, 870, 20)
    log = [slip, weighing(2, 87, 20), Entry(**entry(3, kind="withdrawal", round=20, data={"entry": slip.id}))]
    assert weighings_of(log) == {"A": [(87.0, (20, 0))]}
    assert [one.grams for one in weighings_kept(log)] == [87.0]
    emptied = Entry(**entry(1, kind="weighing", round=20))
    assert weighings_of([emptied, *log[1:]]) == {"A": [(87.0, (20, 0))]}


def test_a_logbook_without_weighings_has_none() -> None:
    assert weighings_of([moved(1, 20)]) == {}
