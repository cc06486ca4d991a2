"""Folding the logs of pairs that nobody knits at any more.

What pages read of a log (`log_digest.py`), its ends and its newest row stay where they are. The rest is unfolded into
the same rows, with the same numbers, before anything is written to the pair again: so an id that comes once more is
still refused, whenever that is. Nothing is to be folded while a server of a version before still runs beside: it knows
nothing of this.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from ..pair.logbook import read_entry
from . import folded, log, log_digest
from .database import Connections, Database
from .folded import COLUMNS, LogRow
from .rows import Pair, parse_row

LEAST = 20
"""Counts; fewer are not worth it (ours)."""

QUIET = """
    SELECT id, title, unit FROM pairs p WHERE (SELECT max(received) FROM log WHERE pair = p.id) < :before
    AND (SELECT count(*) FROM log WHERE pair = p.id) >= :least ORDER BY id"""


class Folded(NamedTuple):
    """How many counts were packed, and into how many bytes."""

    counts: int
    size: int


class Folding:
    """Folds the logs of pairs."""

    def __init__(self, connections: Connections) -> None:
        self._connections = connections

    def quiet(self, before: str) -> list[Pair]:
        """The pairs in whose logs nothing has arrived since a moment (UTC, ISO 8601), and that may be worth folding."""
        with self._connections.reading() as db:
            rows = db.execute(QUIET, {"before": before, "least": LEAST}).fetchall()
        return [parse_row(Pair, row) for row in rows]

    def fold(self, pair: Pair, before: str, least: int = LEAST) -> Folded:
        """Fold the log of a pair that is still quiet, where it has at least so many counts to fold.

        One whose rows no longer read is left as it is.
        """
        with self._connections.writing() as db:
            db.lock("pairs", [pair.id])
            folded.unfold(db, pair.id)
            rows = _foldable(db, pair.id, before)
            if len(rows) < least or not _sound(rows):
                return Folded(0, 0)
            packed = folded.pack(rows)
            db.executemany("DELETE FROM log WHERE pair = ? AND number = ?", [(pair.id, number) for number, *_ in rows])
            db.execute(
                "INSERT INTO folded (pair, entries, last, counts) VALUES (?, ?, ?, ?)",
                (pair.id, len(rows), rows[-1][0], packed),
            )
        return Folded(len(rows), len(packed))


def _foldable(db: Database, pair: int, before: str) -> list[LogRow]:
    """What no page reads of a log, if nothing has arrived in it since a moment."""
    rows: list[LogRow] = db.execute(
        f"SELECT {', '.join(COLUMNS)} FROM log WHERE pair = ? ORDER BY number", (pair,)
    ).fetchall()
    if not rows or rows[-1][-1] >= before:
        return []
    shown = log_digest.within(db, pair)
    stay = {shown.cursor, *(number for number, _ in (*shown.ends, *shown.entries))}
    return [row for row in rows if row[0] not in stay]


def _sound(rows: Sequence[LogRow]) -> bool:
    """Whether these rows come out again as they are: a damaged SQLite file may hold anything in any column."""
    return (
        all(read_entry(log.as_data(row[1:-1]))[0] for row in rows)
        and all(isinstance(row[-1], str) for row in rows)
        and folded.unpack(folded.pack(rows)) == rows
    )
