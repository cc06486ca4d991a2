"""Whether the SQLite file is still the one that was opened, and what it had saved where it is not."""

from __future__ import annotations

import os
import sqlite3
import threading
from pathlib import Path
from typing import BinaryIO

from ..tables import StoreReplacedError
from .copying import copy_whole, renamed, unfinished, unused_name
from .opening import cannot_open
from .privacy import beside


def _identity(path: Path) -> tuple[int, int] | None:
    """What tells a file from every other, whatever its name; None where there is none of this name."""
    try:
        found = os.stat(path)
    except (FileNotFoundError, NotADirectoryError):
        return None
    except OSError as error:
        raise cannot_open(path, error) from error
    return found.st_dev, found.st_ino


class Watch:
    """Notices when the file, or the WAL beside it, is deleted, moved, replaced or overwritten.

    Whoever has a file open goes on writing to it when its name is gone, and all of that is lost when he ends.
    """

    def __init__(self, path: Path, file: BinaryIO, db: sqlite3.Connection) -> None:
        """Watch a file through a connection to it, which is used for nothing else and keeps the WAL in its place.

        `file` is the file itself, open for reading. It must stay open for as long as any connection is: closing it
        lets go of every lock that this process has (sqlite.org/howtocorrupt.html, 2.2).
        """
        self._path, self._file, self._db = path, file, db
        self._wal = beside(path, "-wal")
        self._turn = threading.Lock()
        self._rescued: Path | None = None
        # The WAL is made with the first reading.
        db.execute("SELECT count(*) FROM sqlite_master").fetchone()
        self._opened = self._now()
        self._mode = self._mode_written()

    def _now(self) -> tuple[tuple[int, int] | None, tuple[int, int] | None]:
        return _identity(self._path), _identity(self._wal)

    def _mode_written(self) -> bytes:
        """How the file says that it is written to (sqlite.org/fileformat2.html, 1.3.3), fixed while it is open.

        A backup that is copied over the file says something else, for it has no WAL.
        """
        return os.pread(self._file.fileno(), 2, 18) if hasattr(os, "pread") else b""

    def look(self) -> None:
        """Raise StoreReplacedError when the file is another one by now, once what was in it is saved."""
        if self._now() != self._opened:
            raise StoreReplacedError(
                f"{self._path} was deleted, moved or replaced while the server ran, and nothing is written any more. "
                f"{self._rescue()}"
            )
        if self._mode_written() != self._mode:
            raise StoreReplacedError(
                f"{self._path} was overwritten while the server ran, and nothing is written any more. Stop the server, "
                "bring back what is to be there with `companion restore FILE`, and start again"
            )

    def _rescue(self) -> str:
        """Write what the connection still has into a new file beside; returns what to do now."""
        try:
            with self._turn:
                if self._rescued is None:
                    target = unused_name(self._path, "rescued")
                    with unfinished(target) as part:
                        copy_whole(self._db, part)
                        renamed(part, target)
                    self._rescued = target
        except (OSError, sqlite3.Error) as error:
            # The name of the file that was tried is another one each time, and nothing to anybody.
            reason = error.strerror if isinstance(error, OSError) else error
            return (
                f"What it had cannot be saved ({reason}) and is lost when the server stops: "
                f"see that {self._path.parent} can be written to, then open any page"
            )
        return (
            f"What it had is saved in {self._rescued}. Stop the server; to go on with that, "
            f"`companion restore {self._rescued}`; then start again"
        )
