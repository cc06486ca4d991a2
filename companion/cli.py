"""The `companion` command and its options."""

from __future__ import annotations

import argparse
import io
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import NoReturn

from .commands import PATTERNS, PRINTING, TABLES, FaultyInputError
from .output import say

FAILED, FAULTY, INTERRUPTED = 1, 2, 130
"""Exit codes: when what is printed cannot be written, when what was given cannot be used, where argparse has the same
for its own complaints, and for Ctrl-C, as shells have it."""

DEFAULT_PORT = 8712


class _Parser(argparse.ArgumentParser):
    """Complains in one line."""

    def error(self, message: str) -> NoReturn:
        self.exit(FAULTY, f"{self.prog}: {message}; see {self.prog} --help\n")


def _add_sizes(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--construction", type=int, default=1, metavar="N", help="which of those a design allows (default: the first)"
    )
    command.add_argument("--unit", choices=["cm", "in"], default="cm", help="for lengths, typed and printed")
    command.add_argument("--circumferences", nargs="+", default=[], metavar="N", help="round the ball of each foot")
    command.add_argument("--lengths", nargs="+", default=[], metavar="N", help="of the same feet")


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(prog="companion", description="Plan socks from a measured foot and knit them round by round.")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")

    serve = commands.add_parser("serve", help="serve the pages to the browsers of this network")
    serve.add_argument("--host", default="0.0.0.0", help="address to listen on (default: all of this computer)")
    serve.add_argument("--port", type=int, default=DEFAULT_PORT, help=f"port to listen on (default: {DEFAULT_PORT})")
    serve.add_argument("--data", type=Path, metavar="DIR", help="where to keep the pairs")
    serve.add_argument("--local", action="store_true", help="for this computer only; no phone gets in")
    serve.add_argument("--public-url", metavar="URL", help="what QR codes begin with, where that is another address")

    plan = commands.add_parser("plan", help="print the plan for a request")
    plan.add_argument("request", metavar="REQUEST.json", help="the plan request; - for the standard input")
    plan.add_argument("--format", choices=["text", "json"], default="text")
    plan.add_argument("--unit", choices=["cm", "in"], default="cm", help="for lengths in the text")

    pattern = commands.add_parser("pattern", help="print the written pattern, for one foot or graded for several")
    pattern.add_argument(
        "request", metavar="REQUEST.json", help="a request, with or without foot; - for standard input"
    )
    pattern.add_argument("--format", choices=list(PATTERNS), default="text")
    _add_sizes(pattern)
    pattern.add_argument("--gauge", metavar="N", help="stitches over 10 cm or 4 in, or like 30x42, for all sizes")

    grid = commands.add_parser("grid", help="print a design's stitch counts, sizes and yarn by foot and gauge")
    grid.add_argument(
        "design", metavar="DESIGN.json", help="a request, with or without foot and gauge; - for the standard input"
    )
    grid.add_argument("--format", choices=list(TABLES), default="markdown")
    _add_sizes(grid)
    grid.add_argument("--gauges", nargs="+", default=[], metavar="N", help="stitches over 10 cm or 4 in, or like 30x42")

    recalc = commands.add_parser("recalc", help="work out the rest of a sock from a gauge check")
    recalc.add_argument("plan", metavar="PLAN.json", help="the plan document; - for the standard input")
    recalc.add_argument("--sock", type=int, choices=[1, 2], default=1)
    recalc.add_argument("--round", type=int, required=True, help="rounds of the sock that are done")
    recalc.add_argument("--stitches", type=float, help="stitches counted over 10 cm")
    recalc.add_argument("--rounds", type=float, help="rounds counted over 10 cm")
    recalc.add_argument("--format", choices=["text", "json"], default="text")

    simulate = commands.add_parser("simulate", help="knit socks by the thousand to see what checking is worth")
    simulate.add_argument("--knitters", type=int, default=1000, metavar="N", help="how many (default: 1000)")
    simulate.add_argument("--seed", type=int, default=1, metavar="S", help="another seed, other knitters (default: 1)")
    return parser


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command; returns its exit code."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            # A terminal that lacks a character shows its number instead of stopping everything.
            stream.reconfigure(errors="backslashreplace")
    arguments = _parser().parse_args(argv)
    if arguments.command == "serve":
        # Only serving needs the web part, which takes longest to load.
        from .serving import serve  # noqa: PLC0415

        return serve(arguments)
    try:
        return 0 if say(PRINTING[arguments.command](arguments)) else FAILED
    except KeyboardInterrupt:
        print("\nStopped.", file=sys.stderr)
        return INTERRUPTED
    except FaultyInputError as error:
        for line in error.lines:
            print(line, file=sys.stderr)
        return FAULTY
