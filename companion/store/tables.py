"""The tables of the SQLite file, how an older file is brought up to date, and what can go wrong with it."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path


class StoreError(Exception):
    """Something about the kept data stops the program; the message says what to do."""


class NotAStoreError(StoreError):
    """The file is not a database of this program, or a newer version of it has changed the file."""


class StoreUnavailableError(StoreError):
    """The file cannot be read or written just now."""


class DamagedPairError(StoreError):
    """What is kept of a pair no longer reads. It stays as it is."""


class StaleDesignError(StoreError):
    """The design has been changed since it was looked at."""


class StaleRevisionError(StoreError):
    """The pair's plan has changed since it was looked at."""


def _first_tables(db: sqlite3.Connection) -> None:
    db.execute("CREATE TABLE meta (name TEXT PRIMARY KEY, value TEXT NOT NULL)")
    db.execute(
        """CREATE TABLE pairs (
            id INTEGER PRIMARY KEY, link_hash TEXT NOT NULL UNIQUE, title TEXT NOT NULL,
            unit TEXT NOT NULL CHECK (unit IN ('cm', 'in')), created TEXT NOT NULL)"""
    )
    db.execute(
        """CREATE TABLE revisions (
            pair INTEGER NOT NULL REFERENCES pairs (id), number INTEGER NOT NULL,
            sock INTEGER NOT NULL CHECK (sock IN (1, 2)), done INTEGER NOT NULL, other_done INTEGER NOT NULL,
            gauge_check TEXT, option TEXT, summary TEXT NOT NULL, plan TEXT NOT NULL,
            state TEXT NOT NULL CHECK (state IN ('accepted', 'withdrawn')), created TEXT NOT NULL,
            PRIMARY KEY (pair, number))"""
    )
    db.execute(
        """CREATE TABLE log (
            number INTEGER PRIMARY KEY AUTOINCREMENT, pair INTEGER NOT NULL REFERENCES pairs (id),
            id TEXT NOT NULL, device TEXT NOT NULL, clock INTEGER NOT NULL, at TEXT NOT NULL,
            sock INTEGER NOT NULL, kind TEXT NOT NULL, round INTEGER NOT NULL, received TEXT NOT NULL,
            UNIQUE (pair, id))"""
    )
    db.execute(
        """CREATE TABLE set_aside (
            pair INTEGER NOT NULL REFERENCES pairs (id), what TEXT NOT NULL, why TEXT NOT NULL,
            raw TEXT NOT NULL, raw_hash TEXT NOT NULL, received TEXT NOT NULL,
            UNIQUE (pair, what, raw_hash))"""
    )


def _remarks(db: sqlite3.Connection) -> None:
    db.execute("ALTER TABLE log ADD COLUMN data TEXT")


def _gone_on_from(db: sqlite3.Connection) -> None:
    db.execute("ALTER TABLE log ADD COLUMN after TEXT")


def _designs_and_followers(db: sqlite3.Connection) -> None:
    db.execute(
        """CREATE TABLE designs (
            id INTEGER PRIMARY KEY, leader_hash TEXT NOT NULL UNIQUE, follower_hash TEXT NOT NULL UNIQUE,
            created TEXT NOT NULL)"""
    )
    db.execute(
        """CREATE TABLE design_versions (
            design INTEGER NOT NULL REFERENCES designs (id), number INTEGER NOT NULL, document TEXT NOT NULL,
            created TEXT NOT NULL, PRIMARY KEY (design, number))"""
    )
    db.execute(
        """CREATE TABLE followers (
            pair INTEGER PRIMARY KEY REFERENCES pairs (id), design INTEGER NOT NULL REFERENCES designs (id),
            version INTEGER NOT NULL)"""
    )
    db.execute("CREATE INDEX followers_of_a_design ON followers (design)")
    db.execute(
        """CREATE TABLE shares (
            pair INTEGER PRIMARY KEY REFERENCES followers (pair), first_name TEXT NOT NULL,
            size INTEGER NOT NULL CHECK (size IN (0, 1)))"""
    )


def _places_and_glimpses(db: sqlite3.Connection) -> None:
    db.execute(
        """CREATE TABLE places (
            pair INTEGER NOT NULL REFERENCES pairs (id), sock INTEGER NOT NULL, round INTEGER NOT NULL,
            clock INTEGER NOT NULL, device TEXT NOT NULL, id TEXT NOT NULL,
            PRIMARY KEY (pair, sock)) WITHOUT ROWID"""
    )
    db.execute(
        """INSERT INTO places SELECT pair, sock, round, clock, device, id FROM (
            SELECT *, row_number() OVER (PARTITION BY pair, sock ORDER BY clock DESC, device DESC, id DESC) AS age
            FROM log WHERE kind IN ('count', 'undo', 'go') AND typeof(round) = 'integer') WHERE age = 1"""
    )
    db.execute(
        """CREATE TRIGGER a_move_is_kept AFTER INSERT ON log WHEN new.kind IN ('count', 'undo', 'go') BEGIN
            INSERT INTO places VALUES (new.pair, new.sock, new.round, new.clock, new.device, new.id)
            ON CONFLICT (pair, sock) DO UPDATE
            SET round = new.round, clock = new.clock, device = new.device, id = new.id
            WHERE (new.clock, new.device, new.id) > (clock, device, id);
        END"""
    )
    db.execute(
        """CREATE TABLE glimpses (
            pair INTEGER NOT NULL, number INTEGER NOT NULL, glimpse TEXT NOT NULL,
            PRIMARY KEY (pair, number), FOREIGN KEY (pair, number) REFERENCES revisions (pair, number))"""
    )
    # The state stands behind the long plan in each row; so it is found without reading past that.
    db.execute("CREATE INDEX revisions_by_state ON revisions (pair, state, number)")


def _photos(db: sqlite3.Connection) -> None:
    db.execute(
        """CREATE TABLE photos (
            design INTEGER NOT NULL REFERENCES designs (id), part TEXT NOT NULL, image BLOB NOT NULL,
            PRIMARY KEY (design, part))"""
    )


MIGRATIONS: tuple[Callable[[sqlite3.Connection], None], ...] = (
    _first_tables,
    _remarks,
    _gone_on_from,
    _designs_and_followers,
    _places_and_glimpses,
    _photos,
)
"""Each takes the file from the version that is its index to the next."""


@contextmanager
def transaction(db: sqlite3.Connection) -> Iterator[sqlite3.Connection]:
    """All or nothing. A failure while taking back never hides the failure that led to it."""
    db.execute("BEGIN IMMEDIATE")
    try:
        yield db
        db.execute("COMMIT")
    except BaseException:
        with suppress(sqlite3.Error):
            db.execute("ROLLBACK")
        raise


def bring_up_to_date(db: sqlite3.Connection, path: Path) -> None:
    """Run the migrations the file has not seen, each recorded in the transaction that changes the tables.

    Raises NotAStoreError for a file of a newer version, StoreUnavailableError when it cannot be written.
    """
    try:
        with transaction(db):
            (version,) = db.execute("PRAGMA user_version").fetchone()
            if version > len(MIGRATIONS):
                raise NotAStoreError(f"{path} was written by a newer version of Tapeline; start that version instead")
            for number, migrate in enumerate(MIGRATIONS[version:], start=version + 1):
                migrate(db)
                db.execute(f"PRAGMA user_version = {number}")
    except sqlite3.Error as error:
        raise StoreUnavailableError(f"{path} cannot be brought up to date ({error})") from error
