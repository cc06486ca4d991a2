"""Moving all that is in an SQLite file into an empty PostgreSQL database, for good and without a difference."""

from __future__ import annotations

import hashlib
import sqlite3
from collections.abc import Iterable
from contextlib import closing
from pathlib import Path
from typing import NamedTuple

import psycopg

from ..file.in_use import in_use
from ..file.opening import failure, opened, recognise
from ..tables import DamagedStoreError, StoreUnavailableError, bring_up_to_date
from . import tables
from .connections import Connection, ServerDatabase, connected

MOVED = {"meta": "WHERE name NOT IN ('newest_backup', 'version', 'home')"}
"""Which rows of a table are moved, where not all are: some of these are about the place alone."""

AT_ONCE = 2_000
"""Rows that are fetched at once."""


class Sum(NamedTuple):
    """Rows counted, and their hashes added up, which comes to the same in whatever order they are read."""

    rows: int
    hashes: int


def _sum(rows: Iterable[tuple[object, ...]]) -> Sum:
    count = hashes = 0
    for row in rows:
        count += 1
        hashes += int.from_bytes(hashlib.sha256(repr(tuple(row)).encode("utf-8", "surrogatepass")).digest())
    return Sum(count, hashes % 2**256)


def move(path: Path, url: str) -> None:
    """Copy everything, the epoch included, and compare each row.

    It is there whole or not at all, and the file stays as it is. Raises StoreInUseError while a server has the file,
    NotAStoreError, DamagedStoreError where a row no longer reads, StoreUnavailableError.
    """
    if not path.is_file():
        raise StoreUnavailableError(f"{path} is not there; name the folder that the server used with --data")
    with in_use(path, alone=True), closing(opened(path)) as file, connected(url) as server:
        try:
            if not recognise(file, path):
                raise StoreUnavailableError(f"{path} is empty: there is nothing to move")
            bring_up_to_date(file)
            tables.bring_up_to_date(ServerDatabase(server))
            _move(path, file, server)
        except sqlite3.Error as error:
            raise failure(path, error) from error


def _move(path: Path, file: sqlite3.Connection, server: Connection) -> None:
    # In the order in which they were made, so that what others lean on comes first.
    made = file.execute("SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY rowid")
    names = [str(name) for (name,) in made if not name.startswith("sqlite_")]
    for name in names:
        if server.execute(f"SELECT 1 FROM {name} {MOVED.get(name, '')} LIMIT 1").fetchone():
            raise StoreUnavailableError("The database is in use already; make an empty one to move to (createdb)")
    for name in names:
        try:
            _copy(file, server, name)
        except (psycopg.DataError, psycopg.IntegrityError) as error:
            raise DamagedStoreError(
                f"{path} has a row of {name} that no longer reads, so nothing was moved; `companion doctor` tells more"
            ) from error
    for name, number in file.execute("SELECT name, seq FROM sqlite_sequence WHERE seq > 0"):
        server.execute("SELECT setval(pg_get_serial_sequence(%s, 'number'), %s)", (name, number))
    server.execute("ANALYZE")  # or the first plans would be made for empty tables


def _copy(file: sqlite3.Connection, server: Connection, table: str) -> None:
    """Copy a table and compare it. Raises psycopg.Error, StoreUnavailableError."""
    columns = ", ".join(str(column) for _, column, *_ in file.execute(f"PRAGMA table_info({table})"))
    select = f"SELECT {columns} FROM {table} {MOVED.get(table, '')}"
    # What triggers would write beside the rows is moved as well.
    server.execute(f"ALTER TABLE {table} DISABLE TRIGGER USER")
    with server.cursor() as cursor, cursor.copy(f"COPY {table} ({columns}) FROM STDIN") as copy:
        for row in file.execute(select):
            copy.write_row(row)
    server.execute(f"ALTER TABLE {table} ENABLE TRIGGER USER")
    with server.cursor(name="moved") as rows:
        rows.itersize = AT_ONCE
        there = _sum(rows.execute(select))
    if there != _sum(file.execute(select)):
        raise StoreUnavailableError(f"{table} is not the same in the database as in the file, so nothing was moved")
