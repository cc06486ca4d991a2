"""The `companion` command and its options."""

from __future__ import annotations

import argparse
import io
import sys
from collections.abc import Sequence
from importlib.metadata import version
from pathlib import Path
from typing import Any, NoReturn

from ..planning.request.size_range import typed_list
from ..planning.units import parse_number
from .capacity import capacity
from .completion import completion_script
from .deploy import FILES, deploy
from .output import FAILED, FAULTY, INTERRUPTED, say
from .plans import PATTERNS, PRINTING, TABLES, FaultyInputError

DEFAULT_PORT = 8712


class _Parser(argparse.ArgumentParser):
    """Complains in one line."""

    def error(self, message: str) -> NoReturn:
        self.exit(FAULTY, f"{self.prog}: {message}; see {self.prog} --help\n")


def _number(text: str) -> float:
    try:
        return parse_number(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"“{text}” given; a number is needed, like 32 or 32.5") from None


class _Listed(argparse.Action):
    """Numbers apart or with commas and semicolons between: "20 22,5" and "20; 22,5" are the same two."""

    def __call__(self, _parser: object, namespace: argparse.Namespace, values: Any, _option: object = None) -> None:
        setattr(namespace, self.dest, [number for text in values for number in typed_list(text)])


class _Version(argparse.Action):
    """Looked up only when it is asked for: a copy that was never installed has none."""

    def __call__(self, parser: argparse.ArgumentParser, *_: object) -> None:
        print(f"Tapeline {version('tapeline')}")
        parser.exit(0)


class _Completion(argparse.Action):
    """Prints what lets a shell complete the commands that a parser has."""

    def __call__(self, parser: argparse.ArgumentParser, *_: object) -> None:
        [commands] = [action.choices for action in parser._actions if isinstance(action.choices, dict)]
        print(completion_script(commands), end="")
        parser.exit(0)


def _add_sizes(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--construction", type=int, default=1, metavar="N", help="which of those a design allows (default: the first)"
    )
    command.add_argument("--unit", choices=["cm", "in"], default="cm", help="for lengths, typed and printed")
    command.add_argument(
        "--circumferences", nargs="+", action=_Listed, default=[], metavar="N", help="round the ball of each foot"
    )
    command.add_argument("--lengths", nargs="+", action=_Listed, default=[], metavar="N", help="of the same feet")


def _add_hand(command: argparse.ArgumentParser) -> None:
    command.add_argument("--left-handed", action="store_true", help="for knitting from left to right, in the text")


def _add_folder(command: argparse.ArgumentParser) -> None:
    command.add_argument("--data", type=Path, metavar="DIR", help="the folder of the pairs (default: the usual one)")


def _add_data(command: argparse.ArgumentParser) -> None:
    _add_folder(command)
    command.add_argument(
        "--database", metavar="URL", help="keep them in a PostgreSQL database instead (default: TAPELINE_DATABASE)"
    )


def _add_upkeep(commands: Any) -> None:
    backup = commands.add_parser("backup", help="write all that is kept into a new file, also while it is served")
    backup.add_argument("file", type=Path, metavar="FILE", help="the file to make")
    restore = commands.add_parser("restore", help="bring a backup back; the server must be stopped")
    restore.add_argument("file", type=Path, metavar="FILE", help="the backup")
    doctor = commands.add_parser("doctor", help="say whether all is well with what is kept")
    purge = commands.add_parser("purge", help="delete pairs and designs that nobody has touched for long")
    purge.add_argument("--untouched-for", required=True, metavar="TIME", help="how long: 90d, 18m or 2y, for example")
    purge.add_argument("--dry-run", action="store_true", help="only say how many there are")
    lead = commands.add_parser("lead", help="make a new link for the leader of a design who has lost hers")
    lead.add_argument("link", metavar="LINK", help="the design's link for followers, or its address")
    runtime = commands.add_parser("runtime", help="fetch what lets phones calculate gauge checks without network")
    move = commands.add_parser("move", help="move all that is kept from the file into an empty PostgreSQL database")
    move.add_argument("--to", required=True, metavar="URL", help="the address of the database")
    for command in (runtime, move):
        _add_folder(command)
    for command in (backup, restore, doctor, purge, lead):
        _add_data(command)


def _add_others(commands: Any) -> None:
    deploying = commands.add_parser("deploy", help="print a file for a server with a name on the internet")
    deploying.add_argument("file", choices=list(FILES), help="a proxy that speaks https, a service, or a container")
    deploying.add_argument("name", metavar="NAME", help="the name of the server, like socks.example")
    deploying.add_argument("--port", type=int, default=DEFAULT_PORT, help="port between proxy and server")
    deploying.add_argument("--database", metavar="URL", help="for two servers on this PostgreSQL database")

    capacity_of = commands.add_parser("capacity", help="print what disk and processors so many knitters need")
    capacity_of.add_argument("knitters", type=int, metavar="N", help="how many knitters")

    simulate = commands.add_parser("simulate", help="knit socks in numbers to see what checking is worth")
    simulate.add_argument("--knitters", type=int, default=100, metavar="N", help="how many of each kind (default: 100)")
    simulate.add_argument("--seed", type=int, default=1, metavar="S", help="another seed, other knitters (default: 1)")


