"""What a page needs of the file is read once, and what it does not show is not read."""

from __future__ import annotations

import sqlite3
from collections import Counter
from collections.abc import Callable, Iterator
from unittest.mock import patch

from flask import Flask

from companion.pair.logbook import read_entry
from companion.pair.state import read_kept
from companion.planning import read_plan
from companion.store import Store

from ...conftest import Browser, made
from ..fuzz.everything import pair_with_everything


def pages_of_a_pair(app: Flask) -> Iterator[str]:
    """The address of every page of a pair, with the link left out."""
    for rule in app.url_map.iter_rules():
        if rule.rule.startswith("/pair/<link>") and rule.arguments == {"link"} and "GET" in (rule.methods or ()):
            yield rule.rule.removeprefix("/pair/<link>")


def test_no_page_reads_a_plan_twice(app: Flask, browser: Browser) -> None:
    _, link = pair_with_everything(browser)
    most = 0
    for page in pages_of_a_pair(app):
        read_kept.cache_clear()
        with patch("companion.pair.state.read_plan", side_effect=read_plan) as reading:
            assert browser.get(f"/pair/{link}{page}").status_code == 200, page
        times = Counter(repr(call.args[0]) for call in reading.call_args_list)
        assert set(times.values()) <= {1}, page
        most = max(most, len(times))
    # That of sock 1, that before its newest change, which can be taken back, and that of sock 2, begun by the first.
    assert most == 3


SHOW_THE_WHOLE_LOGBOOK = {"/logbook", "/export", "/copy"}
MANY, MORE = 1500, 4500
"""Entries; both are more than the pace of the hands is told from."""


def steps_of(browser: Browser, store: Store, address: str) -> tuple[int, int]:
    """What a page costs that grows with a logbook: entries that are read, and SQLite's own steps (its opcodes)."""
    steps = 0

    def step() -> int:
        nonlocal steps
        steps += 1
        return 0

    def watch(handler: Callable[[], int] | None) -> None:
        with store._reading() as db:
            assert isinstance(db, sqlite3.Connection)
            db.set_progress_handler(handler, 1)

    watch(step)
    with patch("companion.store.read_entry", side_effect=read_entry) as reading:
        assert browser.get(address).status_code == 200, address
    watch(None)
    return reading.call_count, steps


def test_a_longer_logbook_costs_no_more_where_it_is_not_shown(app: Flask, browser: Browser, store: Store) -> None:
    _, link = pair_with_everything(browser)
    pair = store.find_pair(link)
    assert pair
    costs = []
    for first, last in ((0, MANY), (MANY, MORE)):
        counts = [made(1000 + number, round=number % 90) for number in range(first, last)]
        store.add_entries(pair, counts)
        costs.append({page: steps_of(browser, store, f"/pair/{link}{page}") for page in pages_of_a_pair(app)})
    few, many = costs
    for page in few.keys() - SHOW_THE_WHOLE_LOGBOOK:
        assert many[page][0] == few[page][0] < MANY, page
        assert many[page][1] < 1.1 * few[page][1], page
    for page in SHOW_THE_WHOLE_LOGBOOK:
        assert MORE < many[page][0] < 1.1 * MORE, page
