"""The tables of the SQLite file, how an older file is brought up to date, and what can go wrong with it."""

from __future__ import annotations

import hashlib
import json
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from typing import Any

from ..pair.logbook import THIS_SERVER
from . import kept_ends, seats
from .database import Statements

APPLICATION_ID = 0x54617065
"""Tells files of ours from those of other programs (sqlite.org/pragma.html#pragma_application_id): "Tape"."""


class StoreError(Exception):
    """Something about the kept data stops the program; the message says what to do."""


class NotAStoreError(StoreError):
    """The file is not a database of this program, or a newer version of it has changed the file."""


class StoreUnavailableError(StoreError):
    """The file cannot be read or written just now."""


class DamagedStoreError(StoreError):
    """The file is ours and damaged."""


class StoreReplacedError(StoreError):
    """The file was deleted, moved or replaced while it was in use."""


class StoreInUseError(StoreError):
    """Somebody else has the file in use."""


class DamagedPairError(StoreError):
    """What is kept of a pair no longer reads. It stays as it is."""


class FullPairError(StoreError):
    """A pair has as much as is kept of one; the message says how much. Nothing was written."""


class LinkTakenError(StoreError):
    """There is a pair with this link already."""


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
    db.execute(LAST_MOVES)
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


LAST_MOVES = """
    INSERT OR IGNORE INTO places SELECT pair, sock, round, clock, device, id FROM (
    SELECT *, row_number() OVER (PARTITION BY pair, sock ORDER BY clock DESC, device DESC, id DESC) AS age
    FROM log WHERE kind IN ('count', 'undo', 'go') AND typeof(round) = 'integer') WHERE age = 1"""
"""The place of each sock that has none."""


def _photos(db: sqlite3.Connection) -> None:
    db.execute(
        """CREATE TABLE photos (
            design INTEGER NOT NULL REFERENCES designs (id), part TEXT NOT NULL, image BLOB NOT NULL,
            PRIMARY KEY (design, part))"""
    )


def _application_id(db: sqlite3.Connection) -> None:
    db.execute(f"PRAGMA application_id = {APPLICATION_ID}")


def _clocks_that_can_go_on(db: sqlite3.Connection) -> None:
    too_far = db.execute(f"SELECT * FROM log WHERE typeof(clock) = 'integer' AND clock > {2**47}")
    names = [column[0] for column in too_far.description]
    found = [dict(zip(names, row, strict=True)) for row in too_far.fetchall()]
    for row in found:
        raw = json.dumps(row, default=repr)
        what, why = f"entry {row['number']}", f"clock: {row['clock']} given; none could go on from it"
        named = hashlib.sha256(raw.encode()).hexdigest()
        aside = (row["pair"], what, why, raw, named, row["received"])
        db.execute("INSERT OR IGNORE INTO set_aside VALUES (?, ?, ?, ?, ?, ?)", aside)
        db.execute("DELETE FROM log WHERE number = ?", (row["number"],))
        db.execute("DELETE FROM places WHERE pair = ?", (row["pair"],))
    if found:
        db.execute(LAST_MOVES)


def _withdrawn_remarks_are_emptied(db: sqlite3.Connection) -> None:
    db.execute("CREATE INDEX withdrawals ON log (pair) WHERE kind = 'withdrawal'")
    withdrawn = """FROM log l JOIN log w ON w.pair = l.pair AND w.kind = 'withdrawal'
        WHERE l.id = CASE WHEN json_valid(w.data) THEN json_extract(w.data, '$.entry') END
        AND l.data IS NOT NULL AND l.kind <> 'withdrawal'"""
    db.execute(
        f"UPDATE revisions SET gauge_check = NULL WHERE pair IN (SELECT l.pair {withdrawn} AND l.kind = 'check')"
    )
    db.execute(f"UPDATE log SET data = NULL WHERE number IN (SELECT l.number {withdrawn})")


