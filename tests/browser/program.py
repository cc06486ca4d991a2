"""The `companion` command in a process of its own, forked from one that has the program loaded.

To load it takes five times as long as all else that a server does until it serves.
"""

from __future__ import annotations

import multiprocessing
import os
import sys
from multiprocessing.connection import Connection
from multiprocessing.context import ForkServerProcess
from pathlib import Path
from typing import TextIO

from companion import resources
from companion.cli import main

_LOADED = multiprocessing.get_context("forkserver")
_LOADED.set_forkserver_preload(["companion.cli.serve", __name__])


def started(arguments: list[str], errors: Path, static: Path | None) -> tuple[ForkServerProcess, TextIO]:
    """Start the command; returns its process and what it says. What it complains about is added to a file.

    `static` are files to serve instead of the project's.
    """
    said, saying = _LOADED.Pipe(duplex=False)
    process = _LOADED.Process(target=_run, args=(arguments, saying, errors, static), daemon=True)
    process.start()
    saying.close()
    with said:
        return process, os.fdopen(os.dup(said.fileno()), encoding="utf-8")


def _run(arguments: list[str], saying: Connection, errors: Path, static: Path | None) -> None:
    with errors.open("a") as complaints:
        os.dup2(complaints.fileno(), 2)
    resources.STATIC = static or resources.STATIC
    with saying:
        sys.stdout = os.fdopen(os.dup(saying.fileno()), "w", encoding="utf-8")
    sys.exit(main(arguments))
