"""Connections to the SQLite file, kept open from one use to the next: opening one costs more than what it is for."""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from .tables import NotAStoreError, StoreUnavailableError, transaction

WAIT_FOR_LOCK = 10.0
"""Seconds to wait for another process that writes."""


def _readable(text: bytes) -> str:
    # A damaged letter must not keep the rest of its row from being read.
    return text.decode("utf-8", "backslashreplace")


class Connections:
    """As many as were ever needed at once. Safe to use from several threads: each use has one to itself."""

    def __init__(self, path: Path) -> None:
        self._path = path
        # Lists append and pop in one step each, whatever the threads do.
        self._idle: list[sqlite3.Connection] = []
        # SQLite lets one write at a time and has the others look again later and later; here each is next in turn.
        self._turn = threading.Lock()

    def _connect(self) -> sqlite3.Connection:
        try:
            db = sqlite3.connect(self._path, timeout=WAIT_FOR_LOCK, isolation_level=None, check_same_thread=False)
            try:
                db.text_factory = _readable
                db.execute("PRAGMA journal_mode = WAL")
                db.execute("PRAGMA synchronous = FULL")
                db.execute("PRAGMA foreign_keys = ON")
                # What somebody takes back leaves nothing in the file.
                db.execute("PRAGMA secure_delete = ON")
            except BaseException:
                db.close()
                raise
        except sqlite3.OperationalError as error:
            raise StoreUnavailableError(
                f"{self._path} cannot be opened ({error}); see that its folder can be written to"
            ) from error
        except sqlite3.DatabaseError as error:
            raise NotAStoreError(f"{self._path} is not a database of Tapeline; move it away") from error
        return db

    @contextmanager
    def reading(self) -> Iterator[sqlite3.Connection]:
        """A connection for as long as the block runs. Raises StoreUnavailableError or NotAStoreError."""
        try:
            db = self._idle.pop()
        except IndexError:
            db = self._connect()
        try:
            yield db
        except sqlite3.Error as error:
            db.close()
            raise StoreUnavailableError(f"{self._path} cannot be used just now ({error})") from error
        except BaseException:
            db.close()
            raise
        self._idle.append(db)

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """The same within one transaction, which leaves all or nothing."""
        with self._turn, self.reading() as db, transaction(db):
            yield db

    def close(self) -> None:
        """Let go of the file."""
        while self._idle:
            self._idle.pop().close()
