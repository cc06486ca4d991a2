"""Whatever a browser asks of anybody but this computer goes to a proxy, which writes it down and refuses it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from threading import Thread

PLAIN_HTTP = "socks.test"
"""A name of this computer. Names under .test are nobody's (RFC 6761), and not trusted as 127.0.0.1 is (W3C Secure
Contexts)."""


@contextmanager
def writing_down(asked: list[str]) -> Iterator[list[str]]:
    """Have the requests written down, a line for each; yields the arguments that take a browser there."""

    class Refusing(BaseHTTPRequestHandler):
        def handle_one_request(self) -> None:
            asked.append(self.rfile.readline().decode(errors="replace").strip())
            self.wfile.write(b"HTTP/1.1 403 Forbidden\r\nContent-Length: 0\r\nConnection: close\r\n\r\n")
            self.close_connection = True

    with ThreadingHTTPServer(("127.0.0.1", 0), Refusing) as proxy:
        Thread(target=proxy.serve_forever, daemon=True).start()
        yield [
            f"--proxy-server=127.0.0.1:{proxy.server_port}",
            f"--proxy-bypass-list=<-loopback>;127.0.0.1;{PLAIN_HTTP}",
            f"--host-resolver-rules=MAP {PLAIN_HTTP} 127.0.0.1",
        ]
        proxy.shutdown()
