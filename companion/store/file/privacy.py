"""Files and folders that nobody else on this computer may read."""

from __future__ import annotations

import os
import stat
from contextlib import suppress
from pathlib import Path

PRIVATE_FILE, PRIVATE_FOLDER = 0o600, 0o700

BESIDE = ("-wal", "-shm", "-journal")
"""How the names of the files end that SQLite keeps beside its own (sqlite.org/tempfiles.html)."""


def beside(path: Path, ending: str) -> Path:
    """The file with this ending beside an SQLite file."""
    return path.with_name(path.name + ending)


def make_private(path: Path) -> None:
    """Close an SQLite file and those beside it to others; make an empty one where there is none.

    SQLite gives the files beside it the mode of the file itself. Raises OSError where the file cannot be made.
    """
    try:
        # Never opened where it is there: closing it would let go of every lock that this process has on it.
        os.close(os.open(path, os.O_RDWR | os.O_CREAT | os.O_EXCL, PRIVATE_FILE))
        hand_over(path)
    except FileExistsError:
        for one in (path, *(beside(path, ending) for ending in BESIDE)):
            # One that belongs to somebody else stays as it is.
            with suppress(OSError):
                one.chmod(PRIVATE_FILE)


def hand_over(path: Path) -> None:
    """Give a file that root has made to the owner of its folder, such as the user that a server runs as."""
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        folder = path.parent.stat()
        os.chown(path, folder.st_uid, folder.st_gid)


def is_shared(folder: Path) -> bool:
    """Whether a folder is there for more than our files: somebody else's, one for all like /tmp, or with folders in it.

    Raises OSError where it cannot be looked at.
    """
    found = folder.stat()
    return (
        (hasattr(os, "geteuid") and found.st_uid != os.geteuid())
        or bool(found.st_mode & stat.S_ISVTX)
        or any(one.is_dir() for one in folder.iterdir())
    )


def make_private_folder(folder: Path) -> None:
    """Make a folder that is closed to others, or close one that was there before, unless others need it.

    Raises OSError where it cannot be made.
    """
    folder.mkdir(mode=PRIVATE_FOLDER, parents=True, exist_ok=True)
    with suppress(OSError):
        if not is_shared(folder):
            folder.chmod(PRIVATE_FOLDER)


def open_to_others(path: Path) -> bool:
    """Whether anybody but its owner can read a file or a folder. Windows has no such modes; there it is never said."""
    return os.name == "posix" and bool(path.stat().st_mode & (stat.S_IRWXG | stat.S_IRWXO))
