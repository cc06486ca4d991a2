"""A server on a database, whose processes end in the middle of their work: what was acknowledged is kept, once."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest

from ...browser.server import Server, serving
from ...store.postgresql import PostgreSQL
from .phone import Phone


@pytest.fixture
def database(postgresql: PostgreSQL) -> str:
    return postgresql.make("lost")


@pytest.fixture
def servers(tmp_path: Path, database: str) -> Iterator[tuple[Server, Server]]:
    with ExitStack() as running:
        folders = [tmp_path / "one", tmp_path / "other"]
        for folder in folders:
            folder.mkdir()
        one, other = (running.enter_context(serving(folder, database)) for folder in folders)
        yield one, other


def test_no_acknowledged_count_is_lost_or_doubled_whichever_process_is_killed(
    servers: tuple[Server, Server], postgresql: PostgreSQL
) -> None:
    """While the database is away, all are told so, and when to come again."""
    link = servers[0].add_pair()
    with Phone([server.address for server in servers], f"/pair/{link}/log") as phone:
        phone.wait_for_more()
        servers[0].kill()
        phone.wait_for_more()  # by the other one
        servers[0].start()
        phone.wait_for_more()
        postgresql.end(signal.SIGKILL)
        phone.wait_for_refusal()
        phone.wait_for_refusal()
        postgresql.start()
        phone.wait_for_more()
    told, come_again = phone.refusals[-1]
    assert "Counts stay on the phone" in told
    assert come_again == "5"
    assert phone.kept([one.round for one in servers[0].entries(link)])
