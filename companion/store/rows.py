"""Rows of the SQLite file as what they were written from."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Sequence
from typing import Any, TypeVar

from pydantic import ConfigDict, ValidationError
from pydantic.dataclasses import dataclass

from ..planning.units import Unit
from .tables import DamagedPairError


@dataclass(frozen=True, config=ConfigDict(strict=True))
class Pair:
    """A pair as it was begun."""

    id: int
    title: str
    unit: Unit


_Kept = TypeVar("_Kept")


def sound(kind: Callable[..., _Kept], row: Sequence[Any]) -> _Kept:
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
