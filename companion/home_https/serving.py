"""The pages over TLS, with a certificate that is renewed while they are served."""

from __future__ import annotations

import logging
import socket
import threading
from collections.abc import Callable
from pathlib import Path
from typing import Any
from wsgiref.types import WSGIApplication

from cheroot.ssl.builtin import BuiltinSSLAdapter
from cheroot.wsgi import Server

THREADS = 8
"""Each waits for one phone at a time, at most `PATIENCE`. Ours: a household's phones ask one after another."""

PATIENCE = 10
"""Seconds to wait for what a client sends, the handshake included. Ours: browsers take well under one."""

RENEWED_EVERY = 3600.0
"""Seconds from one look at the certificate to the next: a new address in the network is met within the hour."""

logger = logging.getLogger(__name__)


class _Adapter(BuiltinSSLAdapter):
    """Leaves the handshake to the thread that reads the request: a client that never begins it holds up nobody else."""

    def wrap(self, sock: socket.socket) -> tuple[socket.socket, dict[str, Any]]:
        """The socket with TLS round it, and what requests on it know of that."""
        inside = self.context.wrap_socket(sock, server_side=True, do_handshake_on_connect=False)
        return inside, {"wsgi.url_scheme": "https", "HTTPS": "on"}


class HomeServer(Server):
    """Serves an app over TLS on a socket that listens, for as long as its `with` block lasts.

    `certificate` gives the file of the certificate that is good now, with its key; it is asked again every hour.
    Requests may have so many bytes of headers and of body.
    """

    def __init__(
        self,
        app: WSGIApplication,
        listening: socket.socket,
        certificate: Callable[[], Path],
        *,
        most_header: int,
        most_body: int,
    ) -> None:
        super().__init__(listening.getsockname()[:2], app, numthreads=THREADS, timeout=PATIENCE)
        self.max_request_header_size = most_header
        self.max_request_body_size = most_body
        self._listening = listening
        self._certificate = certificate
        self._stopped = threading.Event()
        kept = str(certificate())
        self.ssl_adapter = _Adapter(kept, kept)

    def bind(self, family: int, type: int, proto: int = 0) -> socket.socket:  # noqa: A002, ARG002  names of the library
        """The socket that was given, which listens already."""
        self.socket = self._listening
        return self._listening

    def error_log(self, msg: str = "", level: int = logging.INFO, traceback: bool = False) -> None:
        """Note that something went wrong with a connection, without what was asked for on it: a path opens a pair."""
        del msg, traceback
        if level >= logging.ERROR:
            logger.warning("A connection over https ended in a fault.")

    def __enter__(self) -> HomeServer:
        """Begin to serve."""
        self.prepare()
        for job in (self.serve, self._renew):
            threading.Thread(target=job, daemon=True).start()
        return self

    def __exit__(self, *_: object) -> None:
        """Answer what was asked, and stop."""
        self._stopped.set()
        self.stop()

    def _renew(self) -> None:
        while not self._stopped.wait(RENEWED_EVERY):
            try:
                self.ssl_adapter.context.load_cert_chain(self._certificate())
            except (OSError, ValueError):
                logger.exception("The certificate could not be renewed; the one before stays in use.")
