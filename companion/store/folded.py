"""Counts of a log that rests, packed into one row: columns of differences, which a run of counts repeats, compressed.

A count is an id, a moment and a step from the one before; with a row and its indexes in the log it takes ten times as
much.
"""

from __future__ import annotations

import json
import zlib
from collections.abc import Iterator, Sequence
from itertools import accumulate
from typing import Any, TypeAlias

from .database import Database
from .rows import JSON, PLAIN

LogRow: TypeAlias = tuple[Any, ...]
"""A row of the log: its values in the order of COLUMNS."""

COLUMNS = ("number", *PLAIN, *JSON, "received")
STEPS = ("number", "clock", "round")
"""Columns that are packed as differences."""
ID, SOCK, AFTER = (COLUMNS.index(name) for name in ("id", "sock", "after"))

THE_ONE_BEFORE = 1
"""Stands for what nearly every count goes on from: the one before it of its sock."""

HARDEST = 9
"""How hard zlib tries."""


def pack(rows: Sequence[LogRow]) -> bytes:
    """Rows in the order of their numbers, at least one."""
    columns = {name: list(values) for name, values in zip(COLUMNS, zip(*rows, strict=True), strict=True)}
    for name in STEPS:
        values = columns[name]
        columns[name] = [new - old for new, old in zip(values, [0, *values[:-1]], strict=True)]
    columns["after"] = [
        THE_ONE_BEFORE if after is not None and after == one_before else after
        for after, one_before in zip(columns["after"], _each_before(rows), strict=True)
    ]
    return zlib.compress(json.dumps(columns, separators=(",", ":")).encode(), HARDEST)


def unpack(packed: bytes) -> list[LogRow]:
    """The same rows again."""
    columns = json.loads(zlib.decompress(packed))
    for name in STEPS:
        columns[name] = list(accumulate(columns[name]))
    rows = list(zip(*(columns[name] for name in COLUMNS), strict=True))
    return [
        (*row[:AFTER], one_before if row[AFTER] == THE_ONE_BEFORE else row[AFTER], *row[AFTER + 1 :])
        for row, one_before in zip(rows, _each_before(rows), strict=True)
    ]


def _each_before(rows: Sequence[LogRow]) -> Iterator[str | None]:
    """For each row what the log has of one that goes on from the row before it of its sock, None for the first."""
    last: dict[int, str] = {}
    for row in rows:
        yield last.get(row[SOCK])
        last[row[SOCK]] = json.dumps([row[ID]])


def unfold(db: Database, pair: int) -> None:
    """Have all rows of a pair in the log again, as they were. For use where the pair is locked."""
    for (packed,) in db.execute("DELETE FROM folded WHERE pair = ? RETURNING counts", (pair,)).fetchall():
        db.executemany(
            f"INSERT INTO log (pair, {', '.join(COLUMNS)}) VALUES (?{', ?' * len(COLUMNS)})",
            [(pair, *row) for row in unpack(packed)],
        )
