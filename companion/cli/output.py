"""What the command prints, for as long as somebody reads it, and exit codes."""

from __future__ import annotations

import os
import sys

FAILED, FAULTY, INTERRUPTED = 1, 2, 130
"""Exit codes: when what is printed cannot be written, when what was given cannot be used, where argparse has the same
for its own complaints, and for Ctrl-C, as shells have it."""


class CannotServeError(Exception):
    """The pages cannot be served; the message says why and what to do."""


def say(text: str) -> bool:
    """Print a text and a line's end at once; False, and a line on the standard error, where that cannot be written.

    When the reader has seen enough and gone, what follows goes nowhere.
    """
    try:
        print(text, flush=True)
    except OSError as error:
        # Python would complain once more when it flushes at its end.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        if not isinstance(error, BrokenPipeError):
            print(f"standard output: cannot be written: {error.strerror}", file=sys.stderr)
            return False
    return True
