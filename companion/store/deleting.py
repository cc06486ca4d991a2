"""Deleting pairs and designs for good: nothing of them stays in the file."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from .database import Connections, Database, largest
from .rows import Pair, retire_number

OF_A_PAIR = (
    "seats",
    "parts",
    "standings",
    "shares",
    "glimpses",
    "followers",
    "places",
    "set_aside",
    "ends",
    "folded",
    "log",
    "revisions",
)
"""The tables that have rows of a pair, those first that lean on others."""

TOUCHED = {
    "pairs": largest(
        "pairs.created",
        "(SELECT max(created) FROM revisions WHERE pair = pairs.id)",
        "(SELECT max(received) FROM log WHERE pair = pairs.id)",
    ),
    "designs": "(SELECT max(created) FROM design_versions WHERE design = designs.id)",
}
"""When something was last written into a pair, or a design was last changed."""

UNTOUCHED = {
    "pairs": f"SELECT * FROM (SELECT id, {TOUCHED['pairs']} AS touched FROM pairs) AS pairs WHERE touched < :before",
    "designs": f"""SELECT * FROM (SELECT id, {TOUCHED["designs"]} AS touched FROM designs) AS designs
        WHERE touched < :before AND NOT EXISTS (
        SELECT 1 FROM followers f JOIN pairs ON pairs.id = f.pair
        WHERE f.design = designs.id AND {TOUCHED["pairs"]} >= :before)""",
}
"""Those that nobody has touched since a moment. A design is in use as long as one of the pairs that follow it is."""


@dataclass(frozen=True)
class Untouched:
    """Rows of a table, "pairs" or "designs", by their numbers, each with the moment when it was last touched."""

    table: str
    since: dict[int, str]


class Deleting:
    """Takes pairs and designs out of the store's file."""

    def __init__(self, connections: Connections) -> None:
        self._connections = connections

    def pair(self, pair: Pair) -> None:
        """Delete a pair with its plans, its logbook and all else that is kept of it. It may be gone already."""
        with self._connections.writing() as db:
            _delete_pair(db, pair.id)
        self._connections.wipe()

    def design(self, design: int) -> None:
        """Delete a design with its versions and photos. The pairs that follow it stay, as pairs of their own."""
        with self._connections.writing() as db:
            _delete_design(db, design)
        self._connections.wipe()

    def untouched(self, before: str) -> tuple[Untouched, Untouched]:
        """The pairs and the designs that nobody has touched since a moment, those untouched the longest first."""
        with self._connections.reading() as db:
            pairs, designs = (
                Untouched(table, dict(db.execute(f"{sql} ORDER BY touched", {"before": before}).fetchall()))
                for table, sql in UNTOUCHED.items()
            )
        return pairs, designs

    def purge(self, untouched: Untouched, before: str, most: int) -> Iterator[int]:
        """Delete those that are still untouched, at most so many in one transaction; yields how many after each.

        Between two transactions others have their turn. What was deleted is out of the file when all is done.
        """
        numbers = list(untouched.since)
        delete = {"pairs": _delete_pair, "designs": _delete_design}[untouched.table]
        for start in range(0, len(numbers), most):
            batch = numbers[start : start + most]
            with self._connections.writing() as db:
                still = set(_still(db, untouched.table, batch, before))
                for number in still:
                    delete(db, number)
            yield len(still)
        if numbers:
            self._connections.wipe()


def _still(db: Database, table: str, numbers: Iterable[int], before: str) -> Iterator[int]:
    """Those of some rows that nobody has touched by now."""
    for number in numbers:
        if db.execute(f"{UNTOUCHED[table]} AND id = :id", {"before": before, "id": number}).fetchone():
            yield number


def _delete_pair(db: Database, pair: int) -> None:
    db.lock("pairs", [pair])
    for table in OF_A_PAIR:
        db.execute(f"DELETE FROM {table} WHERE pair = ?", (pair,))
    db.execute("DELETE FROM pairs WHERE id = ?", (pair,))
    retire_number(db, "pairs", pair)


def _delete_design(db: Database, design: int) -> None:
    db.lock("designs", [design])
    for table in ("shares", "glimpses"):
        db.execute(f"DELETE FROM {table} WHERE pair IN (SELECT pair FROM followers WHERE design = ?)", (design,))
    for table in ("followers", "further_leaders", "waiting", "announcements", "photos", "design_versions"):
        db.execute(f"DELETE FROM {table} WHERE design = ?", (design,))
    db.execute("DELETE FROM designs WHERE id = ?", (design,))
    retire_number(db, "designs", design)
