"""The ends of each pair's log, kept beside it: a page needs them, and not the thousands of moves that led there."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Set
from contextlib import suppress
from typing import NamedTuple

from ..pair.logbook import Move, Sock, ends
from .database import Statements

A_MOVE = "kind IN ('count', 'undo', 'go')"

AN_END = "pair = :pair AND number IN (SELECT number FROM ends WHERE pair = :pair)"
"""The ends of a pair. The log is asked for the pair as well, so that no database ever looks through those of all."""

NOT_BEFORE = "pair = :pair AND sock IN (1, 2) AND clock >= :first AND +number <= :before"
"""The moves that were there, and may go on from new ones by their clocks. The sign has SQLite look by the clock."""


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


def _moves(db: Statements, condition: str, **given: int) -> Iterator[_Moved]:
    """The moves for which a condition holds; without those that no longer read."""
    for *row, after in db.execute(
        f"""SELECT number, id, device, clock, sock, kind, after FROM log
        WHERE {A_MOVE} AND sock IN (1, 2) AND {condition}""",
        given,
    ):
        _, name, device, clock, *_ = row
        if isinstance(name, str) and isinstance(device, str) and isinstance(clock, int):
            with suppress(ValueError, TypeError):
                yield _Moved._make([*row, _gone_on_from(after)])


def _going_on(moves: Iterable[_Moved], ids: Set[str]) -> Iterator[_Moved]:
    """Of moves those that name one of these, and of each sock the last that names none at all."""
    unnamed: dict[Sock, _Moved] = {}
    for move in moves:
        if move.after is None:
            unnamed[move.sock] = max(unnamed.get(move.sock, move), move, key=_Moved.order)
        elif not ids.isdisjoint(move.after):
            yield move
    yield from unnamed.values()


def keep(db: Statements, pair: int, before: int) -> None:
    """Bring the ends of a pair's log up to date with what came after the number `before`.

    What came may lie before moves that were there already and go on from it.
    """
    new = list(_moves(db, "pair = :pair AND number > :before", pair=pair, before=before))
    if not new:
        return
    known = list(_moves(db, AN_END, pair=pair))
    first = min(move.clock for move in new)
    there = _moves(db, NOT_BEFORE, pair=pair, before=before, first=first)
    later = _going_on(there, {move.id for move in new})
    every = {move.number: move for move in (*known, *new, *later)}
    open_ends = {move.number for own in ends(every.values()).values() for move in own}
    gone = [(move.number,) for move in known if move.number not in open_ends]
    db.executemany("DELETE FROM ends WHERE number = ?", gone)
    came = [(move.number, pair) for move in new if move.number in open_ends]
    db.executemany("INSERT INTO ends VALUES (?, ?)", sorted(came))
