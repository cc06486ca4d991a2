"""What was sent for a pair or lies in its rows and cannot be read, kept with the reason."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from typing import NamedTuple

from .rows import sha256

MOST_THINGS = 200
MOST_BYTES = 256 * 1024
"""In quarantine of one pair: more than any fault of a phone has left, and too little to fill a disk with (ours)."""


class Unreadable(NamedTuple):
    """Something that cannot be read: what it is, why, and its text."""

    what: str
    why: str
    raw: str


def insert(db: sqlite3.Connection, pair: int, things: Iterable[Unreadable], received: str) -> None:
    """Keep things, each once, as long as there is room for them beside what is kept already."""
    count, size = db.execute(
        """SELECT count(*), coalesce(sum(length(CAST(why AS BLOB)) + length(CAST(raw AS BLOB))), 0)
        FROM set_aside WHERE pair = ?""",
        (pair,),
    ).fetchone()
    for what, why, raw in things:
        more = len((why + raw).encode("utf-8", "surrogatepass"))
        if count < MOST_THINGS and size + more <= MOST_BYTES:
            kept = db.execute(
                "INSERT OR IGNORE INTO set_aside VALUES (?, ?, ?, ?, ?, ?)",
                (pair, what, why, raw, sha256(raw), received),
            ).rowcount
            count += kept
            size += kept * more
