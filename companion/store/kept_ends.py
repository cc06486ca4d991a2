"""The ends of each pair's log, kept beside it: a page needs them, and not the thousands of moves that led there."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence, Set
from contextlib import suppress
from typing import NamedTuple

from ..pair.logbook import MOVES, SOCKS, Move, Sock, ends
from .database import Statements

A_MOVE = "kind IN ('count', 'undo', 'go')"

AN_END = "pair = :pair AND number IN (SELECT number FROM ends WHERE pair = :pair)"
"""The ends of a pair. The log is asked for the pair as well, so that no database ever looks through those of all."""

LATER = f"{A_MOVE} AND sock IN (1, 2) AND pair = :pair AND clock >= :first AND +number <= :before"
"""The moves that were there, and may go on from new ones by their clocks. The sign has SQLite look by the clock."""


class Moved(NamedTuple):
    """What tells whether a move is an end, and its number in the log."""

    number: int
    id: str
    device: str
    clock: int
    sock: Sock
    kind: Move
    after: tuple[str, ...] | None

    def order(self) -> tuple[int, str, str]:
        """What sorts moves."""
        return self.clock, self.device, self.id


def _gone_on_from(after: str | None) -> tuple[str, ...] | None:
    """What a move names in `after`. Raises ValueError or TypeError where that no longer reads."""
    if after is None:
        return None
    ids = json.loads(after)
    if not isinstance(ids, list) or not all(isinstance(one, str) for one in ids):
        raise TypeError("no list of names")
    return tuple(ids)


def _found(condition: str, mark: int) -> str:
    """The rows for which a condition holds, with a mark before each."""
    return f"SELECT {mark}, number, id, device, clock, sock, kind, after FROM log WHERE {condition}"


EVERY, KNOWN, OTHERS = _found("pair = :pair", 0), _found(AN_END, 1), _found(LATER, 0)


def _moves(db: Statements, sql: str, **given: int) -> Iterator[tuple[bool, Moved]]:
    """Moves, each with whether it is marked; without those that no longer read."""
    for mark, *row, after in db.execute(sql, given):
        _, name, device, clock, sock, kind = row
        sound = isinstance(name, str) and isinstance(device, str) and isinstance(clock, int)
        if sound and sock in SOCKS and kind in MOVES:
            with suppress(ValueError, TypeError):
                yield bool(mark), Moved._make([*row, _gone_on_from(after)])


def _going_on(moves: Iterable[Moved], ids: Set[str]) -> Iterator[Moved]:
    """Of moves those that name one of these, and of each sock the last that names none at all."""
    unnamed: dict[Sock, Moved] = {}
    for move in moves:
        if move.after is None:
            unnamed[move.sock] = max(unnamed.get(move.sock, move), move, key=Moved.order)
        elif not ids.isdisjoint(move.after):
            yield move
    yield from unnamed.values()


def keep_all(db: Statements, pair: int) -> None:
    """Find the ends of a pair's log that has none kept yet."""
    keep(db, pair, 0, [move for _, move in _moves(db, EVERY, pair=pair)])


def keep(db: Statements, pair: int, before: int, new: Sequence[Moved]) -> None:
    """Bring the ends of a pair's log up to date with `new` moves, which came after the number `before`.

    They may lie before moves that were there already and go on from them.
    """
    if not new:
        return
    first = min(move.clock for move in new)
    there = list(_moves(db, f"{KNOWN} UNION ALL {OTHERS}", pair=pair, before=before, first=first))
    known = [move for is_end, move in there if is_end]
    later = _going_on((move for is_end, move in there if not is_end), {move.id for move in new})
    every = {move.number: move for move in (*known, *new, *later)}
    open_ends = {move.number for own in ends(every.values()).values() for move in own}
    if gone := [(move.number,) for move in known if move.number not in open_ends]:
        db.executemany("DELETE FROM ends WHERE number = ?", gone)
    if came := [(move.number, pair) for move in new if move.number in open_ends]:
        db.executemany("INSERT INTO ends VALUES (?, ?)", came)
