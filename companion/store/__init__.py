"""What the server keeps, in one SQLite file or in a PostgreSQL database. No other module knows SQL.

Of a pair's link only its SHA-256 is kept, so that a copy of the file opens no pair. Nothing that a knitter sent is
deleted unless she takes it back: what cannot be read goes into quarantine with the reason.

The SQL is the same for both (`database.py`); `file/` and `postgresql/` have what they do not share.
"""

from __future__ import annotations

import json
import secrets
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import NamedTuple

from ..pair.file import PairFile
from ..pair.logbook import Entry, ends, read_entry
from ..pair.revisions import Revision
from ..planning.units import Unit
from . import log, log_digest, plans, quarantine, sync_state, whole_pairs
from .database import NOT_INSTALLED, Connections, Database
from .deleting import Deleting
from .file.connections import FileConnections
from .folding import Folding
from .group.announcements import Announcements
from .group.design_links import DesignLinks
from .group.designs import Designs, Following
from .group.photos import Photos
from .group.waiting import Waiting
from .group.whole_designs import WholeDesigns
from .log_digest import LogDigest
from .quarantine import Unreadable
from .rows import Pair, fresh_number, parse_row, sha256
from .seats import Seats
from .shares import Shares
from .standings import Standings
from .state import State, state_of
from .sync_state import SyncState
from .tables import (
    DamagedPairError,
    DamagedStoreError,
    FullPairError,
    LinkTakenError,
    NotAStoreError,
    StaleDesignError,
    StaleRevisionError,
    StoreError,
    StoreReplacedError,
    StoreUnavailableError,
)

__all__ = [
    "DamagedPairError",
    "DamagedStoreError",
    "FullPairError",
    "LinkTakenError",
    "LogDigest",
    "News",
    "NotAStoreError",
    "Pair",
    "StaleDesignError",
    "StaleRevisionError",
    "Store",
    "StoreError",
    "StoreReplacedError",
    "StoreUnavailableError",
    "Unreadable",
    "utc_now",
]


def utc_now() -> datetime:
    """This moment."""
    return datetime.now(UTC)


class News(NamedTuple):
    """Entries by the server's numbers. `cursor` is the highest number that was read, rows set aside included.

    Where nothing is new, it is the number that was asked after.
    """

    entries: dict[int, Entry]
    cursor: int

    @property
    def last(self) -> str | None:
        """The id of the entry that the cursor names, if that was read and is sound."""
        return self.entries[self.cursor].id if self.cursor in self.entries else None


def _begin(db: Database, link: str, title: str, unit: Unit, created: str) -> Pair:
    pair = Pair(fresh_number(db, "pairs"), title, unit)
    db.execute(
        "INSERT INTO pairs (id, link_hash, title, unit, created) VALUES (?, ?, ?, ?, ?)",
        (pair.id, sha256(link), title, unit, created),
    )
    return pair


def _connections(place: Path | str) -> Connections:
    if isinstance(place, Path):
        return FileConnections(place)
    try:
        from .postgresql.connections import ServerConnections  # noqa: PLC0415
    except ImportError as error:
        raise StoreUnavailableError(NOT_INSTALLED) from error
    return ServerConnections(place)


