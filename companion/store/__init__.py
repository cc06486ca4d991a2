"""What the server keeps, in one SQLite file. No other module knows SQL.

Of a pair's link only its SHA-256 is kept, so that a copy of the file opens no pair. Nothing a knitter sent is
deleted: what cannot be read is set aside with the reason.
"""

from __future__ import annotations

import json
import secrets
import sqlite3
from collections.abc import Callable, Iterable, Sequence
from datetime import UTC, datetime
from pathlib import Path

from ..logbook import SOCKS, Entry, Sock, read_entry
from ..pair import Revision
from ..pair_file import VERSION, PairFile
from ..planning.units import Unit
from . import log
from .connections import Connections
from .designs import Designs, Following
from .photos import Photos
from .rows import Pair, sha256, sound
from .shares import Shares
from .tables import (
    DamagedPairError,
    NotAStoreError,
    StaleDesignError,
    StaleRevisionError,
    StoreError,
    StoreUnavailableError,
    bring_up_to_date,
)

__all__ = [
    "DamagedPairError",
    "NotAStoreError",
    "Pair",
    "StaleDesignError",
    "StaleRevisionError",
    "Store",
    "StoreError",
    "StoreUnavailableError",
    "utc_now",
]

REVISION_COLUMNS = ("number", "sock", "done", "other_done", "gauge_check", "option", "summary", "state", "created")
"""What is kept of a revision beside its plan."""


def utc_now() -> datetime:
    """This moment."""
    return datetime.now(UTC)


def _begin(db: sqlite3.Connection, link: str, title: str, unit: Unit, created: str) -> Pair:
    number = db.execute(
        "INSERT INTO pairs (link_hash, title, unit, created) VALUES (?, ?, ?, ?)", (sha256(link), title, unit, created)
    ).lastrowid
    assert number is not None
    return Pair(number, title, unit)


