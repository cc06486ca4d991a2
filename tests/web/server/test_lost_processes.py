"""A server on a database, whose processes end in the middle of their work: what was acknowledged is kept, once."""

from __future__ import annotations

import json
import signal
import threading
from collections.abc import Iterator
from contextlib import ExitStack, closing
from http.client import HTTPConnection, HTTPException
from itertools import cycle
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from ...browser.server import Server, serving
from ...conftest import entry
from ...store.postgresql import PostgreSQL

BURST = 6


class Phone:
    """Sends one burst of counts after another, each to the next server until one of them says that it is kept."""

    def __init__(self, servers: tuple[Server, Server], path: str) -> None:
        self._addresses = cycle([urlsplit(server.address).netloc for server in servers])
        self._path = path
        self.refusals: list[tuple[str, str]] = []
        self.acknowledged = 0
        self.has_more = threading.Condition()
        self._done = False
        self._thread = threading.Thread(target=self._run)

    def __enter__(self) -> Phone:
        self._thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._done = True
        self._thread.join()

    def wait_for_more(self) -> None:
        """Wait until another few bursts are acknowledged."""
        with self.has_more:
            wanted = self.acknowledged + 3 * BURST
            assert self.has_more.wait_for(lambda: self.acknowledged >= wanted, timeout=60), self.refusals

    def wait_for_refusal(self) -> None:
        """Wait until a burst is refused."""
        with self.has_more:
            before = len(self.refusals)
            assert self.has_more.wait_for(lambda: len(self.refusals) > before, timeout=60)

    def _run(self) -> None:
        while not self._done:
            first = self.acknowledged + 1
            burst = [entry(number, round=number % 500) for number in range(first, first + BURST)]
            kept = False
            while not (kept or self._done):
                kept = self._send(next(self._addresses), {"entries": burst})
            with self.has_more:
                self.acknowledged += BURST if kept else 0
                self.has_more.notify_all()

    def _send(self, address: str, body: object) -> bool:
        try:
            with closing(HTTPConnection(address, timeout=30)) as connection:
                connection.request("GET", "/csrf")
                answer = connection.getresponse()
                cookie = (answer.getheader("Set-Cookie") or "").partition(";")[0]
                headers = {"Cookie": cookie, "X-CSRFToken": json.loads(answer.read())["token"]}
                connection.request("POST", self._path, json.dumps(body), headers)
                answer = connection.getresponse()
                told = json.loads(answer.read())
        except (OSError, HTTPException):
            return False  # the server's process is gone
        if answer.status == 200:
            return len(told["kept"]) == BURST
        with self.has_more:
            self.refusals.append((told["message"], answer.getheader("Retry-After") or ""))
            self.has_more.notify_all()
        return False


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
    with Phone(servers, f"/pair/{link}/log") as phone:
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
    rounds = [one.round for one in servers[0].entries(link)]
    sent = [number % 500 for number in range(1, phone.acknowledged + BURST + 1)]
    assert rounds[: phone.acknowledged] == sent[: phone.acknowledged]
    assert rounds in (sent[: phone.acknowledged], sent)  # the last burst may be kept without the word that it was
