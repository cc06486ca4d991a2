"""Serving the pages: where a phone finds them, where the pairs are kept, and a clean start and end."""

from __future__ import annotations

import argparse
import errno
import gc
import logging
import signal
import socket
import sys
from collections.abc import Callable
from contextlib import ExitStack, closing
from pathlib import Path
from types import FrameType
from typing import NoReturn
from urllib.parse import urlsplit

from flask import Flask

from ..drawings.qr import qr_text
from ..on_phone.runtime import FOLDER as RUNTIME
from ..store import StoreError
from ..store.file.privacy import make_private_folder
from ..web import create_app
from ..web.server.request_log import Answered
from ..web.server.security import BODY_LIMITS
from .connections import Server, server_for
from .data_folder import chosen_folder
from .database import chosen_database, without_password
from .metrics import counting_requests
from .output import FAULTY, CannotServeError, say
from .serve_https import House, house

THIS_COMPUTER = "127.0.0.1"
THIS_COMPUTER_6 = "::1"
EVERYWHERE = {"0.0.0.0", "::", ""}

DOCUMENTATION_ADDRESS = "192.0.2.1"
"""An address that is never anybody's (RFC 5737)."""

THREADS = 4


def address_in_network() -> str:
    """The address that this computer has in its network; 127.0.0.1 when it has none.

    Connecting a datagram socket sends nothing: it only makes the system choose the address to send from.
    """
    try:
        with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
            probe.connect((DOCUMENTATION_ADDRESS, 9))
            return str(probe.getsockname()[0])
    except OSError:
        pass
    try:
        return socket.gethostbyname(socket.gethostname())
    except OSError:
        return THIS_COMPUTER


def public_url(text: str) -> str:
    """An address to begin links with, checked.

    Raises CannotServeError with what is allowed.
    """
    try:
        parts = urlsplit(text)
        sound = (
            parts.scheme in {"http", "https"}
            and parts.hostname
            and parts.path in {"", "/"}
            and not (parts.query or parts.fragment or parts.username)
            and (parts.port is None or parts.port > 0)
            and text.isascii()
            and text.isprintable()
            and " " not in text
        )
    except ValueError:
        sound = False
    if not sound:
        raise CannotServeError(
            f"--public-url: {text!r} given; write the address that phones use without a path, "
            "like https://socks.example"
        )
    return text.rstrip("/")


def hosts_of(address: str, host: str) -> frozenset[str]:
    """The names and addresses that a server at this public address may be asked by, when it listens on this host."""
    own = socket.gethostname().lower()
    public = urlsplit(address).hostname or ""
    near = {"localhost", THIS_COMPUTER, THIS_COMPUTER_6, address_in_network(), own, f"{own}.local"}
    return frozenset({public, host.lower(), *near} - EVERYWHERE)


def _with_port(host: str, port: int) -> str:
    return f"http://[{host}]:{port}" if ":" in host else f"http://{host}:{port}"


class _WithoutPaths(logging.Filter):
    """Waitress names the path that failed, and a path opens a pair."""

    def filter(self, record: logging.LogRecord) -> bool:
        message = record.getMessage()
        if " serving /" in message:
            record.msg, record.args = message.partition(" serving /")[0] + " serving a page", None
        return True


def _folder(arguments: argparse.Namespace) -> Path:
    folder = chosen_folder(arguments)
    try:
        make_private_folder(folder)
    except OSError as error:
        raise CannotServeError(
            f"{folder} cannot be made ({error.strerror}); name another folder with --data"
        ) from error
    return folder


def _reason(error: OSError, host: str, port: int) -> str:
    match error.errno:
        case errno.EADDRINUSE:
            return f"port {port} is taken by another program; stop that one or choose another with --port"
        case errno.EACCES:
            return f"port {port} is not open to ordinary users; choose one from 1024 up with --port"
        case _:
            return f"{host} port {port} cannot be listened on ({error.strerror or error}); check --host and --port"


def _listen(host: str, port: int) -> socket.socket:
    if not 0 <= port <= 65535:
        raise CannotServeError(f"--port: {port} given; allowed: 1 to 65535, or 0 for any that is free")
    try:
        return socket.create_server((host, port), family=socket.AF_INET6 if ":" in host else socket.AF_INET)
    except OSError as error:
        raise CannotServeError(_reason(error, host, port)) from error
    except ValueError as error:
        raise CannotServeError(f"--host: {host!r} given; write a name or an address of this computer") from error


def _server(app: Flask, listening: socket.socket) -> Server:
    return server_for(
        app,
        listening,
        threads=THREADS,
        ident=None,
        max_request_body_size=2 * max(BODY_LIMITS.values()),
        # A proxy on this computer tells whether it was asked by https, and from where.
        trusted_proxy=THIS_COMPUTER_6 if listening.family == socket.AF_INET6 else THIS_COMPUTER,
        trusted_proxy_headers={"x-forwarded-proto", "x-forwarded-for"},
    )


