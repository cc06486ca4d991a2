"""Connections to the PostgreSQL database, kept in a pool from one use to the next."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from functools import cache
from typing import Any, TypeAlias

import psycopg
from psycopg.conninfo import make_conninfo
from psycopg_pool import ConnectionPool

from ..database import Given, Rows
from ..tables import StoreUnavailableError
from .tables import bring_up_to_date, settle

Connection: TypeAlias = psycopg.Connection[tuple[Any, ...]]

MOST_CONNECTIONS = 8
"""Of one process; each is used by one thread at a time, and a server of ours has four."""

WAIT_FOR_CONNECTION = 1.0
"""Seconds until a request is refused while the database server does not answer."""

RECONNECT = 4.0
"""Seconds of trying again, further and further apart; whoever asks after that begins again, at once."""

SETTINGS = {
    "default_transaction_isolation": "read committed",
    "statement_timeout": "30s",
    "lock_timeout": "10s",
    "idle_in_transaction_session_timeout": "30s",
    "client_encoding": "UTF8",
    "timezone": "UTC",
}
"""What the store builds on, whatever the database's own settings are."""

DURABLE = "SELECT set_config('synchronous_commit', 'on', false) WHERE current_setting('synchronous_commit') = 'off'"

_MARK = re.compile(r"\?|(?<![:\w]):([a-z_]\w*)")


@cache
def _translated(sql: str) -> str:
    """SQL with the marks that this driver has for what is given."""
    return _MARK.sub(lambda found: f"%({found[1]})s" if found[1] else "%s", sql)


class ServerDatabase:
    """A connection as the store uses it."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def execute(self, sql: str, given: Given = (), /) -> Rows:
        """Run one statement."""
        return self._connection.execute(_translated(sql), given)

    def executemany(self, sql: str, given: Iterable[Given], /) -> Rows:
        """Run one statement for each of several things given, on one way to the server and back."""
        every = list(given)
        if len(every) == 1:
            return self.execute(sql, every[0])  # without the preparations for many
        cursor = self._connection.cursor()
        cursor.executemany(_translated(sql), every)
        return cursor

    def lock(self, table: str, numbers: Iterable[int]) -> None:
        """Lock rows, in the order of their numbers so that no two wait for each other."""
        one_row = f"SELECT FROM {table} WHERE id = ? FOR NO KEY UPDATE"
        self.executemany(one_row, [(number,) for number in sorted(numbers)])

    @contextmanager
    def snapshot(self) -> Iterator[None]:
        """All that is read while the block runs is of one moment."""
        self._connection.execute("BEGIN ISOLATION LEVEL REPEATABLE READ, READ ONLY")
        yield
        self._connection.execute("COMMIT")


def failure(error: psycopg.Error) -> StoreUnavailableError:
    """What went wrong, without what was given: an error's details name values."""
    reason = error.diag.message_primary or str(error).partition("\n")[0]
    return StoreUnavailableError(f"The database cannot be used just now ({reason})")


def _settings(connection: Connection) -> None:
    for name, value in SETTINGS.items():
        connection.execute("SELECT set_config(%s, %s, false)", (name, value))
    connection.execute(DURABLE)


def _configure(connection: Connection) -> None:
    connection.autocommit = True
    _settings(connection)
    with connection.transaction():
        settle(ServerDatabase(connection))


def _is_there(connection: Connection) -> bool:
    """Whether a connection that was idle is still there, by what has arrived on it: asking would cost a way there and
    back before each use."""
    try:
        connection.pgconn.consume_input()  # the last words of a server that ends
        connection.pgconn.consume_input()  # and the end
    except psycopg.OperationalError:
        return False
    return True


@contextmanager
def connected(url: str) -> Iterator[Connection]:
    """A connection of its own, with one transaction for as long as the block runs. Raises StoreUnavailableError."""
    try:
        with psycopg.connect(url, connect_timeout=10) as connection:
            _settings(connection)
            yield connection
    except psycopg.Error as error:
        raise failure(error) from error


class ServerConnections:
    """Connections to one database. Safe to use from several threads; not to be taken along into a forked process."""

    def __init__(self, url: str) -> None:
        """Connect, and make the tables or bring them up to date. Raises NotAStoreError or StoreUnavailableError."""
        with connected(url) as connection:
            bring_up_to_date(ServerDatabase(connection))
        self._pool: ConnectionPool[Connection] = ConnectionPool(
            make_conninfo(url, connect_timeout=3, keepalives_idle=30),
            min_size=1,
            max_size=MOST_CONNECTIONS,
            timeout=WAIT_FOR_CONNECTION,
            reconnect_timeout=RECONNECT,
            configure=_configure,
            name="tapeline",
            open=True,
        )

    @contextmanager
    def _connection(self) -> Iterator[Connection]:
        """One of the pool's, which hands out a fresh one once those are used up that went with an earlier server."""
        try:
            connection = self._pool.getconn()
            while not _is_there(connection):
                self._pool.putconn(connection)
                connection = self._pool.getconn()
            try:
                with connection:
                    yield connection
            finally:
                self._pool.putconn(connection)
        except psycopg.Error as error:
            raise failure(error) from error

    @contextmanager
    def reading(self) -> Iterator[ServerDatabase]:
        """A connection for as long as the block runs. Raises StoreUnavailableError."""
        with self._connection() as connection:
            yield ServerDatabase(connection)

    @contextmanager
    def writing(self) -> Iterator[ServerDatabase]:
        """The same within one transaction. Raises StoreUnavailableError."""
        with self._connection() as connection, connection.transaction():
            yield ServerDatabase(connection)

    def wipe(self) -> None:
        """Nothing: the room of deleted rows is given back by PostgreSQL's own vacuum."""

    def close(self) -> None:
        """Close all connections."""
        self._pool.close()
