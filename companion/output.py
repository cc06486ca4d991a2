"""Printing for whoever reads, and for as long as they do."""

from __future__ import annotations

import os
import sys


def say(text: str) -> None:
    """Print a text and a line's end at once. When the reader has seen enough and gone, what follows goes nowhere."""
    try:
        sys.stdout.write(text + "\n")
        sys.stdout.flush()
    except BrokenPipeError:
        # Python would complain once more when it flushes at its end.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
