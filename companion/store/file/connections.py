"""Connections to the SQLite file, kept open from one use to the next: opening one costs more than what it is for."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import ExitStack, closing, contextmanager
from pathlib import Path

from ..tables import bring_up_to_date, transaction
from .in_use import in_use
from .opening import FileDatabase, cannot_open, failure, opened, recognise
from .privacy import make_private
from .watch import Watch
from .write_lock import WriteLock


def _set_up(db: sqlite3.Connection) -> None:
    db.execute("PRAGMA journal_mode = WAL")
    db.execute("PRAGMA synchronous = FULL")
    db.execute("PRAGMA foreign_keys = ON")
    # What somebody takes back leaves nothing in the file.
    db.execute("PRAGMA secure_delete = ON")


class FileConnections:
    """As many as were ever needed at once. Safe to use from several threads: each use has one to itself."""

    def __init__(self, path: Path) -> None:
        """Open the file, made and brought up to date where needed.

        Raises NotAStoreError, DamagedStoreError, StoreInUseError or StoreUnavailableError.
        """
        # Lists append and pop in one step each, whatever the threads do.
        self._idle: list[FileDatabase] = []
        with ExitStack() as held:
            try:
                self._path = path.resolve()
                make_private(self._path)
                held.enter_context(in_use(self._path))
                self._write_lock = held.enter_context(closing(WriteLock(self._path)))
                file = held.enter_context(self._path.open("rb", buffering=0))
            except OSError as error:
                raise cannot_open(path, error) from error
            db = held.enter_context(closing(opened(self._path)))
            try:
                recognise(db, self._path)
                _set_up(db)
                bring_up_to_date(db)
                self._watch = Watch(self._path, file, db)
            except sqlite3.Error as error:
                raise failure(self._path, error) from error
            held.callback(self._watch.look)
            self._held = held.pop_all()

    def _connect(self) -> FileDatabase:
        db = opened(self._path)
        try:
            _set_up(db)
        except sqlite3.Error as error:
            db.close()
            raise failure(self._path, error) from error
        return db

    @contextmanager
    def reading(self) -> Iterator[FileDatabase]:
        """A connection for as long as the block runs.

        Raises StoreUnavailableError, DamagedStoreError or StoreReplacedError.
        """
        self._watch.look()
        try:
            db = self._idle.pop()
        except IndexError:
            db = self._connect()
        try:
            yield db
        except sqlite3.Error as error:
            db.close()
            raise failure(self._path, error) from error
        except BaseException:
            db.close()
            raise
        self._idle.append(db)

    @contextmanager
    def writing(self) -> Iterator[FileDatabase]:
        """The same within one transaction, which leaves all or nothing."""
        with self._write_lock.taken(), self.reading() as db:
            with transaction(db):
                yield db
            # Nobody must hear that something is kept when it went into a file without a name.
            self._watch.look()

    def wipe(self) -> None:
        """Take what was deleted out of the write-ahead log too, where it stays until that is overwritten."""
        with self.reading() as db:
            db.execute("PRAGMA wal_checkpoint(TRUNCATE)")

    def close(self) -> None:
        """Let go of the file. Raises StoreReplacedError when another one has its name by now."""
        while self._idle:
            self._idle.pop().close()
        self._held.close()
