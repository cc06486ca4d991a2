"""What is in the SQLite file, and whether it is whole."""

from __future__ import annotations

import sqlite3
from collections import Counter
from collections.abc import Container
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from ..database import Statements
from ..tables import StoreUnavailableError
from .opening import failure, opened, recognise

MOST_FAULTS = 10
"""Faults of a damaged file: thousands more would say nothing new."""

NEWEST_BACKUP = "newest_backup"
"""The name in `meta` of the moment of the newest backup, in ISO 8601."""


@dataclass(frozen=True)
class Contents:
    """How much is kept, in numbers and bytes."""

    pairs: int
    designs: int
    entries: int
    photos: int
    photo_bytes: int


@dataclass(frozen=True)
class Quarantined:
    """Something that could not be read: its pair, what it is, why, the beginning of its text, and when."""

    pair: int
    what: str
    why: str
    raw: str
    received: str


@dataclass(frozen=True)
class Examination:
    """What was found: the version of the tables, what is wrong with them, and what is in them.

    `newest_backup` is the moment of the newest backup that was made of this file, None before the first.
    """

    version: int
    faults: list[str]
    contents: Contents
    newest_backup: str | None
    quarantined: list[Quarantined]


def faults_in(db: sqlite3.Connection) -> list[str]:
    """What SQLite finds wrong with the file, and rows that belong to nothing; empty for one that is whole."""
    try:
        lines = [str(line) for (line,) in db.execute(f"PRAGMA integrity_check({MOST_FAULTS})")]
        orphans = Counter(str(table) for table, *_ in db.execute("PRAGMA foreign_key_check"))
    except sqlite3.Error as error:
        return [str(error)]
    found = [] if lines == ["ok"] else [" ".join(line.split()) for line in lines]
    return found + [f"rows of {table} that belong to nothing: {number}" for table, number in orphans.items()]


def contents_of_file(db: sqlite3.Connection) -> Contents:
    """How much is kept in a file of any version. Raises sqlite3.Error."""
    names = db.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
    return contents(db, {str(name) for (name,) in names})


def contents(db: Statements, tables: Container[str]) -> Contents:
    """How much is kept in these tables."""

    def sum_of(what: str, table: str) -> int:
        return int(db.execute(f"SELECT {what} FROM {table}").fetchone()[0] or 0) if table in tables else 0

    return Contents(
        pairs=sum_of("count(*)", "pairs"),
        designs=sum_of("count(*)", "designs"),
        entries=sum_of("count(*)", "log") + sum_of("sum(entries)", "folded"),
        photos=sum_of("count(*)", "photos"),
        photo_bytes=sum_of("sum(length(image))", "photos"),
    )


def note_backup(db: sqlite3.Connection, moment: str) -> None:
    """Keep the moment of a backup. Raises sqlite3.Error."""
    db.execute("INSERT OR REPLACE INTO meta VALUES (?, ?)", (NEWEST_BACKUP, moment))


def examine(path: Path, letters: int) -> Examination:
    """Look through a file, which may be in use; of each text that was set aside, take so many letters.

    Raises NotAStoreError, DamagedStoreError where it cannot be looked through, StoreUnavailableError.
    """
    with closing(opened(path)) as db:
        version = recognise(db, path)
        if not version:
            raise StoreUnavailableError(f"{path} is empty: no server has kept anything in it yet")
        try:
            backup = db.execute("SELECT value FROM meta WHERE name = ?", (NEWEST_BACKUP,)).fetchone()
            aside = db.execute(
                "SELECT pair, what, why, substr(raw, 1, ?), received FROM set_aside ORDER BY pair, rowid", (letters,)
            )
            return Examination(
                version=version,
                faults=faults_in(db),
                contents=contents_of_file(db),
                newest_backup=str(backup[0]) if backup else None,
                quarantined=[Quarantined(int(pair), *map(str, words)) for pair, *words in aside],
            )
        except sqlite3.Error as error:
            raise failure(path, error) from error
