"""A store's file, looked at and damaged past the program."""

from __future__ import annotations

import sqlite3
from pathlib import Path

from companion.store import Pair, Store

LINK = "a-link-nobody-guesses1"


def add_pair(store: Store) -> Pair:
    """A pair with a plan of its own, under the link."""
    return store.add_pair(LINK, "Thursday socks", "cm", '{"first": true}')


def rows(path: Path, sql: str) -> list[tuple[object, ...]]:
    """What the file answers."""
    db = sqlite3.connect(path)
    found = db.execute(sql).fetchall()
    db.close()
    return found


def damaged(path: Path, sql: str, *values: object) -> None:
    """Change the file; `values` stand for the question marks."""
    db = sqlite3.connect(path)
    db.execute(sql, values)
    db.commit()
    db.close()