class Store:
    """The pairs, their revisions and their logbooks. Safe to use from several threads."""

    def __init__(self, path: Path, now: Callable[[], datetime] = utc_now) -> None:
        """Open the file, made and brought up to date where needed. `now` gives the moments to write down.

        Raises NotAStoreError or StoreUnavailableError.
        """
        self._now = now
        self._connections = Connections(path)
        self._reading, self._writing = self._connections.reading, self._connections.writing
        try:
            with self._reading() as db:
                bring_up_to_date(db, path)
        except BaseException:
            self.close()
            raise

    @property
    def designs(self) -> Designs:
        """The designs in the same file, and who follows them."""
        return Designs(self._connections, self.moment)

    @property
    def shares(self) -> Shares:
        """What followers share with their leaders."""
        return Shares(self._connections)

    @property
    def photos(self) -> Photos:
        """The photos beside leaders' notes."""
        return Photos(self._connections)

    def close(self) -> None:
        """Let go of the file."""
        self._connections.close()

    def moment(self) -> str:
        """This moment in UTC, to the second, in ISO 8601."""
        return self._now().isoformat(timespec="seconds")

    def secret_key(self) -> str:
        """The key that sessions are signed with: 256 random bits, made once and kept."""
        with self._writing() as db:
            db.execute("INSERT OR IGNORE INTO meta VALUES ('secret_key', ?)", (secrets.token_hex(32),))
            (key,) = db.execute("SELECT value FROM meta WHERE name = 'secret_key'").fetchone()
        return str(key)

    def add_pair(self, link: str, title: str, unit: Unit, plan: str, follows: Following | None = None) -> Pair:
        """Begin a pair with its first plan (JSON text), to be found again by its link; it may follow a design."""
        moment = self.moment()
        with self._writing() as db:
            pair = _begin(db, link, title, unit, moment)
            db.execute(
                """INSERT INTO revisions (pair, number, sock, done, other_done, summary, plan, state, created)
                VALUES (?, 1, 1, 0, 0, '', ?, 'accepted', ?)""",
                (pair.id, plan, moment),
            )
            if follows:
                db.execute("INSERT INTO followers VALUES (?, ?, ?)", (pair.id, follows.design, follows.version))
        return pair

    def add_whole_pair(self, link: str, whole: PairFile) -> Pair:
        """Begin a pair with everything that another one had, to be found by this link."""
        moment = self.moment()
        with self._writing() as db:
            pair = _begin(db, link, whole.title, whole.unit, moment)
            db.executemany(
                f"""INSERT INTO revisions ({", ".join(REVISION_COLUMNS)}, plan, pair)
                VALUES ({"?, " * len(REVISION_COLUMNS)}?, ?)""",
                [
                    (*(getattr(one, name) for name in REVISION_COLUMNS), json.dumps(one.plan), pair.id)
                    for one in whole.revisions
                ],
            )
            log.insert(db, pair.id, whole.log, moment)
        return pair

    def whole_pair(self, pair: Pair) -> PairFile:
        """Everything that is kept of a pair but its link. Raises DamagedPairError when it no longer reads."""
        with self._reading() as db:
            rows = db.execute(
                f"SELECT {', '.join(REVISION_COLUMNS)}, plan FROM revisions WHERE pair = ? ORDER BY number", (pair.id,)
            ).fetchall()
        try:
            revisions = [
                {**dict(zip(REVISION_COLUMNS, values, strict=True)), "plan": json.loads(plan)} for *values, plan in rows
            ]
            return PairFile.model_validate(
                {
                    "format": "tapeline pair", "version": VERSION, "title": pair.title, "unit": pair.unit,
                    "revisions": revisions, "log": list(self.entries(pair).values()),
                }
            )  # fmt: skip
        except (ValueError, TypeError) as error:
            raise DamagedPairError("This pair cannot be read any more. It is kept as it is.") from error

    def find_pair(self, link: str) -> Pair | None:
        """The pair with this link, if there is one. Raises DamagedPairError when it no longer reads."""
        with self._reading() as db:
            row = db.execute("SELECT id, title, unit FROM pairs WHERE link_hash = ?", (sha256(link),)).fetchone()
        return sound(Pair, row) if row else None

    def revisions(self, pair: Pair) -> list[Revision]:
        """The accepted revisions in the order of their numbers; never empty.

        Raises DamagedPairError when one of them no longer reads.
        """
        with self._reading() as db:
            rows = db.execute(
                """SELECT number, sock, done, other_done, summary, plan FROM revisions
                WHERE pair = ? AND state = 'accepted' ORDER BY number""",
                (pair.id,),
            ).fetchall()
        if not rows:
            raise DamagedPairError("This pair has lost its plan. The counts are kept.")
        return [sound(Revision, row) for row in rows]

    def newest_revision(self, pair: Pair) -> int:
        """The number of the newest accepted revision. Raises DamagedPairError when there is none left."""
        with self._reading() as db:
            return self._newest(db, pair)

    @staticmethod
    def _newest(db: sqlite3.Connection, pair: Pair) -> int:
        row = db.execute(
            "SELECT max(number) FROM revisions WHERE pair = ? AND state = 'accepted'", (pair.id,)
        ).fetchone()
        if row[0] is None:
            raise DamagedPairError("This pair has lost its plan. The counts are kept.")
        return int(row[0])

    def add_revision(
        self, pair: Pair, change: Revision, gauge_check: str, option: str, entries: Sequence[Entry] = ()
    ) -> int:
        """Keep an accepted change and the logbook entries that go with it, and return its number.

        `change.number` is the newest revision it was worked out from: raises StaleRevisionError when there
        is a newer one by now.
        """
        moment = self.moment()
        with self._writing() as db:
            if self._newest(db, pair) != change.number:
                raise StaleRevisionError("The plan was changed from elsewhere in the meantime.")
            row = db.execute(
                """INSERT INTO revisions
                (pair, number, sock, done, other_done, gauge_check, option, summary, plan, state, created)
                SELECT ?, max(number) + 1, ?, ?, ?, ?, ?, ?, ?, 'accepted', ? FROM revisions WHERE pair = ?
                RETURNING number""",
                (
                    pair.id, change.sock, change.done, change.other_done, gauge_check, option, change.summary,
                    change.plan, moment, pair.id,
                ),
            ).fetchone()  # fmt: skip
            log.insert(db, pair.id, entries, moment)
        return int(row[0])

    def withdraw(self, pair: Pair, number: int) -> None:
        """Take an accepted change back.

        Raises StaleRevisionError when it is not the newest, or is the first.
        """
        with self._writing() as db:
            if number == 1 or self._newest(db, pair) != number:
                raise StaleRevisionError("The plan was changed from elsewhere in the meantime.")
            db.execute("UPDATE revisions SET state = 'withdrawn' WHERE pair = ? AND number = ?", (pair.id, number))

    def add_entries(self, pair: Pair, entries: Iterable[Entry]) -> None:
        """Keep logbook entries; one whose id is there already stays as it was first written."""
        with self._writing() as db:
            log.insert(db, pair.id, entries, self.moment())

    def entries(self, pair: Pair, after: int = 0) -> dict[int, Entry]:
        """The logbook of a pair by the server's number of each entry, in the order they arrived.

        It is whole, or what came `after` a number. A row that no longer reads is set aside and left out.
        """
        found: dict[int, Entry] = {}
        with self._reading() as db:
            rows = list(log.rows(db, pair.id, after))
        for number, data in rows:
            entry, faults = read_entry(data)
            if entry:
                found[number] = entry
            else:
                self.set_aside(pair, f"entry {number}", "; ".join(map(str, faults)), json.dumps(data, default=repr))
        return found

    def cursor(self, pair: Pair) -> int:
        """The number of the newest entry of a pair, 0 when it has none."""
        with self._reading() as db:
            (number,) = db.execute("SELECT max(number) FROM log WHERE pair = ?", (pair.id,)).fetchone()
        return int(number or 0)

    def places(self, pair: Pair) -> dict[Sock, int]:
        """The place of each sock, as `logbook.places` finds it in the whole logbook."""
        with self._reading() as db:
            found = dict(db.execute("SELECT sock, round FROM places WHERE pair = ?", (pair.id,)).fetchall())
        return {sock: found.get(sock, 0) for sock in SOCKS}

    def set_aside(self, pair: Pair, what: str, why: str, raw: str) -> None:
        """Keep something that cannot be read, once, with the reason."""
        with self._writing() as db:
            db.execute(
                "INSERT OR IGNORE INTO set_aside VALUES (?, ?, ?, ?, ?, ?)",
                (pair.id, what, why, raw, sha256(raw), self.moment()),
            )

    def things_set_aside(self, pair: Pair) -> list[tuple[str, str, str]]:
        """What was set aside: what it is, why, and its text."""
        with self._reading() as db:
            return db.execute(
                "SELECT what, why, raw FROM set_aside WHERE pair = ? ORDER BY rowid", (pair.id,)
            ).fetchall()
