"""Backups of the SQLite file, made while it is in use, and brought back."""

from __future__ import annotations

import os
import shutil
import sqlite3
from contextlib import closing, suppress
from datetime import datetime
from pathlib import Path

from ..tables import (
    DamagedStoreError,
    NotAStoreError,
    StoreError,
    StoreInUseError,
    StoreUnavailableError,
    bring_up_to_date,
)
from .copying import copy_whole, renamed, unfinished, unused_name
from .examination import Contents, contents_of_file, faults_in, note_backup
from .in_use import in_use
from .opening import BRING_BACK, damaged, failure, opened, recognise
from .privacy import beside

TRY_AN_OLDER_ONE = "Nothing was changed; try an older backup"


def back_up(path: Path, target: Path, now: datetime) -> Contents:
    """Write all that is kept at this moment into a new file of its own, and see that it is whole.

    Raises StoreUnavailableError, NotAStoreError, DamagedStoreError.
    """
    if os.path.lexists(target):
        raise StoreUnavailableError(f"{target} is there already; name another file")
    with closing(_opened(path)) as db:
        recognise(db, path)
        try:
            with unfinished(target) as part:
                copy_whole(db, part)
                found = _finished_backup(part, path, now)
                renamed(part, target)
            note_backup(db, now.isoformat(timespec="seconds"))
        except OSError as error:
            raise StoreUnavailableError(f"{target} cannot be written ({error.strerror})") from error
        except sqlite3.Error as error:
            raise _failed_copy(path, error) from error
    return found


def _failed_copy(path: Path, error: sqlite3.Error, advice: str = BRING_BACK) -> StoreError:
    # What is not damage has more to do with where the copy was to lie, such as a full disk.
    found = failure(path, error, advice)
    return (
        found if isinstance(found, DamagedStoreError) else StoreUnavailableError(f"{path} cannot be copied ({error})")
    )


def _opened(path: Path) -> sqlite3.Connection:
    if not path.is_file():
        raise StoreUnavailableError(f"{path} is not there; name the folder that the server uses with --data")
    return opened(path)


def _finished_backup(part: Path, path: Path, now: datetime) -> Contents:
    with closing(opened(part)) as copy:
        if faults := faults_in(copy):
            raise damaged(path, faults[0])
        note_backup(copy, now.isoformat(timespec="seconds"))
        _forget_epoch(copy)
        return contents_of_file(copy)


def _forget_epoch(db: sqlite3.Connection) -> None:
    """Have the server make another epoch: it shows phones that the server may lack what it once had.

    Even a backup that is put into place by hand is distinguished from what was there before.
    """
    db.execute("DELETE FROM meta WHERE name = 'epoch'")


def restore(path: Path, backup: Path, now: datetime) -> tuple[Contents, Path | None]:
    """Put a backup into the place of the file; returns what is in it, and where the file before is kept.

    The file before stays in its place until the backup has been copied, checked and brought up to date.
    Raises StoreInUseError, StoreUnavailableError, NotAStoreError, DamagedStoreError.
    """
    path = path.resolve()
    with in_use(path, alone=True):
        try:
            with unfinished(path) as part:
                found = _checked_copy(backup, part)
                kept = _kept_apart(path, now)
                renamed(part, path)
        except OSError as error:
            raise StoreUnavailableError(f"{path} cannot be written ({error.strerror})") from error
    return found, kept


def _checked_copy(backup: Path, part: Path) -> Contents:
    if not backup.is_file():
        raise StoreUnavailableError(f"{backup} is not there; name the file that `companion backup` made")
    try:
        with closing(opened(backup)) as db:
            if not recognise(db, backup, TRY_AN_OLDER_ONE):
                raise NotAStoreError(f"{backup} is empty. {TRY_AN_OLDER_ONE}")
            copy_whole(db, part)
        with closing(opened(part)) as copy:
            if faults := faults_in(copy):
                raise damaged(backup, faults[0], TRY_AN_OLDER_ONE)
            copy.execute("PRAGMA foreign_keys = ON")
            copy.execute("PRAGMA secure_delete = ON")
            bring_up_to_date(copy)
            _forget_epoch(copy)
            return contents_of_file(copy)
    except sqlite3.Error as error:
        raise _failed_copy(backup, error, TRY_AN_OLDER_ONE) from error


def _kept_apart(path: Path, now: datetime) -> Path | None:
    """Give the file that is there a second name, with what SQLite has beside it, which must not meet another file."""
    kept = unused_name(path, f"until-{now:%Y-%m-%dT%H%M%SZ}")
    if path.exists():
        _check_in(path)
        try:
            kept.hardlink_to(path)
        except OSError:  # some file systems have no second names
            shutil.copy2(path, kept)
    for ending in ("-wal", "-journal"):
        with suppress(FileNotFoundError):
            beside(path, ending).rename(beside(kept, ending))
    beside(path, "-shm").unlink(missing_ok=True)
    return kept if kept.exists() else None


def _check_in(path: Path) -> None:
    """Bring what is in the WAL into the file, which works for whoever has it alone; a damaged file stays as it is."""
    try:
        with closing(opened(path)) as db:
            db.execute("PRAGMA busy_timeout = 0")
            db.execute("PRAGMA journal_mode = DELETE")
    except (sqlite3.Error, StoreUnavailableError) as error:
        if getattr(error, "sqlite_errorcode", 0) == sqlite3.SQLITE_BUSY:
            raise StoreInUseError(f"{path} is open in another program; end that first") from error
