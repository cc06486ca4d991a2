"""What a leader has told her group, and what of it each follower has seen."""

from __future__ import annotations

from collections.abc import Callable

from pydantic import ConfigDict
from pydantic.dataclasses import dataclass

from ..database import Connections, Database
from ..rows import Pair, parse_row

MOST_KEPT = 50
"""Announcements of one design; older ones make room (ours)."""


@dataclass(frozen=True, config=ConfigDict(strict=True))
class Announcement:
    """Something that a leader said at a moment (`at`, ISO 8601); later ones have higher numbers."""

    number: int
    at: str
    words: str


class Announcements:
    """The announcements in the store's file."""

    def __init__(self, connections: Connections, moment: Callable[[], str]) -> None:
        self._connections = connections
        self._moment = moment

    def add(self, design: int, words: str) -> None:
        """Tell all who follow a design something."""
        with self._connections.writing() as db:
            announce(db, design, words, self._moment())

    def of_design(self, design: int) -> list[Announcement]:
        """Everything that was told to those who follow a design, the newest first."""
        with self._connections.reading() as db:
            rows = db.execute(
                "SELECT number, at, words FROM announcements WHERE design = ? ORDER BY number DESC", (design,)
            ).fetchall()
        return [parse_row(Announcement, row) for row in rows]

    def unseen(self, pair: Pair) -> list[Announcement]:
        """What the knitter of a pair has not put away yet, the oldest first."""
        with self._connections.reading() as db:
            rows = db.execute(
                """SELECT a.number, a.at, a.words FROM followers f JOIN announcements a ON a.design = f.design
                WHERE f.pair = ? AND a.number > f.seen ORDER BY a.number""",
                (pair.id,),
            ).fetchall()
        return [parse_row(Announcement, row) for row in rows]

    def see(self, pair: Pair, number: int) -> None:
        """Put away what a pair was told, up to this number."""
        with self._connections.writing() as db:
            db.execute(
                """UPDATE followers SET seen = (
                SELECT max(number) FROM announcements a WHERE a.design = followers.design AND a.number <= :number)
                WHERE pair = :pair AND seen < (
                SELECT max(number) FROM announcements a WHERE a.design = followers.design AND a.number <= :number)""",
                {"pair": pair.id, "number": number},
            )

    def remove(self, design: int, number: int) -> None:
        """Take an announcement back: it is gone from the file. It may be gone already."""
        with self._connections.writing() as db:
            db.execute("DELETE FROM announcements WHERE design = ? AND number = ?", (design, number))
        self._connections.wipe()


def announce(db: Database, design: int, words: str, at: str) -> None:
    """Keep an announcement; the oldest make room."""
    db.lock("designs", [design])
    db.execute("INSERT INTO announcements (design, at, words) VALUES (?, ?, ?)", (design, at, words))
    db.execute(
        """DELETE FROM announcements WHERE design = :design AND number NOT IN (
        SELECT number FROM announcements WHERE design = :design ORDER BY number DESC LIMIT :most)""",
        {"design": design, "most": MOST_KEPT},
    )
