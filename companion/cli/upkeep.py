"""What whoever runs a server does for what is kept: back it up, bring it back, look it over, clear it out."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from pathlib import Path

from ..store import StoreError, StoreUnavailableError
from ..store.file.backup import back_up, restore
from ..store.file.examination import Contents
from ..store.file.privacy import make_private_folder
from .data_folder import FILE_NAME, chosen_folder
from .doctor import amount, look_over
from .output import FAILED, FAULTY, say
from .purging import purge


def upkeep(arguments: argparse.Namespace) -> int:
    """Run one of these commands; returns its exit code."""
    path = chosen_folder(arguments) / FILE_NAME
    try:
        text, sound = COMMANDS[arguments.command](path, arguments)
    except StoreError as error:
        print(f"companion {arguments.command}: {error}", file=sys.stderr)
        return FAULTY
    except OSError as error:
        print(f"companion {arguments.command}: {error.filename} cannot be reached ({error.strerror})", file=sys.stderr)
        return FAULTY
    return 0 if say(text) and sound else FAILED


def _in_it(found: Contents) -> str:
    return f"{amount(found.pairs, 'pair')} and {amount(found.designs, 'design')}"


def _backup(path: Path, arguments: argparse.Namespace) -> tuple[str, bool]:
    found = back_up(path, arguments.file, datetime.now(UTC))
    return f"{arguments.file} is a whole backup, with {_in_it(found)}.", True


def _restore(path: Path, arguments: argparse.Namespace) -> tuple[str, bool]:
    try:
        make_private_folder(path.parent)
    except OSError as error:
        raise StoreUnavailableError(f"{path.parent} cannot be made ({error.strerror})") from error
    found, kept = restore(path, arguments.file, datetime.now(UTC))
    lines = [f"{arguments.file} is in place, with {_in_it(found)}. Start the server; phones send what it lacks."]
    if kept:
        lines.append(f"What was there before is kept in {kept}.")
    return "\n".join(lines), True


def _doctor(path: Path, _arguments: argparse.Namespace) -> tuple[str, bool]:
    return look_over(path, datetime.now(UTC))


def _purge(path: Path, arguments: argparse.Namespace) -> tuple[str, bool]:
    return purge(path, arguments, datetime.now(UTC)), True


def _lead(path: Path, arguments: argparse.Namespace) -> tuple[str, bool]:
    # Only this needs the web part, which takes longest to load.
    from .leading import lead_again  # noqa: PLC0415

    return lead_again(path, arguments.link), True


COMMANDS: Mapping[str, Callable[[Path, argparse.Namespace], tuple[str, bool]]] = {
    "backup": _backup,
    "restore": _restore,
    "doctor": _doctor,
    "purge": _purge,
    "lead": _lead,
}
"""What each command prints for the file and the options, and whether all is well."""