class Store:
    """The pairs, their revisions and their logbooks. Safe to use from several threads."""

    def __init__(self, place: Path | str, now: Callable[[], datetime] = utc_now) -> None:
        """Open the file, or the database at an address that begins with postgresql:, brought up to date where needed.

        `now` gives the moments to write down. Raises NotAStoreError, DamagedStoreError, StoreInUseError or
        StoreUnavailableError.
        """
        self._now = now
        self._connections = _connections(place)
        self._reading, self._writing = self._connections.reading, self._connections.writing

    @property
    def designs(self) -> Designs:
        """The designs in the same file, and who follows them."""
        return Designs(self._connections, self.moment)

    @property
    def design_links(self) -> DesignLinks:
        """Who may open a design."""
        return DesignLinks(self._connections, self.moment)

    @property
    def whole_designs(self) -> WholeDesigns:
        """Designs that come from another server."""
        return WholeDesigns(self._connections, self.moment)

    @property
    def waiting(self) -> Waiting:
        """Changes of designs that wait for their day."""
        return Waiting(self._connections, self.moment)

    @property
    def announcements(self) -> Announcements:
        """What leaders have told their groups."""
        return Announcements(self._connections, self.moment)

    @property
    def shares(self) -> Shares:
        """What followers share with their leaders."""
        return Shares(self._connections)

    @property
    def seats(self) -> Seats:
        """How far along those are who share."""
        return Seats(self._connections)

    @property
    def standings(self) -> Standings:
        """Where those stand who share."""
        return Standings(self._connections)

    @property
    def photos(self) -> Photos:
        """The photos beside leaders' notes."""
        return Photos(self._connections)

    @property
    def folding(self) -> Folding:
        """What folds the logs of pairs that rest."""
        return Folding(self._connections)

    @property
    def deleting(self) -> Deleting:
        """What takes pairs and designs out of the file."""
        return Deleting(self._connections)

    def close(self) -> None:
        """Let go of the file. Raises StoreReplacedError when another one has its name by now."""
        self._connections.close()

    def moment(self) -> str:
        """This moment in UTC, to the second, in ISO 8601."""
        return self._now().isoformat(timespec="seconds")

    def secret_key(self) -> str:
        """The key that sessions are signed with: 256 random bits, made once and kept."""
        return self._made_once("secret_key", 32)

    def epoch(self) -> str:
        """128 random bits, the same for as long as the file holds all that it ever took; made once and kept.

        Putting back an earlier copy of the file takes the row away. Phones see by the next epoch that the file may
        lack what the server said it had kept.
        """
        return self._made_once("epoch", 16)

    def _made_once(self, name: str, size: int) -> str:
        find = "SELECT value FROM meta WHERE name = ?"
        with self._reading() as db:
            found = db.execute(find, (name,)).fetchone()
        if found is None:
            with self._writing() as db:
                made = "INSERT INTO meta VALUES (?, ?) ON CONFLICT (name) DO NOTHING"
                db.execute(made, (name, secrets.token_hex(size)))
                found = db.execute(find, (name,)).fetchone()
        return str(found[0])

    def add_pair(self, link: str, title: str, unit: Unit, plan: str, follows: Following | None = None) -> Pair:
        """Begin a pair with its first plan (JSON text), to be found again by its link; it may follow a design."""
        moment = self.moment()
        with self._writing() as db:
            pair = _begin(db, link, title, unit, moment)
            plans.begin(db, pair.id, plan, moment)
            if follows:
                db.execute(
                    """INSERT INTO followers (pair, design, version, seen)
                    SELECT :pair, :design, :version, coalesce(max(number), 0) FROM announcements
                    WHERE design = :design""",
                    {"pair": pair.id, "design": follows.design, "version": follows.version},
                )
        return pair

    def add_whole_pair(self, link: str, whole: PairFile) -> Pair:
        """Begin a pair with everything that another one had, to be found by this link.

        Raises LinkTakenError when there is a pair with it.
        """
        moment = self.moment()
        with self._writing() as db:
            if db.execute("SELECT 1 FROM pairs WHERE link_hash = ?", (sha256(link),)).fetchone():
                raise LinkTakenError("This pair is here already.")
            pair = _begin(db, link, whole.title, whole.unit, moment)
            whole_pairs.insert(db, pair.id, whole, moment)
        return pair

    def whole_pair(self, pair: Pair) -> PairFile:
        """Everything that is kept of a pair but its link. Raises DamagedPairError when it no longer reads."""
        entries = list(self.entries(pair).values())
        with self._reading() as db:
            return whole_pairs.read(db, pair, entries)

    def find_pair(self, link: str) -> Pair | None:
        """The pair with this link, if there is one. Raises DamagedPairError when it no longer reads."""
        with self._reading() as db:
            row = db.execute("SELECT id, title, unit FROM pairs WHERE link_hash = ?", (sha256(link),)).fetchone()
        return parse_row(Pair, row) if row else None

    def rename(self, pair: Pair, title: str) -> None:
        """Give a pair another title."""
        with self._writing() as db:
            db.execute("UPDATE pairs SET title = ? WHERE id = ?", (title, pair.id))

    def state(self, pair: Pair) -> State:
        """Another one whenever anything about a pair has changed."""
        return state_of(self._connections, pair)

    def revisions(self, pair: Pair) -> list[Revision]:
        """The accepted revisions in the order of their numbers; never empty.

        Raises DamagedPairError when one of them no longer reads.
        """
        with self._reading() as db:
            return plans.accepted(db, pair.id)

    def ever_accepted(self, pair: Pair, after: int) -> list[Revision]:
        """The revisions with numbers above `after`, those included that were taken back again."""
        with self._reading() as db:
            return plans.after(db, pair.id, after)

    def changes(self, pair: Pair) -> list[tuple[str, str]]:
        """When each accepted change was made (ISO 8601), and what it was, in a line.

        Raises DamagedPairError when one of them no longer reads.
        """
        with self._reading() as db:
            rows = db.execute(
                """SELECT created, summary FROM revisions
                WHERE pair = ? AND state = 'accepted' AND summary <> '' ORDER BY number""",
                (pair.id,),
            ).fetchall()
        try:
            return [
                (datetime.fromisoformat(created).isoformat(), summary.partition("\n")[0]) for created, summary in rows
            ]
        except (ValueError, TypeError, AttributeError) as error:
            raise DamagedPairError("This pair cannot be read any more. It is kept as it is.") from error

    def add_revision(
        self, pair: Pair, change: Revision, gauge_check: str, option: str, entries: Sequence[Entry] = ()
    ) -> int:
        """Keep an accepted change and the logbook entries that go with it, and return its number.

        `change.number` is the newest revision it was calculated from: raises StaleRevisionError when there
        is a newer one by now, and FullPairError when there are as many as a pair may have.
        """
        moment = self.moment()
        with self._writing() as db:
            number = plans.add(db, pair.id, replace(change, option=option), gauge_check, moment)
            erased = log.insert(db, pair.id, entries, moment)
        if erased:
            self._connections.wipe()
        return number

    def withdraw(self, pair: Pair, *numbers: int, entries: Iterable[Entry] = ()) -> None:
        """Take accepted changes back, the newest first, and keep what goes into the logbook with that.

        Raises StaleRevisionError when they are not the newest, or one is the first.
        """
        with self._writing() as db:
            for number in numbers:
                plans.withdraw(db, pair.id, number)
            log.insert(db, pair.id, list(entries), self.moment())

    def add_entries(self, pair: Pair, entries: Iterable[Entry]) -> None:
        """Keep logbook entries; one whose id is there already stays as it was first written.

        What a withdrawal among them takes back is gone from the file. Raises FullPairError.
        """
        with self._writing() as db:
            erased = log.insert(db, pair.id, list(entries), self.moment())
        if erased:
            self._connections.wipe()

    def entries(self, pair: Pair) -> dict[int, Entry]:
        """The whole logbook of a pair by the server's number of each entry, in the order they arrived.

        A row that no longer reads is set aside and left out.
        """
        return self.news(pair, 0).entries

    def news(self, pair: Pair, after: int) -> News:
        """The part of the logbook that came `after` a number.

        All of it is of one moment: whoever asks after its cursor next time misses nothing.
        """
        with self._reading() as db:
            rows = log.since(db, pair.id, after)
        return News(self._read(pair, rows), max((number for number, _ in rows), default=after))

    def newest_entries(self, pair: Pair, most: int) -> list[Entry]:
        """The entries that arrived last, in that order, at most so many."""
        with self._reading() as db, db.snapshot():
            rows = log.newest_rows(db, pair.id, most)
        return list(self._read(pair, rows).values())

    def log_digest(self, pair: Pair) -> LogDigest:
        """What nearly every page needs of a logbook, without reading it whole."""
        with self._reading() as db:
            rows = log_digest.rows(db, pair.id)
        found = self._read(pair, rows.ends)
        whole = found if len(found) == len(rows.ends) else self.entries(pair)  # an end that no longer reads is left out
        return LogDigest(rows.cursor, ends(whole.values()), list(self._read(pair, rows.entries).values()))

    def _read(self, pair: Pair, rows: Iterable[log.Row]) -> dict[int, Entry]:
        """Rows of the log as entries; one that no longer reads is set aside."""
        found: dict[int, Entry] = {}
        unreadable = []
        for number, data in rows:
            entry, faults = read_entry(data)
            if entry:
                found[number] = entry
            else:
                raw = json.dumps(data, default=repr)
                unreadable.append(Unreadable(f"entry {number}", "; ".join(map(str, faults)), raw))
        if unreadable:
            self.quarantine(pair, unreadable)
        return found

    def met_before(self, pair: Pair, epoch: str | None, number: int, name: str | None) -> bool:
        """Whether this is the store that a phone has met before: it has this epoch, and the entry of this number has
        this id. What the phone does not know is None."""
        with self._reading() as db:
            return sync_state.met_before(db, pair.id, epoch, number, name)

    def sync_state(self, pair: Pair) -> SyncState:
        """What a phone hears of a pair at each sync. Raises DamagedPairError when no plan is left."""
        with self._reading() as db:
            found = sync_state.sync_state(db, pair.id)
        return found if found.epoch else found._replace(epoch=self.epoch())

    def highest_clock(self, pair: Pair) -> int:
        """The highest clock in a pair's logbook, 0 when it is empty."""
        with self._reading() as db:
            return log.highest_clock(db, pair.id)

    def quarantine(self, pair: Pair, things: Iterable[Unreadable]) -> None:
        """Keep what cannot be read, each thing once, as much as there is room for; all of it or nothing."""
        with self._writing() as db:
            quarantine.insert(db, pair.id, things, self.moment())
