"""Logbook entries as rows of the log, and back."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import suppress
from typing import Any

from ..logbook import Entry

PLAIN = ("id", "device", "clock", "at", "sock", "kind", "round")
JSON = ("data", "after")
"""What the log keeps of an entry as it is, and what it keeps as JSON text."""


def insert(db: sqlite3.Connection, pair: int, entries: Iterable[Entry], received: str) -> None:
    """Keep entries; one whose id is there already stays as it was first written."""
    db.executemany(
        f"""INSERT INTO log ({", ".join(PLAIN)}, data, after, pair, received)
        VALUES ({"?, " * len(PLAIN)}?, ?, ?, ?) ON CONFLICT (pair, id) DO NOTHING""",
        [
            (
                *(getattr(one, name) for name in PLAIN),
                *(None if value is None else json.dumps(value) for value in (one.data, one.after)),
                pair,
                received,
            )
            for one in entries
        ],
    )


def rows(db: sqlite3.Connection, pair: int, after: int) -> Iterator[tuple[int, dict[str, Any]]]:
    """What came after a number, in the order of the numbers, as it would be read from JSON."""
    names = (*PLAIN, *JSON)
    for number, *values in db.execute(
        f"SELECT number, {', '.join(names)} FROM log WHERE pair = ? AND number > ? ORDER BY number", (pair, after)
    ):
        data = dict(zip(names, values, strict=True))
        for name in JSON:
            with suppress(ValueError, TypeError):  # what is no JSON is told of as it stands
                data[name] = data[name] and json.loads(data[name])
        yield number, data