def _ends_and_landmarks(db: sqlite3.Connection) -> None:
    moves = "kind IN ('count', 'undo', 'go')"
    db.execute("CREATE INDEX log_of_a_pair ON log (pair)")
    db.execute(f"CREATE INDEX moves_in_order ON log (pair, sock, clock) WHERE {moves}")
    # All but what a knitter's own counting leaves behind, which is most of a log.
    db.execute(f"CREATE INDEX landmarks ON log (pair) WHERE NOT {moves} OR device = '{THIS_SERVER}'")
    db.execute(
        """CREATE TABLE ends (
            number INTEGER PRIMARY KEY REFERENCES log (number) ON DELETE CASCADE,
            pair INTEGER NOT NULL REFERENCES pairs (id))"""
    )
    db.execute("CREATE INDEX ends_of_a_pair ON ends (pair)")
    for (pair,) in db.execute("SELECT DISTINCT pair FROM places").fetchall():
        kept_ends.keep_all(db, pair)


def _standings(db: sqlite3.Connection) -> None:
    db.execute(
        """CREATE TABLE standings (
            pair INTEGER PRIMARY KEY REFERENCES shares (pair) ON DELETE CASCADE,
            assumed REAL NOT NULL, found REAL)"""
    )
    db.execute(
        """CREATE TABLE parts (
            pair INTEGER NOT NULL REFERENCES standings (pair) ON DELETE CASCADE, sock INTEGER NOT NULL,
            until INTEGER NOT NULL, title TEXT NOT NULL, PRIMARY KEY (pair, sock, until)) WITHOUT ROWID"""
    )
    for name, event in (("accepted", "INSERT"), ("taken_back", "UPDATE OF state")):
        db.execute(
            f"""CREATE TRIGGER a_plan_is_{name} AFTER {event} ON revisions BEGIN
                DELETE FROM standings WHERE pair = new.pair;
            END"""
        )


def _gauges_found(db: sqlite3.Connection) -> None:
    db.execute("DELETE FROM standings")
    db.execute("ALTER TABLE standings ADD COLUMN undecided INTEGER NOT NULL DEFAULT 0 CHECK (undecided IN (0, 1))")
    db.execute(
        """CREATE TRIGGER a_gauge_is_found AFTER INSERT ON log WHEN new.kind IN ('check', 'length', 'withdrawal') BEGIN
            DELETE FROM standings WHERE pair = new.pair;
        END"""
    )


def _versions_left(db: sqlite3.Connection) -> None:
    db.execute("ALTER TABLE followers ADD COLUMN left_version INTEGER NOT NULL DEFAULT 0")


def _announcements(db: sqlite3.Connection) -> None:
    db.execute(
        """CREATE TABLE announcements (
            number INTEGER PRIMARY KEY AUTOINCREMENT, design INTEGER NOT NULL REFERENCES designs (id),
            at TEXT NOT NULL, words TEXT NOT NULL)"""
    )
    db.execute("CREATE INDEX announcements_of_a_design ON announcements (design)")
    db.execute("ALTER TABLE followers ADD COLUMN seen INTEGER NOT NULL DEFAULT 0")


def _leaders_desk(db: sqlite3.Connection) -> None:
    db.execute("DELETE FROM glimpses")
    db.execute("DELETE FROM standings")
    db.execute("ALTER TABLE standings ADD COLUMN construction TEXT NOT NULL DEFAULT ''")
    db.execute("ALTER TABLE standings ADD COLUMN ends TEXT NOT NULL DEFAULT '{}'")
    # Those who shared before do not know that the day of their last round is part of it.
    db.execute("ALTER TABLE shares ADD COLUMN days INTEGER NOT NULL DEFAULT 0 CHECK (days IN (0, 1))")


