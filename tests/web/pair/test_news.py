"""What one phone writes reaches another that asks at the same time."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

import pytest

from companion.store import Store
from companion.store.database import Database

from ...conftest import Browser, entry, made
from ...storing import counting

COUNTED = 200
"""Rounds that another process counts: enough to be written between any two reads of one answer."""

OVER_BOTH_DATABASES = True


def asked(browser: Browser, link: str, after: int) -> dict[str, Any]:
    found: dict[str, Any] = browser.post_json(f"/pair/{link}/log", {"after": after}).get_json()
    return found


def test_what_is_written_between_two_reads_of_an_answer_is_in_the_next_one(
    browser: Browser, link: str, store: Store, store_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another phone's count is kept at the end of every read, wherever that is."""
    counted = 0
    with closing(Store(store_path)) as elsewhere:
        pair = elsewhere.find_pair(link)
        assert pair

        read = store._reading

        @contextmanager
        def with_a_count_behind() -> Iterator[Database]:
            nonlocal counted
            with read() as db:
                yield db
            counted += 1
            elsewhere.add_entries(pair, [made(counted)])

        monkeypatch.setattr(store, "_reading", with_a_count_behind)
        first = asked(browser, link, 0)
        monkeypatch.undo()
        second = asked(browser, link, first["cursor"])
    assert counted > 1
    assert first["entries"] + second["entries"] == [entry(number) for number in range(1, counted + 1)]


def test_a_phone_that_asks_all_the_time_hears_of_every_count_of_another_process(
    browser: Browser, link: str, store_path: Path
) -> None:
    heard: list[int] = []
    cursor = 0
    with counting(store_path, link, made(1), COUNTED) as other:
        assert other.stdout
        assert other.stdout.readline() == "1\n"
        counts = True
        while counts:
            counts = other.poll() is None  # asked once more after the last count
            answer = asked(browser, link, cursor)
            heard += [one["round"] for one in answer["entries"]]
            cursor = answer["cursor"]
    assert heard == list(range(1, COUNTED + 1))


def test_an_entry_that_does_not_read_is_asked_for_once(browser: Browser, link: str, store: Store) -> None:
    pair = store.find_pair(link)
    assert pair
    store.add_entries(pair, [made(1), made(2)])
    with store._writing() as db:
        db.execute("UPDATE log SET kind = 'danced' WHERE round = 2")
    assert asked(browser, link, 0)["cursor"] == 2
