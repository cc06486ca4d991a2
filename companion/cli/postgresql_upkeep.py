"""Upkeep of a PostgreSQL database: its own programs make dumps and bring them back."""

from __future__ import annotations

import argparse
import shlex
from collections.abc import Callable, Mapping

from ..store import StoreUnavailableError
from ..store.postgresql.examination import examine
from ..store.postgresql.moving import move
from ..store.tables import MIGRATIONS
from .data_folder import FILE_NAME, chosen_folder
from .database import checked_address, without_password
from .doctor import READ_LETTERS, amount, in_logbooks, quarantined


def how_to_back_up(kept_in: str, arguments: argparse.Namespace) -> tuple[str, bool]:
    """The commands of a backup, as a refusal: nothing was backed up."""
    file, address = shlex.quote(str(arguments.file)), shlex.quote(without_password(kept_in))
    raise StoreUnavailableError(
        f"nothing was backed up: a PostgreSQL database is backed up with its own program, also while it is served\n"
        f"  pg_dump --format=custom --file={file} {address}\n"
        f"  pg_restore --list {file}\n"
        "For every moment instead of every night, archive its write-ahead log (“Continuous Archiving” in its manual).\n"
        "Dumps and archives hold what was deleted later: keep them only as long as you have told your knitters."
    )


def how_to_restore(kept_in: str, arguments: argparse.Namespace) -> tuple[str, bool]:
    """The commands that bring a backup back, as a refusal: nothing was."""
    file = shlex.quote(str(arguments.file))
    raise StoreUnavailableError(
        "nothing was brought back: a PostgreSQL database is brought back with its own programs, into a new database\n"
        f"  createdb tapeline_again && pg_restore --exit-on-error --dbname=tapeline_again {file}\n"
        f"Then start the servers with the address of that one instead of {without_password(kept_in)}; "
        "phones send what it lacks."
    )


def look_over(kept_in: str, _arguments: argparse.Namespace) -> tuple[str, bool]:
    """Lines about the database, and whether all is well with it. Changes nothing."""
    inside = examine(kept_in, READ_LETTERS)
    answer = [f"All is well with {without_password(kept_in)}."]
    if inside.faults:
        answer = ["Something is wrong:", *(f"- {fault}." for fault in inside.faults)]
    later = "" if inside.version == len(MIGRATIONS) else ", which the next start of a server brings up to date"
    return "\n".join(
        [
            *answer,
            "",
            f"Its version is {inside.version}{later}.",
            in_logbooks(inside.contents),
            "How it is backed up, `companion backup FILE` tells.",
            *quarantined(inside.quarantined),
        ]
    ), not inside.faults


def move_there(kept_in: str, arguments: argparse.Namespace) -> tuple[str, bool]:
    """Move what is in the file into a database. Raises CannotServeError for an address that will not do."""
    address = checked_address(kept_in, "--to")
    path = chosen_folder(arguments) / FILE_NAME
    move(path, address)
    found = examine(address, READ_LETTERS).contents
    pairs, designs, entries = (
        amount(found.pairs, "pair"),
        amount(found.designs, "design"),
        amount(found.entries, "entry"),
    )
    shown = without_password(address)
    return (
        f"{pairs} and {designs} with {entries} in logbooks are in {shown}, compared row by row. Start the "
        f"server with --database {shlex.quote(shown)} from now on, and never again with the file: it stays as "
        f"it was, in {path}."
    ), True


COMMANDS: Mapping[str, Callable[[str, argparse.Namespace], tuple[str, bool]]] = {
    "backup": how_to_back_up,
    "restore": how_to_restore,
    "doctor": look_over,
    "move": move_there,
}
"""What each command prints for the address and the options, and whether all is well."""
