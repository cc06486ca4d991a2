"""Changes of designs that wait for their day. No other part of the store reads them, so nothing shows them earlier."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeAlias

from pydantic import ConfigDict
from pydantic.dataclasses import dataclass

from ..database import Connections, Database
from ..rows import parse_row
from .announcements import announce

MOST_WAITING = 8
"""Changes of one design that wait (ours): as many as it may have stages."""


Waits: TypeAlias = tuple[str, str, str]
"""A change that waits for its design: the day, the moment in UTC at which that begins, and the document."""


@dataclass(frozen=True, config=ConfigDict(strict=True))
class WaitingChange:
    """What a design is to be from a `day` on (ISO 8601, in its time zone), as JSON text; `at` is the moment in UTC."""

    design: int
    day: str
    at: str
    document: str


class Waiting:
    """The waiting changes in what is kept."""

    def __init__(self, connections: Connections, moment: Callable[[], str]) -> None:
        self._reading, self._writing = connections.reading, connections.writing
        self._wipe = connections.wipe
        self._moment = moment

    def of_design(self, design: int) -> list[WaitingChange]:
        """Those of a design in the order of their days."""
        return self._found("design = ?", design)

    def due(self) -> list[WaitingChange]:
        """Those whose moment has come, the oldest first; a group that has ended waits on."""
        ended = "EXISTS (SELECT 1 FROM designs WHERE id = waiting.design AND ended IS NOT NULL)"
        return self._found(f"at <= ? AND NOT {ended}", self._moment())

    def _found(self, condition: str, value: int | str) -> list[WaitingChange]:
        with self._reading() as db:
            rows = db.execute(
                f"SELECT design, day, at, document FROM waiting WHERE {condition} ORDER BY at, day", (value,)
            ).fetchall()
        return [parse_row(WaitingChange, row) for row in rows]

    def keep(self, change: WaitingChange, instead_of: str = "") -> bool:
        """Let a change wait, in the place of the one of the same day or of another. False where too many wait."""
        with self._writing() as db:
            db.lock("designs", [change.design])
            db.execute(
                "DELETE FROM waiting WHERE design = ? AND day IN (?, ?)", (change.design, change.day, instead_of)
            )
            (there,) = db.execute("SELECT count(*) FROM waiting WHERE design = ?", (change.design,)).fetchone()
            if there >= MOST_WAITING:
                return False
            let_wait(db, change.design, [(change.day, change.at, change.document)])
        return True

    def remove(self, design: int, day: str) -> None:
        """Take a change back: it is gone from the file. It may be gone already."""
        with self._writing() as db:
            db.execute("DELETE FROM waiting WHERE design = ? AND day = ?", (design, day))
        self._wipe()

    def reveal(self, change: WaitingChange, news: str) -> None:
        """Make a change the newest version of its design, and tell its followers; once, whoever comes first."""
        with self._writing() as db:
            db.lock("designs", [change.design])
            gone = db.execute(
                "DELETE FROM waiting WHERE design = ? AND day = ? AND document = ?",
                (change.design, change.day, change.document),
            ).rowcount
            if not gone:
                return
            db.execute(
                """INSERT INTO design_versions (design, number, document, created)
                SELECT ?, max(number) + 1, ?, ? FROM design_versions WHERE design = ?""",
                (change.design, change.document, self._moment(), change.design),
            )
            announce(db, change.design, news, self._moment())


def let_wait(db: Database, design: int, changes: Sequence[Waits]) -> None:
    """Keep changes of a design for their days, on which nothing of it waits yet."""
    db.executemany(
        "INSERT INTO waiting (design, day, at, document) VALUES (?, ?, ?, ?)", [(design, *one) for one in changes]
    )
