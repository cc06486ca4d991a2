"""Where the pairs are kept on this computer."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Mapping
from pathlib import Path

FILE_NAME = "tapeline.sqlite3"


def data_folder(system: str, environment: Mapping[str, str], home: Path) -> Path:
    """Where programs keep a person's data: XDG Base Directory Specification, or the custom of macOS and Windows.

    `system` is what `sys.platform` says.
    """
    if system == "darwin":
        return home / "Library" / "Application Support" / "Tapeline"
    if system == "win32":
        return Path(environment.get("LOCALAPPDATA") or home / "AppData" / "Local") / "Tapeline"
    named = Path(environment.get("XDG_DATA_HOME", ""))
    # The specification has relative paths ignored.
    return (named if named.is_absolute() else home / ".local" / "share") / "tapeline"


def chosen_folder(arguments: argparse.Namespace) -> Path:
    """The folder that the option `--data` names, or else the usual one."""
    return arguments.data or data_folder(sys.platform, os.environ, Path.home())
