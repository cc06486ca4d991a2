"""Opening the SQLite file, and telling what it is where it is not ours or not whole."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import closing, contextmanager
from functools import cache
from pathlib import Path

from .. import tables
from ..tables import APPLICATION_ID, DamagedStoreError, NotAStoreError, StoreError, StoreUnavailableError

WAIT_FOR_LOCK = 10.0
"""Seconds to wait for another process that writes."""

BRING_BACK = (
    "Stop the server, bring your newest backup back with `companion restore FILE`, which keeps this file beside it, "
    "and start again"
)
"""What helps where the file that the server keeps is damaged."""


def _readable(text: bytes) -> str:
    # A damaged letter must not keep the rest of its row from being read.
    return text.decode("utf-8", "backslashreplace")


class FileDatabase(sqlite3.Connection):
    """A connection to the SQLite file, where whoever writes is alone and nothing need be locked for it."""

    def lock(self, _table: str, _numbers: Iterable[int]) -> None:
        """Nothing."""

    @contextmanager
    def snapshot(self) -> Iterator[None]:
        """All that is read while the block runs is of one moment. After a failure the connection is closed."""
        self.execute("BEGIN")
        yield
        self.execute("COMMIT")


def opened(path: Path) -> FileDatabase:
    """A connection to a file that is there, outside of any transaction, for use by one thread at a time.

    Raises StoreUnavailableError.
    """
    try:
        db = sqlite3.connect(
            f"{path.resolve().as_uri()}?mode=rw",
            timeout=WAIT_FOR_LOCK,
            isolation_level=None,
            check_same_thread=False,
            uri=True,
            factory=FileDatabase,
        )
    except sqlite3.Error as error:
        raise cannot_open(path, error) from error
    db.text_factory = _readable
    return db


def cannot_open(path: Path, error: Exception) -> StoreUnavailableError:
    """That a file cannot be opened, or made, with what to do."""
    reason = error.strerror if isinstance(error, OSError) else error
    return StoreUnavailableError(f"{path} cannot be opened ({reason}); see that its folder can be written to")


def _kind(error: sqlite3.Error) -> int:
    """The primary result code (sqlite.org/rescode.html); 0 for what Python itself complains of."""
    return getattr(error, "sqlite_errorcode", 0) & 0xFF


def damaged(path: Path, how: object, advice: str = BRING_BACK) -> DamagedStoreError:
    """That a file is damaged, and how, with what to do."""
    return DamagedStoreError(f"{path} is damaged ({how}). {advice}")


def failure(path: Path, error: sqlite3.Error, advice: str = BRING_BACK) -> StoreError:
    """What a failure in the middle of work on a file of ours means."""
    if _kind(error) in {sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB}:
        return damaged(path, error, advice)
    return StoreUnavailableError(f"{path} cannot be used just now ({error})")


def recognise(db: sqlite3.Connection, path: Path, advice: str = BRING_BACK) -> int:
    """See that the file is ours, or still empty, and has all its tables; returns its version, 0 for an empty one.

    `advice` is what to do where it is damaged. Raises NotAStoreError, DamagedStoreError or StoreUnavailableError.
    """
    try:
        (version,) = db.execute("PRAGMA user_version").fetchone()
        (application,) = db.execute("PRAGMA application_id").fetchone()
        names = {str(name) for (name,) in db.execute("SELECT name FROM sqlite_master")}
    except sqlite3.Error as error:
        if _kind(error) == sqlite3.SQLITE_NOTADB:
            raise NotAStoreError(
                f"{path} is not an SQLite file. If it was never Tapeline's, name another one, or another folder with "
                f"--data. If pairs were kept in it, it is damaged. {advice}"
            ) from error
        raise failure(path, error, advice) from error
    if not (names or version or application):
        return 0
    # Files from before there was an application id are known by their first tables.
    if application != APPLICATION_ID and not {"meta", "pairs", "set_aside"} <= names:
        raise NotAStoreError(
            f"{path} is an SQLite database of another program and stays as it is; name another one, or another folder "
            "with --data"
        )
    if version > len(tables.MIGRATIONS):
        raise NotAStoreError(f"{path} was written by a newer version of Tapeline; start that version instead")
    if missing := _names(max(version, 1)) - names:
        raise damaged(path, f"without {', '.join(sorted(missing))}", advice)
    if version < 1:
        raise damaged(path, "without its version", advice)
    return int(version)


@cache
def _names(version: int) -> frozenset[str]:
    """The tables, triggers and indexes that a file of this version has."""
    with closing(sqlite3.connect(":memory:")) as db:
        for migrate in tables.MIGRATIONS[:version]:
            migrate(db)
        return frozenset(str(name) for (name,) in db.execute("SELECT name FROM sqlite_master"))
