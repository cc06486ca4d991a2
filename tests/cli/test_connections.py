"""Clients that send nothing, half a request, or a byte now and then keep nobody out."""

from __future__ import annotations

import re
import resource
import select
import signal
import socket
import urllib.request
from collections.abc import Callable, Iterable, Iterator
from contextlib import ExitStack, contextmanager, suppress
from itertools import cycle, islice
from pathlib import Path
from urllib.parse import urlsplit
from wsgiref.types import StartResponse, WSGIEnvironment

import pytest
from hypothesis import given
from hypothesis import strategies as st
from waitress.adjustments import Adjustments  # type: ignore[import-untyped]

from companion.cli.connections import (
    LEAST_CONNECTIONS,
    MOST_CONNECTIONS,
    PATIENCE,
    SLOWEST,
    Parser,
    most_connections,
    server_for,
)

from .serving import serving
from .test_serve import interpreted

IDLE = 500

KINDS = {
    "silent": b"",
    "half a first line": b"G",
    "half a header": b"GET /csrf HTTP/1.1\r\nHost: localhost\r\nX-More: ",
    "half a body": b"POST /plan HTTP/1.1\r\nHost: localhost\r\nContent-Length: 60000\r\n\r\ntitle=Socks",
    "blank lines": b"\r\n\r\n",
    "answered": b"GET /csrf HTTP/1.1\r\nHost: localhost\r\n\r\n",
}
"""How connections begin that are then left open."""


@contextmanager
def left_open(port: int, beginnings: Iterable[bytes]) -> Iterator[list[socket.socket]]:
    """Connections that stay open, each with the beginning of a request."""
    with ExitStack() as stack:
        opened = []
        for beginning in islice(cycle(beginnings), IDLE):
            one = stack.enter_context(socket.create_connection(("127.0.0.1", port), timeout=20))
            one.sendall(beginning)
            opened.append(one)
        yield opened


def drip(connections: Iterable[socket.socket]) -> None:
    """One byte more on each that the server has left open."""
    for one in connections:
        with suppress(OSError):
            one.send(b"x")


def others_are_served(address: str, beginnings: Iterable[bytes]) -> None:
    with left_open(urlsplit(address).port or 0, beginnings) as idle:
        for _ in range(3):
            with urllib.request.urlopen(f"{address}/csrf", timeout=20) as answer:
                assert answer.status == 200
            drip(idle)


def address_in(lines: list[str]) -> str:
    found = re.search(r"http://127\.0\.0\.1:\d+", lines[0])
    assert found
    return found[0]


def test_hundreds_of_idle_connections_leave_others_served(tmp_path: Path) -> None:
    with serving(tmp_path, "--local") as server:
        for kind in KINDS.values():
            others_are_served(address_in(server.lines), [kind])
        others_are_served(address_in(server.lines), KINDS.values())
        code, _, complained = server.stop()
    assert (code, complained) == (0, "")


@pytest.mark.usefixtures("interrupts")
def test_more_idle_connections_than_there_is_room_for_leave_others_served(tmp_path: Path) -> None:
    """Here the system lets the server open 300 files."""
    limited = ["sh", "-c", 'ulimit -n 300; exec "$@"', "sh"]
    with interpreted(tmp_path, "--local", before=limited) as (server, lines):
        others_are_served(address_in(lines), KINDS.values())
        server.send_signal(signal.SIGTERM)
        _, err = server.communicate(timeout=20)
    assert (server.returncode, err) == (0, "")


def answer_nothing(_environ: WSGIEnvironment, start_response: StartResponse) -> list[bytes]:
    start_response("200 OK", [("Content-Length", "0")])
    return []


class Hall:
    """A server in this process whose clock is set by hand, and whose loop goes round when it is told to."""

    def __init__(self, listening: socket.socket) -> None:
        self.now = 0.0
        self.port = listening.getsockname()[1]
        self.server = server_for(answer_nothing, listening, threads=1, max_request_body_size=1_000_000)
        self.server.clock = lambda: self.now

    def until(self, condition: Callable[[], bool]) -> None:
        for _ in range(1000):
            if condition():
                return
            self.server.asyncore.loop(timeout=0.01, map=self.server._map, use_poll=True, count=1)
        pytest.fail("it never came about")

    def connect(self) -> socket.socket:
        before = len(self.server.active_channels)
        client = socket.create_connection(("127.0.0.1", self.port), timeout=20)
        self.until(lambda: len(self.server.active_channels) > before)
        return client

    def send(self, client: socket.socket, data: bytes) -> None:
        [connection] = self.server.active_channels.values()
        before = connection.moved if connection.begun else 0
        client.sendall(data)
        self.until(lambda: connection.moved == before + len(data))

    def closed_after(self, seconds: float) -> bool:
        """Whether so much later the only connection there is was closed."""
        self.now += seconds
        self.server.maintenance(0)
        return not self.server.active_channels


