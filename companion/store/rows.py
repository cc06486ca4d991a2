"""Rows of the SQLite file as what they were written from."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Sequence
from typing import Any, TypeVar

from pydantic import ConfigDict, ValidationError
from pydantic.dataclasses import dataclass

from ..planning.units import Unit
from .database import Database, largest
from .tables import DamagedPairError


@dataclass(frozen=True, config=ConfigDict(strict=True))
class Pair:
    """A pair as it was begun."""

    id: int
    title: str
    unit: Unit


PLAIN = ("id", "device", "clock", "at", "sock", "kind", "round")
JSON = ("data", "after")
"""What the log keeps of an entry as it is, and what it keeps as JSON text."""

_Kept = TypeVar("_Kept")


def parse_row(kind: Callable[..., _Kept], row: Sequence[Any]) -> _Kept:
    """A row as what it was written from. SQLite takes any type in any column, so a damaged one may hold anything."""
    try:
        return kind(*row)
    except ValidationError as error:
        raise DamagedPairError(
            "What is here cannot be read any more. It is kept as it is, and so are the counts."
        ) from error


def sha256(text: str) -> str:
    """What is kept of a link: its SHA-256 in hexadecimal digits."""
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def fresh_number(db: Database, table: str) -> int:
    """A number for a new row of "pairs" or "designs" that none ever had; whoever asks next waits until it is kept.

    Whoever still holds the number of a row that was deleted in the meantime must not find another one.
    """
    (number,) = db.execute(
        f"""INSERT INTO meta SELECT ?, CAST(coalesce(max(id), 0) + 1 AS TEXT) FROM {table} WHERE true
        ON CONFLICT (name) DO UPDATE
        SET value = CAST({largest("CAST(meta.value AS INTEGER)", f"(SELECT max(id) FROM {table})")} + 1 AS TEXT)
        RETURNING value""",
        (_highest(table),),
    ).fetchone()
    return int(number)


def retire_number(db: Database, table: str, number: int) -> None:
    """See to it that the number of a deleted row is given to no other, also where it came from an older version."""
    db.execute(
        """INSERT INTO meta VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET value = excluded.value
        WHERE CAST(meta.value AS INTEGER) < CAST(excluded.value AS INTEGER)""",
        (_highest(table), str(number)),
    )


def _highest(table: str) -> str:
    return f"highest number deleted from {table}"
