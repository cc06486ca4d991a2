"""Whose turn it is to write to the SQLite file, of the threads of all processes that have it open.

SQLite lets one write at a time and has the others look again later and later (its own busy handler, 100 ms apart in the
end), so that one may wait for seconds while others come and go. Here each is next in turn: the threads of a process by
a lock of its own, and processes by one of the system's, which it takes back when a process ends, in whatever way.
"""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from .privacy import beside, make_private

try:
    import fcntl
except ImportError:  # Windows, where SQLite's own way has to do
    fcntl = None  # type: ignore[assignment]

LOCK = ".turn"


class WriteLock:
    """The lock, on an empty file beside."""

    def __init__(self, path: Path) -> None:
        """Raises OSError where the file beside cannot be made."""
        lock = beside(path, LOCK)
        make_private(lock)
        self._threads = threading.Lock()
        self._file = lock.open("rb", buffering=0)

    @contextmanager
    def taken(self) -> Iterator[None]:
        """Hold the lock while the block runs."""
        with self._threads:
            if fcntl:
                fcntl.flock(self._file, fcntl.LOCK_EX)
            try:
                yield
            finally:
                if fcntl:
                    fcntl.flock(self._file, fcntl.LOCK_UN)

    def close(self) -> None:
        """Let go of the file."""
        self._file.close()