def _add_serve(commands: Any) -> None:
    serve = commands.add_parser("serve", help="serve the pages to the browsers of this network")
    serve.add_argument("--host", default="0.0.0.0", help="address to listen on (default: all of this computer)")
    serve.add_argument("--port", type=int, default=DEFAULT_PORT, help=f"port to listen on (default: {DEFAULT_PORT})")
    _add_data(serve)
    serve.add_argument("--local", action="store_true", help="for this computer only; no phone gets in")
    serve.add_argument(
        "--https", action="store_true", help="also over https, for the phones of a house; each trusts it once"
    )
    serve.add_argument(
        "--https-port", type=int, default=DEFAULT_PORT + 1, help=f"its port (default: {DEFAULT_PORT + 1})"
    )
    serve.add_argument("--log", action="store_true", help="a line of JSON on the standard error for each request")
    serve.add_argument(
        "--metrics-port", type=int, metavar="N", help="counts of requests for Prometheus, for this computer only"
    )
    serve.add_argument("--public-url", metavar="URL", help="what QR codes begin with, where that is another address")


def _add_plan(commands: Any) -> None:
    plan = commands.add_parser("plan", help="print the plan for a request")
    plan.add_argument("request", metavar="REQUEST.json", help="the plan request; - for the standard input")
    plan.add_argument("--format", choices=["text", "json"], default="text")
    plan.add_argument("--unit", choices=["cm", "in"], default="cm", help="for lengths in the text")
    which = "which of the pair; by default the first, and as text both where the feet differ"
    plan.add_argument("--sock", type=int, choices=[1, 2], help=which)
    _add_hand(plan)


def _add_pattern(commands: Any) -> None:
    pattern = commands.add_parser("pattern", help="print the written pattern, for one foot or graded for several")
    pattern.add_argument(
        "request", metavar="REQUEST.json", help="a request, with or without foot; - for standard input"
    )
    pattern.add_argument("--format", choices=list(PATTERNS), default="text")
    _add_sizes(pattern)
    pattern.add_argument("--gauge", metavar="N", help="stitches over 10 cm or 4 in, or like 30x42, for all sizes")
    _add_hand(pattern)


def _add_grid(commands: Any) -> None:
    grid = commands.add_parser("grid", help="print a design's stitch counts, sizes and yarn by foot and gauge")
    grid.add_argument(
        "design", metavar="DESIGN.json", help="a request, with or without foot and gauge; - for the standard input"
    )
    grid.add_argument("--format", choices=list(TABLES), default="markdown")
    _add_sizes(grid)
    grid.add_argument(
        "--gauges",
        nargs="+",
        action=_Listed,
        default=[],
        metavar="N",
        help="stitches over 10 cm or 4 in, or like 30x42",
    )


def _add_recalc(commands: Any) -> None:
    recalc = commands.add_parser("recalc", help="calculate the rest of a sock from a gauge check")
    recalc.add_argument("plan", metavar="PLAN.json", help="the plan document; - for the standard input")
    recalc.add_argument("--sock", type=int, choices=[1, 2], default=1)
    recalc.add_argument("--round", type=int, required=True, help="rounds of the sock that are done")
    spots = "a number for each spot, or one for all that was counted"
    recalc.add_argument("--stitches", type=_number, nargs="+", metavar="N", help=f"stitches over that length: {spots}")
    recalc.add_argument("--rounds", type=_number, nargs="+", metavar="N", help=f"rounds over that length: {spots}")
    recalc.add_argument("--over", type=_number, default=10, metavar="CM", help="the length counted over (default: 10)")
    recalc.add_argument("--format", choices=["text", "json"], default="text")
    recalc.add_argument("--unit", choices=["cm", "in"], default="cm", help="for --format text (default: cm)")


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(prog="companion", description="Plan socks from a measured foot and knit them round by round.")
    parser.add_argument("--version", nargs=0, action=_Version, help="say which version this is")
    parser.add_argument(
        "--completion",
        nargs=0,
        action=_Completion,
        help='let bash or zsh complete commands: eval "$(companion --completion)"',
    )
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    for add in (_add_serve, _add_upkeep, _add_plan, _add_pattern, _add_grid, _add_recalc, _add_others):
        add(commands)
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
        from .serve import serve  # noqa: PLC0415

        return serve(arguments)
    try:
        printing = {**PRINTING, "deploy": deploy, "capacity": capacity}
        if arguments.command not in printing:
            # The file and its tables concern no other command.
            from .upkeep import upkeep  # noqa: PLC0415

            return upkeep(arguments)
        return 0 if say(printing[arguments.command](arguments)) else FAILED
    except KeyboardInterrupt:
        print("\nStopped.", file=sys.stderr)
        return INTERRUPTED
    except FaultyInputError as error:
        for line in error.lines:
            print(line, file=sys.stderr)
        return FAULTY
