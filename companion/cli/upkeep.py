"""Upkeep of what is kept: back it up, bring it back, look it over, clear it out."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from pathlib import Path

from ..on_phone import runtime
from ..store import StoreError, StoreUnavailableError
from ..store.database import NOT_INSTALLED
from ..store.file.backup import back_up, restore
from ..store.file.examination import Contents
from ..store.file.privacy import make_private_folder
from .data_folder import chosen_folder
from .database import chosen_database
from .doctor import amount, look_over
from .output import FAILED, FAULTY, CannotServeError, say
from .purging import purge


def upkeep(arguments: argparse.Namespace) -> int:
    """Run one of these commands; returns its exit code."""
    try:
        text, sound = _run(chosen_database(arguments), arguments)
    except (CannotServeError, StoreError) as error:
        print(f"companion {arguments.command}: {error}", file=sys.stderr)
        return FAULTY
    except OSError as error:
        print(f"companion {arguments.command}: {error.filename} cannot be reached ({error.strerror})", file=sys.stderr)
        return FAULTY
    return 0 if say(text) and sound else FAILED


def _run(kept_in: Path | str, arguments: argparse.Namespace) -> tuple[str, bool]:
    """What a command prints, and whether all is well."""
    match arguments.command:
        case "purge":
            return purge(kept_in, arguments, datetime.now(UTC)), True
        case "lead":
            # Only this needs the web part, which takes longest to load.
            from .new_leader_link import new_leader_link  # noqa: PLC0415

            return new_leader_link(kept_in, arguments.link), True
        case "runtime":
            return _runtime(chosen_folder(arguments))
        case "move":
            return _of_a_database("move")(str(arguments.to), arguments)
        case command if isinstance(kept_in, Path):
            return OF_A_FILE[command](kept_in, arguments)
        case command:
            return _of_a_database(command)(kept_in, arguments)


def _of_a_database(command: str) -> Callable[[str, argparse.Namespace], tuple[str, bool]]:
    """What does it for the address of a database. Raises StoreUnavailableError where the driver is not installed."""
    try:
        from .postgresql_upkeep import COMMANDS  # noqa: PLC0415
    except ImportError as error:
        raise StoreUnavailableError(NOT_INSTALLED) from error
    return COMMANDS[command]


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


def _runtime(folder: Path) -> tuple[str, bool]:
    runtime_folder = folder / runtime.FOLDER
    try:
        make_private_folder(folder)
        megabytes = (runtime.size(runtime_folder) or runtime.fetch(runtime_folder)) / 1e6
    except runtime.RuntimeUnavailableError as error:
        return f"Phones cannot calculate without network: {error}.", False
    if not runtime.installed(runtime_folder):
        return f"It is in {runtime_folder}, but goes with pydantic-core {runtime.CORE} alone: install that.", False
    there = f"{runtime_folder} has it, {megabytes:.0f} MB."
    return f"{there} Start the server again; the menu of the knit page offers it.", True


OF_A_FILE: Mapping[str, Callable[[Path, argparse.Namespace], tuple[str, bool]]] = {
    "backup": _backup,
    "restore": _restore,
    "doctor": _doctor,
}
"""What each command prints for the file and the options, and whether all is well."""
