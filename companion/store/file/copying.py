"""Whole copies of an SQLite file, made while others write to it."""

from __future__ import annotations

import os
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from itertools import count
from pathlib import Path

from .opening import opened
from .privacy import BESIDE, beside, hand_over


def unused_name(path: Path, words: str) -> Path:
    """A name beside a file that says more by some words, and that no file has yet."""
    for number in count(1):
        name = path.with_name(f"{path.stem}-{words}{'' if number == 1 else f'-{number}'}{path.suffix}")
        if not os.path.lexists(name):
            return name
    raise AssertionError("numbers do not end")


@contextmanager
def unfinished(target: Path) -> Iterator[Path]:
    """An empty file that only its owner can read, beside the target, which it is to be renamed to once it is whole.

    It is gone when the block ends without that. Raises OSError where it cannot be made.
    """
    handle, name = tempfile.mkstemp(prefix=".tapeline-", suffix=".part", dir=target.parent)
    os.close(handle)
    part = Path(name)
    try:
        hand_over(part)
        yield part
    finally:
        for one in (part, *(beside(part, ending) for ending in BESIDE)):
            one.unlink(missing_ok=True)


def copy_whole(source: sqlite3.Connection, target: Path) -> None:
    """Fill an empty file with what the source has at one moment, which nobody who writes has to wait for.

    Raises sqlite3.Error.
    """
    with closing(opened(target)) as db:
        source.backup(db)
    with closing(opened(target)) as db:
        # The copy is of a file with a WAL beside it; it is to be whole by itself.
        db.execute("PRAGMA journal_mode = DELETE")


def renamed(part: Path, target: Path) -> None:
    """Put a finished file in its place, at once and for good.

    Raises OSError.
    """
    part.replace(target)
    if os.name == "posix":
        # The name is on the disk when the folder is.
        folder = os.open(target.parent, os.O_RDONLY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)