def _lives_of_designs(db: Statements) -> None:
    db.execute("ALTER TABLE designs ADD COLUMN ended TEXT")
    # The followers' link as it is, which opens nothing that is not in this file; NULL while it is made of the leader's.
    db.execute("ALTER TABLE designs ADD COLUMN handed_out TEXT")
    db.execute(
        """CREATE TABLE further_leaders (
            link_hash TEXT PRIMARY KEY, design INTEGER NOT NULL REFERENCES designs (id),
            name TEXT NOT NULL, created TEXT NOT NULL)"""
    )
    db.execute("CREATE INDEX further_leaders_of_a_design ON further_leaders (design)")


def _waiting_changes(db: Statements) -> None:
    db.execute(
        """CREATE TABLE waiting (
            design INTEGER NOT NULL REFERENCES designs (id), day TEXT NOT NULL, at TEXT NOT NULL,
            document TEXT NOT NULL, PRIMARY KEY (design, day))"""
    )
    db.execute("CREATE INDEX waiting_by_moment ON waiting (at)")


def _seats(db: Statements) -> None:
    db.execute(
        """CREATE TABLE seats (
            pair INTEGER PRIMARY KEY REFERENCES standings (pair) ON DELETE CASCADE,
            design INTEGER NOT NULL REFERENCES designs (id), name TEXT NOT NULL, far DOUBLE PRECISION NOT NULL,
            place TEXT, reached BIGINT NOT NULL, undecided BIGINT NOT NULL, title_1 TEXT, title_2 TEXT, heard TEXT)"""
    )
    db.execute("CREATE INDEX seats_along_the_sock ON seats (design, far, pair)")
    db.execute("CREATE INDEX seats_at_a_place ON seats (design, place, pair)")
    # All that is counted of everybody, so that it is found without the seats themselves.
    db.execute("CREATE INDEX seats_counted ON seats (design, title_1, title_2, reached, undecided, heard)")
    for (pair,) in db.execute("SELECT pair FROM standings").fetchall():
        seats.keep(db, pair)


def _recovery_codes(db: Statements) -> None:
    db.execute("ALTER TABLE designs ADD COLUMN recovery_hash TEXT")
    db.execute("CREATE INDEX designs_by_recovery_code ON designs (recovery_hash)")


def _folded_logs(db: Statements) -> None:
    # SQLite takes bytes in a column of whatever type, and PostgreSQL has no other word for them.
    db.execute(
        """CREATE TABLE folded (
            pair INTEGER PRIMARY KEY REFERENCES pairs (id), entries BIGINT NOT NULL, last BIGINT NOT NULL,
            counts BYTEA NOT NULL)"""
    )


def _gauges_decided(db: Statements) -> None:
    db.execute("ALTER TABLE standings ADD COLUMN decided BIGINT NOT NULL DEFAULT 0")


MIGRATIONS: tuple[Callable[[Any], None], ...] = (
    _first_tables,
    _remarks,
    _gone_on_from,
    _designs_and_followers,
    _places_and_glimpses,
    _photos,
    _application_id,
    _clocks_that_can_go_on,
    _withdrawn_remarks_are_emptied,
    _ends_and_landmarks,
    _standings,
    _gauges_found,
    _versions_left,
    _announcements,
    _leaders_desk,
    _lives_of_designs,
    _waiting_changes,
    _seats,
    _recovery_codes,
    _folded_logs,
    _gauges_decided,
)
"""Each takes the file from the version that is its index to the next.

Those from `postgresql.tables.FIRST_VERSION` on bring a PostgreSQL database up to date as well. They only add, with
defaults: a server's older workers go on beside them until they are started again.
"""


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


def bring_up_to_date(db: sqlite3.Connection) -> None:
    """Run the migrations the file has not seen, each recorded in the transaction that changes the tables."""
    with transaction(db):
        (version,) = db.execute("PRAGMA user_version").fetchone()
        for number, migrate in enumerate(MIGRATIONS[version:], start=version + 1):
            migrate(db)
            db.execute(f"PRAGMA user_version = {number}")
