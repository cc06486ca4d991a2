"""How many connections the server holds, and how long it waits on each for the client.

Waitress alone accepts nobody any more once a hundred connections are open, and closes one only after two minutes
without a byte: a hundred that send a header now and then shut everybody out. Here a client has a time for the whole of
what it is waited for, and where many wait, whoever is waited for longest makes room for the next.
"""

from __future__ import annotations

import socket
import sys
import time
from contextlib import suppress
from typing import Any
from wsgiref.types import WSGIApplication

from waitress.adjustments import Adjustments  # type: ignore[import-untyped]
from waitress.channel import HTTPChannel  # type: ignore[import-untyped]
from waitress.parser import (  # type: ignore[import-untyped]
    HTTPRequestParser,
    ParsingError,
    TransferEncodingNotImplemented,
)
from waitress.server import TcpWSGIServer  # type: ignore[import-untyped]

PATIENCE = 60.0
"""Seconds to begin a request, to send the whole of it, and to take the answer. Ours: browsers take well under one."""

SLOWEST = 1000
"""Bytes a second for which a client is given more time, so that a large file gets through a poor network. Ours: half
of what the first mobile data networks carried."""

MOST_CONNECTIONS = 1000
"""A group's phones hold some hundreds; looking through a thousand takes about a millisecond. Ours."""

KEPT_FREE = 10
"""The part of the room that is kept for new connections: a tenth. Ours."""

LEAST_CONNECTIONS = 8
"""Without them no browser would get a page with all its files."""

MOST_HEADER = 32 * 1024
"""Bytes of address and headers together. Ours: the address of a size grid takes a few hundred."""

BODY_IN_MEMORY = 64 * 1024
"""Bytes of a request that arrives; what is longer waits in a temporary file."""

FILES_FOR_A_CONNECTION = 3
"""Its socket, and a temporary file each for a long request and a long answer."""

OTHER_FILES = 64
"""The database for each thread, the pages' own files, and what the system needs."""

WANTED_FILES = MOST_CONNECTIONS * FILES_FOR_A_CONNECTION + OTHER_FILES

FILES_WITHOUT_LIMITS = 512
"""What `select` can watch on Windows, which has no limit to ask for."""


def _open_files() -> int:
    """How many files this process may have open, after asking for as many as it wants."""
    if sys.platform == "win32":
        return FILES_WITHOUT_LIMITS
    import resource  # noqa: PLC0415  not on Windows

    def wanted(allowed: int) -> int:
        return WANTED_FILES if allowed == resource.RLIM_INFINITY else min(WANTED_FILES, allowed)

    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    if wanted(soft) < wanted(hard):
        with suppress(ValueError, OSError):  # not every system gives all that it promises
            resource.setrlimit(resource.RLIMIT_NOFILE, (wanted(hard), hard))
    return wanted(resource.getrlimit(resource.RLIMIT_NOFILE)[0])


def most_connections() -> int:
    """How many connections the server may hold at once, by the files that the system lets it open."""
    room = (_open_files() - OTHER_FILES) // FILES_FOR_A_CONNECTION
    return max(LEAST_CONNECTIONS, min(MOST_CONNECTIONS, room))


class Parser(HTTPRequestParser):  # type: ignore[misc]
    """Refuses also what waitress fails at, or what it would read on without an end."""

    def parse_header(self, header_plus: bytes) -> None:
        """Read the header, or raise waitress's `ParsingError` or `TransferEncodingNotImplemented`, which it answers."""
        try:
            super().parse_header(header_plus)
        except ValueError as error:  # a length of more digits than Python reads
            raise ParsingError("Invalid header") from error
        if self.chunked:
            # Browsers always tell the length over HTTP/1.1. Without it the size of a chunk may be a line of any length,
            # which waitress copies again with everything that arrives.
            raise TransferEncodingNotImplemented("Send the length of the request instead of chunks")


