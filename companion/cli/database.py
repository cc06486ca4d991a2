"""Where the pairs are kept: in a file in the data folder, or in a PostgreSQL database."""

from __future__ import annotations

import argparse
import os
from collections.abc import Mapping
from pathlib import Path
from urllib.parse import parse_qs, parse_qsl, urlencode, urlsplit

from .data_folder import FILE_NAME, chosen_folder
from .output import CannotServeError

VARIABLE = "TAPELINE_DATABASE"
"""The environment variable with the address of a database, where the option `--database` is not given."""

SCHEMES = {"postgresql", "postgres"}


def database_address(arguments: argparse.Namespace, environment: Mapping[str, str] = os.environ) -> str | None:
    """The address of the database that was chosen, None where the pairs are kept in a file.

    A password is for PGPASSWORD or the file that PGPASSFILE names, which the driver reads itself
    (postgresql.org/docs/current/libpq-envars.html), or stands in the variable; other users of the computer see what is
    given as an option. Raises CannotServeError.
    """
    given: str | None = getattr(arguments, "database", None)
    if given and getattr(arguments, "data", None):
        raise CannotServeError("--data and --database: give one; the pairs are kept in one place")
    named = environment.get(VARIABLE)
    return checked_address(given, "--database") if given else _sound(named, VARIABLE) if named else None


def checked_address(address: str, option: str) -> str:
    """An address that was given as an option. Raises CannotServeError."""
    parts = urlsplit(_sound(address, option))
    if parts.password or "password" in parse_qs(parts.query):
        raise CannotServeError(
            f"{option}: leave the password out, which other users of this computer would see; put it into PGPASSWORD, "
            "or into a file that PGPASSFILE names"
        )
    return address


def _sound(address: str, where: str) -> str:
    try:
        sound = urlsplit(address).scheme in SCHEMES
    except ValueError:
        sound = False
    if not sound:
        raise CannotServeError(
            f"{where}: the address of a PostgreSQL database is needed, like postgresql://tapeline@db.example/tapeline"
        )
    return address


def chosen_database(arguments: argparse.Namespace, environment: Mapping[str, str] = os.environ) -> Path | str:
    """The file, or the address of the database. Raises CannotServeError."""
    return database_address(arguments, environment) or chosen_folder(arguments) / FILE_NAME


def without_password(kept_in: Path | str) -> str:
    """A path or an address as it may be printed: an address without its password."""
    if isinstance(kept_in, Path):
        return str(kept_in)
    parts = urlsplit(kept_in)
    user, _, server = parts.netloc.rpartition("@")
    who = f"{user.partition(':')[0]}@" if user else ""
    settings = urlencode([one for one in parse_qsl(parts.query) if one[0] != "password"], safe="/")
    return f"postgresql://{who}{server}{parts.path}{'?' if settings else ''}{settings}"
