"""Who has the SQLite file in use: any number of servers, or one restore and nobody else."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from ..tables import StoreInUseError
from .opening import WAIT_FOR_LOCK, cannot_open
from .privacy import beside, make_private

LOCK = ".lock"


@contextmanager
def in_use(path: Path, alone: bool = False) -> Iterator[None]:
    """Have the file in use while the block runs, `alone` or beside others.

    Raises StoreInUseError where others are in the way, StoreUnavailableError where that cannot be found out.
    """
    with closing(_locked(path, alone)):
        yield


def _locked(path: Path, alone: bool) -> sqlite3.Connection:
    """SQLite's own lock, held on an empty file beside.

    The system lets go of it when a process ends, in whatever way, and whatever has become of the file itself.
    """
    lock = beside(path, LOCK)
    try:
        make_private(lock)
        wait = 0 if alone else WAIT_FOR_LOCK
        db = sqlite3.connect(lock, timeout=wait, isolation_level=None, check_same_thread=False)
        try:
            db.execute("BEGIN EXCLUSIVE" if alone else "BEGIN")
            # A shared lock comes with the first reading and lasts as long as the transaction.
            db.execute("SELECT count(*) FROM sqlite_master").fetchone()
        except BaseException:
            db.close()
            raise
    except (OSError, sqlite3.Error) as error:
        if getattr(error, "sqlite_errorcode", 0) == sqlite3.SQLITE_BUSY:
            by = "a server; stop that first" if alone else "a restore; start again when that is done"
            raise StoreInUseError(f"{path} is in use by {by}") from error
        raise cannot_open(path, error) from error
    return db


def is_in_use(path: Path) -> bool:
    """Whether somebody has the file in use just now. Raises StoreUnavailableError."""
    if not beside(path, LOCK).exists():
        return False
    try:
        with in_use(path, alone=True):
            return False
    except StoreInUseError:
        return True