def _tell(address: str, here: str, data: str) -> None:
    say(f"Tapeline is at {address}")
    if here != address:
        say(f"On this computer also at {here}")
    say(f"Pairs are kept in {data}. Stop with Ctrl-C.")
    _show_code(address + "/")


def _tell_of_https(house: House, plain: str, data: str) -> None:
    guide = f"{plain}/https"
    say(f"First, once for each phone, let it trust this computer: {guide}")
    _show_code(guide)
    say(f"Its fingerprint is {house.authority.fingerprint}")
    _tell(house.address, plain, data)
    if house.authority.by_number:
        say(f"A phone that does not find this name: {house.authority.by_number}")
    say("What a phone keeps belongs to the address where it was opened. Stay with one.")


def _show_code(text: str) -> None:
    code = qr_text(text)
    try:
        code.encode(sys.stdout.encoding or "ascii")
    except UnicodeEncodeError:
        return  # a terminal that has no block characters
    say(code)


def print_request(answered: Answered) -> None:
    """Print the line of a request on the standard error."""
    print(answered.as_line(), file=sys.stderr, flush=True)


def _stop(_number: int, _frame: FrameType | None) -> NoReturn:
    raise SystemExit


def serve(arguments: argparse.Namespace) -> int:
    """Serve until told to stop; returns the exit code."""
    try:
        _serve(arguments)
    except (CannotServeError, StoreError) as error:
        print(f"companion serve: {error}", file=sys.stderr)
        return FAULTY
    except (KeyboardInterrupt, SystemExit):
        pass  # stopped before it was quite there
    say("Stopped.")
    return 0


def _serve(arguments: argparse.Namespace) -> None:
    if arguments.local and arguments.https:
        raise CannotServeError("--local and --https: give one; on this computer alone nothing needs https")
    host = THIS_COMPUTER if arguments.local else arguments.host
    given = public_url(arguments.public_url) if arguments.public_url is not None else None
    kept_in = chosen_database(arguments)
    if isinstance(kept_in, Path):
        _folder(arguments)
    kept = without_password(kept_in.parent if isinstance(kept_in, Path) else kept_in)
    with ExitStack() as open_now:
        listening = open_now.enter_context(_listen(host, arguments.port))
        port = listening.getsockname()[1]
        plain = _with_port(address_in_network() if host in EVERYWHERE else host, port)
        here = _with_port(THIS_COMPUTER if host in EVERYWHERE else host, port)
        secured = open_now.enter_context(_listen(host, arguments.https_port)) if arguments.https else None
        home = house(_folder(arguments), secured.getsockname()[1], lambda: _addresses(host)) if secured else None
        address = given or (home.address if home else plain)
        app = create_app(
            {
                "DATABASE": kept_in,
                "PUBLIC_URL": address,
                "HOSTS": hosts_of(given, host) if given else None,
                "RUNTIME": chosen_folder(arguments) / RUNTIME,
                "AUTHORITY": home and home.authority,
                "REQUEST_LOG": _listeners(arguments, open_now),
            }
        )
        open_now.enter_context(closing(app.extensions["store"]))
        _leave_program_out_of_garbage()
        server = _server(app, listening)
        _log_only_faults()
        signal.signal(signal.SIGTERM, _stop)
        if home and secured:
            open_now.enter_context(home.server(app, secured))
            _tell_of_https(home, plain, kept)
        else:
            _tell(address, here, kept)
        # Ends by SystemExit or KeyboardInterrupt, which waitress takes as the wish to stop.
        server.run()
        server.close()


def _listeners(arguments: argparse.Namespace, open_now: ExitStack) -> list[Callable[[Answered], None]]:
    """Who hears of each request that was answered."""
    listeners: list[Callable[[Answered], None]] = [print_request] if arguments.log else []
    if arguments.metrics_port is not None:
        listeners.append(open_now.enter_context(counting_requests(arguments.metrics_port)))
    return listeners


def _leave_program_out_of_garbage() -> None:
    """Looking through what the program itself is made of takes as long as a recalculation."""
    gc.collect()
    gc.freeze()


def _log_only_faults() -> None:
    logging.getLogger("waitress").addFilter(_WithoutPaths())
    # Requests that wait for their turn, which a group's many phones may well do, are no fault.
    logging.getLogger("waitress.queue").setLevel(logging.ERROR)


def _addresses(host: str) -> list[str]:
    """The addresses at which a server that listens on this host is met."""
    return [address_in_network() if host in EVERYWHERE else host]
