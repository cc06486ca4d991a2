"""A PostgreSQL server of the tests' own, on a socket in a folder that goes when they end."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from time import sleep

import psycopg

USER = "postgres" if hasattr(os, "geteuid") and os.geteuid() == 0 else None
"""Whom the server runs as: it refuses to run as root (postgresql.org/docs/current/app-postgres.html)."""


def program(name: str) -> str | None:
    """One of the server's programs; Debian has them out of the path, a folder for each version."""
    found = sorted(Path("/usr/lib/postgresql").glob(f"*/bin/{name}"), key=lambda path: int(path.parts[4]))
    return str(found[-1]) if found else shutil.which(name)


FAST = {"fsync": "off", "full_page_writes": "off", "shared_buffers": "64MB", "autovacuum": "off"}
"""What is written survives the server's end in whatever way, though not that of the computer.

What autovacuum has counted in one test's rows stays known when they are gone, also after TRUNCATE, and the statements
of the next test would be planned by it.
"""


class PostgreSQL:
    """The server."""

    def __init__(self, folder: Path, durable: bool) -> None:
        """`durable`: as it is installed, and not as fast as only tests want it."""
        self._folder, self._durable = folder, durable
        self._process: subprocess.Popen[bytes] | None = None
        made = [program("initdb") or "", "--no-sync", "-A", "trust", "-U", "tapeline", "-E", "UTF8", "--locale=C.UTF-8"]
        subprocess.run([*made, str(folder / "data")], check=True, user=USER, group=USER, stdout=subprocess.DEVNULL)

    def url(self, database: str) -> str:
        """The address of a database."""
        return f"postgresql://tapeline@/{database}?host={self._folder}"

    def start(self) -> None:
        """Start, and wait until it answers."""
        settings = {
            "listen_addresses": "", "unix_socket_directories": self._folder, "max_connections": 60,
            "log_min_messages": "panic", **({} if self._durable else FAST),
        }  # fmt: skip
        command = [program("postgres") or "", "-D", str(self._folder / "data")]
        options = [word for name, value in settings.items() for word in ("-c", f"{name}={value}")]
        with (self._folder / "log").open("ab") as log:
            self._process = subprocess.Popen([*command, *options], user=USER, group=USER, stdout=log, stderr=log)
        while True:
            try:
                psycopg.connect(self.url("postgres")).close()
            except psycopg.OperationalError:
                assert self._process.poll() is None, (self._folder / "log").read_text()
                sleep(0.02)
            else:
                return

    def end(self, number: signal.Signals) -> None:
        """End it by this signal: SIGQUIT leaves all where it is, as a lost process does."""
        assert self._process
        self._process.send_signal(number)
        self._process.wait()

    def make(self, database: str) -> str:
        """Make an empty database in the place of one of this name; returns its address."""
        with psycopg.connect(self.url("postgres"), autocommit=True) as db:
            db.execute(f"DROP DATABASE IF EXISTS {database} WITH (FORCE)".encode())
            db.execute(f"CREATE DATABASE {database}".encode())
        return self.url(database)


@contextmanager
def running(durable: bool = False) -> Iterator[PostgreSQL]:
    """A server for as long as the block runs."""
    with tempfile.TemporaryDirectory(prefix="tapeline-postgresql-") as name:
        folder = Path(name)
        if USER:
            shutil.chown(folder, USER, USER)
        server = PostgreSQL(folder, durable)
        server.start()
        try:
            yield server
        finally:
            server.end(signal.SIGQUIT)


def emptied(url: str) -> None:
    """Take all rows out of a database, as if it had just been made; it may have no tables yet."""
    with psycopg.connect(url) as db:
        names = [name for (name,) in db.execute("SELECT tablename FROM pg_tables WHERE schemaname = 'public'")]
        if names:
            kept = db.execute("SELECT name, value FROM meta WHERE name IN ('version', 'home')").fetchall()
            db.execute(f"TRUNCATE {', '.join(names)} RESTART IDENTITY".encode())
            db.cursor().executemany("INSERT INTO meta VALUES (%s, %s)", kept)