@pytest.fixture
def hall() -> Iterator[Hall]:
    with socket.create_server(("127.0.0.1", 0)) as listening:
        made = Hall(listening)
        yield made
        made.server.task_dispatcher.shutdown()
        for connection in list(made.server.active_channels.values()):
            connection.handle_close()
        made.server.close()


def test_a_silent_client_has_its_time_and_no_more(hall: Hall) -> None:
    with hall.connect():
        assert not hall.closed_after(PATIENCE)
        assert hall.closed_after(1)


@pytest.mark.parametrize("kind", ["half a first line", "half a header", "half a body", "blank lines"])
def test_a_byte_now_and_then_prolongs_nothing(hall: Hall, kind: str) -> None:
    with hall.connect() as client:
        hall.send(client, KINDS[kind])
        for _ in range(6):
            assert not hall.closed_after(PATIENCE / 6)
            hall.send(client, b"\r\n" if kind == "blank lines" else b"x")
        assert hall.closed_after(1)


def test_a_client_on_a_slow_network_has_the_time_it_takes(hall: Hall) -> None:
    piece = int(SLOWEST * PATIENCE / 2)
    with hall.connect() as client:
        hall.send(client, b"POST / HTTP/1.1\r\nContent-Length: 900000\r\n\r\n")
        for _ in range(6):
            hall.send(client, bytes(piece))
            assert not hall.closed_after(piece / SLOWEST)
        assert hall.closed_after(PATIENCE + 1)


def test_each_request_has_a_time_of_its_own(hall: Hall) -> None:
    with hall.connect() as client:
        [connection] = hall.server.active_channels.values()
        for _ in range(3):
            assert not hall.closed_after(PATIENCE)
            client.sendall(b"GET / HTTP/1.1\r\n\r\n")
            hall.until(lambda: bool(select.select([client], [], [], 0)[0]))
            assert client.recv(1000).startswith(b"HTTP/1.1 200 OK")
            hall.until(lambda: connection.waits_for_client and not connection.begun)


def test_whoever_is_waited_for_longest_makes_room(hall: Hall) -> None:
    hall.server.adj.connection_limit = len(hall.server._map) + 3
    with hall.connect() as first, hall.connect(), socket.create_connection(("127.0.0.1", hall.port)) as third:
        first.settimeout(20)
        hall.now += 1
        third.sendall(b"GET / HTTP/1.1\r\n\r\n")
        hall.until(lambda: any(each.begun for each in hall.server.active_channels.values()))
        assert first.recv(1) == b""


@pytest.mark.parametrize(
    ("allowed", "room"), [((64, 64), LEAST_CONNECTIONS), ((400, 400), 112), ((400, 100_000), MOST_CONNECTIONS)]
)
def test_the_room_is_what_the_system_gives(
    monkeypatch: pytest.MonkeyPatch, allowed: tuple[int, int], room: int
) -> None:
    asked = [allowed]
    monkeypatch.setattr(resource, "getrlimit", lambda _: asked[-1])
    monkeypatch.setattr(resource, "setrlimit", lambda _, pair: asked.append(pair))
    assert most_connections() == room


def answer_to(sent: bytes) -> tuple[int, str] | None:
    """The status and the words that waitress refuses a request with; None where it is sound or not complete."""
    parser = Parser(Adjustments())
    parser.received(sent)
    return (parser.error.code, parser.error.body) if parser.error else None


def test_a_length_that_is_no_number_a_program_can_have_is_refused() -> None:
    """Python reads integers of up to 4,300 digits."""
    refusal = answer_to(b"GET / HTTP/1.1\r\nContent-Length: " + b"9" * 5000 + b"\r\n\r\n")
    assert refusal == (400, "Invalid header")


def test_chunks_without_a_length_are_refused() -> None:
    refusal = answer_to(b"POST / HTTP/1.1\r\nTransfer-Encoding: chunked\r\n\r\n")
    assert refusal
    assert refusal[0] == 501


HEADERS = st.sampled_from([b"Host", b"Content-Length", b"Transfer-Encoding", b"Connection", b"Expect", b"X", b""])


@given(
    first=st.one_of(
        st.binary(max_size=60),
        st.builds(
            lambda path, version: b"GET %b HTTP/%b" % (path, version), st.binary(max_size=40), st.binary(max_size=4)
        ),
        st.builds(lambda host: b"GET http://%b HTTP/1.1" % host, st.binary(max_size=20)),
    ),
    headers=st.lists(st.tuples(HEADERS, st.binary(max_size=20)), max_size=5),
)
def test_no_junk_fails_the_reading_of_a_request(first: bytes, headers: list[tuple[bytes, bytes]]) -> None:
    answer_to(b"\r\n".join([first, *(name + b": " + value for name, value in headers), b"", b""]))
