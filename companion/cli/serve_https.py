"""`companion serve --https`: the same pages over https in the house, and what each phone is asked to trust."""

from __future__ import annotations

import re
import socket
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from ..web.https_guide import HouseAuthority
from ..web.server.security import BODY_LIMITS
from .connections import MOST_HEADER
from .output import CannotServeError

if TYPE_CHECKING:
    from flask import Flask

    from ..home_https.serving import HomeServer

_NAME = re.compile("[a-z0-9]([a-z0-9-]*[a-z0-9])?")
"""What can be asked for by name: RFC 1123, section 2.1."""

NOT_INSTALLED = (
    "--https needs two packages more; install them with .venv/bin/pip install '.[https]', in the folder of the README"
)
NO_ADDRESS = "--https: this computer has neither a name nor an address within a network; connect it to one first"


@dataclass(frozen=True)
class House:
    """Https as the house has it. `certificate` gives the file of the one that is good now."""

    address: str
    authority: HouseAuthority
    certificate: Callable[[], Path]

    def server(self, app: Flask, listening: socket.socket) -> HomeServer:
        """The server of the pages over https, on a socket that listens."""
        from ..home_https.serving import HomeServer  # noqa: PLC0415  an extra

        return HomeServer(
            app, listening, self.certificate, most_header=MOST_HEADER, most_body=2 * max(BODY_LIMITS.values())
        )


def house_name(computer: str) -> str | None:
    """This computer's name in a network, "ada.local"; None where its own name cannot be asked for."""
    first = computer.partition(".")[0].lower()
    return f"{first}.local" if _NAME.fullmatch(first) and first != "localhost" else None


def house(data: Path, port: int, addresses: Callable[[], Sequence[str]]) -> House:
    """Https for the pairs kept in a folder, on a port that is listened on.

    `addresses` gives those that this computer has in its network now. Raises CannotServeError where the packages are
    missing, or a kept file is damaged or cannot be read.
    """
    try:
        from ..home_https.authority import authority_in, certificate_in, vouches_for  # noqa: PLC0415  an extra
    except ImportError as error:
        raise CannotServeError(NOT_INSTALLED) from error
    computer = socket.gethostname()
    name = house_name(computer)
    numbers = [address for address in addresses() if vouches_for(address)]
    if not (name or numbers):
        raise CannotServeError(NO_ADDRESS)
    try:
        authority = authority_in(data, computer, datetime.now(UTC))

        def certificate() -> Path:
            names = [*([name] if name else []), *addresses()]
            return certificate_in(data, authority, names, datetime.now(UTC))

        certificate()
    except (OSError, ValueError) as error:
        raise CannotServeError(
            f"--https: {error}; move the files https-* in {data} away, start again, and trust it anew"
        ) from error
    by_number = f"https://{_in_address(numbers[0])}:{port}" if numbers else None
    address = f"https://{name}:{port}" if name else by_number
    assert address
    handed_out = HouseAuthority(authority.handed_out(), authority.fingerprint, by_number if name else None)
    return House(address, handed_out, certificate)


def _in_address(number: str) -> str:
    return f"[{number}]" if ":" in number else number
