"""What the store's SQL runs on. One text of SQL serves SQLite and PostgreSQL; what they cannot share is named here.

SQLite takes any type in any column; a row that may be damaged is looked at in Python.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import AbstractContextManager
from typing import Any, Protocol, TypeAlias

Given: TypeAlias = Sequence[Any] | Mapping[str, Any]
"""What stands for the question marks of a text, or for its names after colons."""


class Rows(Protocol):
    """What a statement has found, and how many rows it has changed."""

    @property
    def rowcount(self) -> int:
        """How many rows were changed."""

    def fetchone(self) -> Any:
        """The next row, None after the last."""

    def fetchall(self) -> list[Any]:
        """All that are left."""

    def __iter__(self) -> Iterator[Any]:
        """Each row that is left."""


class Statements(Protocol):
    """What runs statements."""

    def execute(self, sql: str, given: Given = (), /) -> Rows:
        """Run one statement."""

    def executemany(self, sql: str, given: Iterable[Given], /) -> Rows:
        """Run one statement for each of several things given."""


class Database(Statements, Protocol):
    """A connection, for use by one thread at a time."""

    def lock(self, table: str, numbers: Iterable[int]) -> None:
        """Have rows of "pairs" or "designs" for this transaction alone, before anything is read that it builds on.

        Others who write what belongs to them wait. So the numbers of a log's entries grow in the order in which phones
        can see them.
        """

    def snapshot(self) -> AbstractContextManager[None]:
        """All that is read while the block runs is of one moment. Not for use within a transaction."""


class Connections(Protocol):
    """Connections to what is kept. Safe to use from several threads: each use has one to itself."""

    def reading(self) -> AbstractContextManager[Database]:
        """A connection for as long as the block runs. Raises StoreError."""

    def writing(self) -> AbstractContextManager[Database]:
        """The same within one transaction, which leaves all or nothing, and is kept for good when the block is left."""

    def wipe(self) -> None:
        """See to it that what was deleted can be found nowhere, as far as that is in the hands of this program."""

    def close(self) -> None:
        """Let go of what is kept. Raises StoreError where it is another one by now."""


NOT_INSTALLED = "PostgreSQL needs what `pip install '.[postgresql]'` installs"
"""Where the driver is missing."""


def marks(numbers: Sequence[int]) -> str:
    """Question marks for a list of numbers after IN."""
    return f"({', '.join('?' * len(numbers))})" if numbers else "(NULL)"


def largest(*terms: str) -> str:
    """The largest of several terms that is not NULL."""
    return f"(SELECT max(one) FROM (SELECT {' AS one UNION ALL SELECT '.join(terms)} AS one) AS every_one)"
