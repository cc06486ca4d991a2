"""`companion serve` in a process of its own, forked from one that has the program loaded."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import takewhile
from multiprocessing.context import ForkServerProcess
from pathlib import Path
from typing import TextIO

from ..browser.program import started


@dataclass(frozen=True)
class Serving:
    """The command running. `lines` are what it has said by the time it serves, `said` is where it says more."""

    process: ForkServerProcess
    said: TextIO
    errors: Path
    lines: list[str]

    def stop(self) -> tuple[int | None, str, str]:
        """Tell it to stop; returns its code, what it said since it served, and what it complained of at any time."""
        self.process.terminate()
        said = self.said.read()
        self.process.join()
        return self.process.exitcode, said, self.errors.read_text()


@contextmanager
def serving(folder: Path, *options: str) -> Iterator[Serving]:
    """The command on a folder, which is killed in the end if it has not stopped."""
    errors = folder.with_name(f"{folder.name}-errors")
    process, said = started(["serve", "--data", str(folder), "--port", "0", *options], errors, None)
    with said:
        try:
            yield Serving(process, said, errors, list(takewhile(lambda line: line != "\n", said)))
        finally:
            process.kill()
            process.join()
