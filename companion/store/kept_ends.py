"""The ends of each pair's log, kept beside it: a page needs them, and not the thousands of moves that led there."""

from __future__ import annotations

import json
import sqlite3
from contextlib import suppress
from typing import NamedTuple

from ..pair.logbook import Move, Sock, ends

A_MOVE = "kind IN ('count', 'undo', 'go')"

GOING_ON = f"""pair = :pair AND sock IN (1, 2) AND clock >= :first AND +number <= :before AND (
    number IN (
        SELECT (
            SELECT number FROM log INDEXED BY moves_in_order
            WHERE pair = :pair AND sock = socks.sock AND {A_MOVE} AND clock >= :first AND after IS NULL
            ORDER BY clock DESC, device DESC, id DESC LIMIT 1)
        FROM (SELECT 1 AS sock UNION ALL SELECT 2) socks)
    OR EXISTS (
        SELECT 1 FROM json_each(CASE WHEN json_valid(after) THEN after ELSE '[]' END)
        WHERE value IN (SELECT value FROM json_each(:ids))))"""
"""The moves that were there and may go on from new ones: those that name one, and the last that names none at all."""


class _Moved(NamedTuple):
    """What tells whether a move is an end, and its number in the log."""

    number: int
    id: str
    device: str
    clock: int
    sock: Sock
    kind: Move
    after: tuple[str, ...] | None

    def order(self) -> tuple[int, str, str]:
        return self.clock, self.device, self.id


def _gone_on_from(after: str | None) -> tuple[str, ...] | None:
    """What a move names in `after`. Raises ValueError or TypeError where that no longer reads."""
    if after is None:
        return None
    ids = json.loads(after)
    if not isinstance(ids, list) or not all(isinstance(one, str) for one in ids):
        raise TypeError("no list of names")
    return tuple(ids)


def _moves(db: sqlite3.Connection, condition: str, **given: object) -> dict[int, _Moved]:
    """The moves for which a condition holds, by their numbers; without those that no longer read."""
    found = {}
    for *row, after in db.execute(
        f"""SELECT number, id, device, clock, sock, kind, after FROM log WHERE {A_MOVE} AND {condition}
        AND typeof(id) = 'text' AND typeof(device) = 'text' AND typeof(clock) = 'integer' AND sock IN (1, 2)""",
        given,
    ):
        with suppress(ValueError, TypeError):
            found[row[0]] = _Moved._make([*row, _gone_on_from(after)])
    return found


def keep(db: sqlite3.Connection, pair: int, before: int) -> None:
    """Bring the ends of a pair's log up to date with what came after the number `before`.

    What came may lie before moves that were there already and go on from it.
    """
    new = _moves(db, "pair = :pair AND number > :before", pair=pair, before=before)
    if not new:
        return
    known = _moves(db, "number IN (SELECT number FROM ends WHERE pair = :pair)", pair=pair)
    first, ids = min(move.clock for move in new.values()), json.dumps([move.id for move in new.values()])
    later = _moves(db, GOING_ON, pair=pair, before=before, first=first, ids=ids)
    open_ends = {move.number for own in ends((known | new | later).values()).values() for move in own}
    db.executemany("DELETE FROM ends WHERE number = ?", [(number,) for number in known.keys() - open_ends])
    db.executemany("INSERT INTO ends VALUES (?, ?)", [(number, pair) for number in sorted(new.keys() & open_ends)])
