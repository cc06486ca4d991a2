"""The quarantine: what was sent for a pair or is in its rows and cannot be read, kept with the reason."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from .database import Database
from .rows import sha256

MOST_THINGS = 200
MOST_BYTES = 256 * 1024
"""In quarantine of one pair: more than any fault of a phone has left, and too little to fill a disk with (ours)."""


class Unreadable(NamedTuple):
    """Something that cannot be read: what it is, why, and its text."""

    what: str
    why: str
    raw: str


def insert(db: Database, pair: int, things: Iterable[Unreadable], received: str) -> None:
    """Keep things, each once, as long as there is room for them beside what is kept already."""
    db.lock("pairs", [pair])
    kept_already = db.execute("SELECT why, raw FROM set_aside WHERE pair = ?", (pair,)).fetchall()
    count, size = len(kept_already), sum(_bytes(f"{why}{raw}") for why, raw in kept_already)
    for thing in things:
        # PostgreSQL has no text with a NUL in it, and what cannot be read must not keep the rest from being kept.
        what, why, raw = (text.replace("\0", "\\x00") for text in thing)
        more = _bytes(why + raw)
        if count < MOST_THINGS and size + more <= MOST_BYTES:
            kept = db.execute(
                "INSERT INTO set_aside VALUES (?, ?, ?, ?, ?, ?) ON CONFLICT (pair, what, raw_hash) DO NOTHING",
                (pair, what, why, raw, sha256(raw), received),
            ).rowcount
            count += kept
            size += kept * more


def _bytes(text: str) -> int:
    return len(text.encode("utf-8", "surrogatepass"))
