"""Logbook entries as rows of the log, and back."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Mapping, Sequence
from contextlib import suppress
from operator import attrgetter
from typing import Any, TypeAlias

from ..pair.logbook import MOST_ENTRIES, MOVES, Entry
from . import kept_ends
from .tables import FullPairError

Row: TypeAlias = tuple[int, dict[str, Any]]
"""An entry's number, and what is kept of it."""

PLAIN = ("id", "device", "clock", "at", "sock", "kind", "round")
JSON = ("data", "after")
"""What the log keeps of an entry as it is, and what it keeps as JSON text."""


plain = attrgetter(*PLAIN)
"""The values of an entry in the order of PLAIN."""

EMPTY = """
    UPDATE log SET data = NULL WHERE pair = :pair AND kind <> 'withdrawal' AND data IS NOT NULL AND id IN (
        SELECT CASE WHEN json_valid(data) THEN json_extract(data, '$.entry') END
        FROM log WHERE pair = :pair AND kind = 'withdrawal')
    RETURNING kind"""
"""Takes what withdrawn remarks said out of the log, whichever of remark and withdrawal came first."""


def insert(db: sqlite3.Connection, pair: int, entries: Sequence[Entry], received: str) -> bool:
    """Keep entries; one whose id is there already stays as it was first written.

    What is withdrawn by now loses what it said, and so do the revisions that have a check written beside them.
    Returns whether that erased anything. Raises FullPairError.
    """
    before = newest(db, pair)
    new = db.executemany(
        f"""INSERT INTO log ({", ".join(PLAIN)}, data, after, pair, received)
        VALUES ({"?, " * len(PLAIN)}?, ?, ?, ?) ON CONFLICT (pair, id) DO NOTHING""",
        [(*plain(one), _json(one.data), _json(one.after), pair, received) for one in entries],
    ).rowcount
    if new and db.execute("SELECT count(*) FROM log WHERE pair = ?", (pair,)).fetchone()[0] > MOST_ENTRIES:
        raise FullPairError(
            f"The logbook of this pair is full: {MOST_ENTRIES:,} entries are kept of a pair. "
            "Export the pair, and plan the next one from it."
        )
    kept_ends.keep(db, pair, before)
    if MOVES.issuperset(one.kind for one in entries):
        return False
    erased = {kind for (kind,) in db.execute(EMPTY, {"pair": pair}).fetchall()}
    if "check" in erased:
        db.execute("UPDATE revisions SET gauge_check = NULL WHERE pair = ?", (pair,))
    return bool(erased)


def _json(value: object) -> str | None:
    return None if value is None else json.dumps(value)


def newest(db: sqlite3.Connection, pair: int) -> int:
    """The number of a pair's newest entry, 0 when it has none."""
    row = db.execute("SELECT number FROM log WHERE pair = ? ORDER BY number DESC LIMIT 1", (pair,)).fetchone()
    return int(row[0]) if row else 0


def rows(db: sqlite3.Connection, condition: str, given: Sequence[int] | Mapping[str, int]) -> list[Row]:
    """The rows for which a condition holds, in the order of their numbers, as they would be read from JSON."""
    names = (*PLAIN, *JSON)
    found = []
    for number, *values in db.execute(
        f"SELECT number, {', '.join(names)} FROM log WHERE {condition} ORDER BY number", given
    ):
        data = dict(zip(names, values, strict=True))
        for name in JSON:
            with suppress(ValueError, TypeError):  # what is no JSON is shown as it stands
                data[name] = data[name] and json.loads(data[name])
        found.append((number, data))
    return found


def highest_clock(db: sqlite3.Connection, pair: int) -> int:
    """The highest clock in a pair's log, 0 when it is empty."""
    (found,) = db.execute("SELECT max(clock) FROM log WHERE pair = ? AND typeof(clock) = 'integer'", (pair,)).fetchone()
    return int(found or 0)