class Connection(HTTPChannel):  # type: ignore[misc]
    """A connection that knows since when its client is waited for."""

    parser_class = Parser
    request: Parser | None

    def __init__(self, server: Any, *arguments: Any, **named: Any) -> None:
        self.clock = server.clock
        self._wait()
        super().__init__(server, *arguments, **named)

    def _wait(self) -> None:
        """From now on the client is waited for."""
        self.waiting_since = self.clock()
        self.begun = False
        self.moved = 0

    @property
    def waits_for_client(self) -> bool:
        """Whether the server has nothing to do for it."""
        return not self.requests

    def overdue(self) -> bool:
        """Whether the client has had its time."""
        return self.waits_for_client and self.clock() > self.waiting_since + PATIENCE + self.moved / SLOWEST

    def received(self, data: bytes) -> bool:
        """Take in what has arrived. The first of a request begins the wait for the rest of it."""
        if not self.begun:
            self._wait()
            self.begun = True
        self.moved += len(data)
        return bool(super().received(data))

    def send(self, data: bytes, do_close: bool = True) -> int:
        """Send what the client takes of the answer, and return how many bytes that were."""
        sent: int = super().send(data, do_close=do_close)
        self.moved += sent
        return sent

    def service(self) -> None:
        """Answer a request; after that the client is waited for."""
        super().service()
        self._wait()

    def handle_close(self) -> None:
        """Close the connection, with the file of a request that had arrived in part."""
        if self.request is not None:
            self.request.close()
            self.request = None
        super().handle_close()

    def readable(self) -> bool:
        """Whether the loop is to read from it. One that is closed already is not read from."""
        return self.connected and bool(super().readable())

    def writable(self) -> bool:
        """Whether the loop is to write to it. One that was closed while the loop goes through all of them is not."""
        return self.connected and bool(super().writable())


class Server(TcpWSGIServer):  # type: ignore[misc]
    """A server that closes what waits too long, and what waits longest when there is no room."""

    channel_class = Connection
    clock = staticmethod(time.monotonic)

    @property
    def at_the_door(self) -> int:
        """How many new connections there is always room for."""
        return max(1, int(self.adj.connection_limit) // KEPT_FREE)

    def readable(self) -> bool:
        """Whether the loop is to look for new connections; makes room for them first."""
        # The loop asks this before it looks which connections have something to read. One that was closed later would
        # leave its number to a new one, which would then be read from in its place.
        self._make_room()
        return bool(super().readable())

    def handle_accept(self) -> None:
        """Take in all connections that wait at the door, as far as there is room."""
        # Looking through all connections for each new one would keep a thousand of them waiting for seconds.
        for _ in range(self.at_the_door):
            before = len(self._map)
            super().handle_accept()
            if len(self._map) == before:
                return

    def _make_room(self) -> None:
        """Close the connections whose clients are waited for longest, as far as there is no room for new ones."""
        over = len(self._map) + self.at_the_door - self.adj.connection_limit
        if over > 0:
            waiting = [each for each in self.active_channels.values() if each.waits_for_client]
            for connection in sorted(waiting, key=lambda each: each.waiting_since)[:over]:
                connection.handle_close()

    def maintenance(self, now: float) -> None:  # noqa: ARG002  the computer's clock may be set while we wait
        """Close the connections whose clients have had their time; the loop asks for it every second."""
        for connection in list(self.active_channels.values()):
            if connection.overdue():
                connection.handle_close()


def server_for(app: WSGIApplication, listening: socket.socket, **settings: Any) -> Server:
    """A server of `app` on a socket that listens, with waitress's `settings` and the limits above."""
    adjustments = Adjustments(
        sockets=[listening],
        max_request_header_size=MOST_HEADER,
        inbuf_overflow=BODY_IN_MEMORY,
        connection_limit=most_connections(),
        cleanup_interval=1,
        # `select` fails from the 1,024th file on.
        asyncore_use_poll=True,
        **settings,
    )
    where = (listening.family, listening.type, listening.proto, listening.getsockname())
    return Server(app, _sock=listening, adj=adjustments, sockinfo=where, bind_socket=False)
