"""A phone that goes on sending whatever becomes of the servers."""

from __future__ import annotations

import json
import threading
from collections.abc import Sequence
from contextlib import closing
from http.client import HTTPConnection, HTTPException
from itertools import cycle
from urllib.parse import urlsplit

from ...conftest import entry

BURST = 6


class Phone:
    """Sends one burst of counts after another, each to the next server until one of them says that it is kept."""

    def __init__(self, addresses: Sequence[str], path: str) -> None:
        self._addresses = cycle([urlsplit(address).netloc for address in addresses])
        self._path = path
        self.refusals: list[tuple[str, str]] = []
        self.acknowledged = 0
        self.unanswered = 0
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

    def kept(self, rounds: Sequence[int]) -> bool:
        """Whether these are the rounds that were acknowledged, each once and in order.

        The last burst may be kept without the word that it was.
        """
        sent = [number % 500 for number in range(1, self.acknowledged + BURST + 1)]
        return list(rounds) in (sent[: self.acknowledged], sent)

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
            self.unanswered += 1  # the server's process is gone
            return False
        if answer.status == 200:
            return len(told["kept"]) == BURST
        with self.has_more:
            self.refusals.append((told["message"], answer.getheader("Retry-After") or ""))
            self.has_more.notify_all()
        return False
