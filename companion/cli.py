"""The `companion` command: serve the pages, print a plan, recalculate one."""

from __future__ import annotations

import argparse
import io
import json
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, NoReturn

from .output import say
from .planning.check import Check, read_check
from .planning.design import OWN, USUAL_FOOT, USUAL_GAUGE, Design, notes_by_section, read_design, request_for
from .planning.document import Plan
from .planning.faults import CannotKnitError, Fault
from .planning.grid import grid_of, table_of
from .planning.pattern import Size, pattern_of, size_name
from .planning.pattern_text import as_markdown_text, as_text
from .planning.planner import make_plan
from .planning.reading import read_plan
from .planning.recalculation import Recalculation, recalculate
from .planning.request import Construction, PlanRequest, read_request
from .planning.size_range import CIRCUMFERENCES, GAUGES, MOST_SIZES, foot_for, gauges_round, read_feet, read_gauges
from .planning.tables import as_csv, as_html, as_markdown
from .planning.units import both_units
from .planning.words import written_pattern
from .strict_json import UnsoundJSONError, read_json

FAULTY = 2
"""Exit code when what was given cannot be used; argparse has the same for its own complaints."""

LONGEST_DOCUMENT = 16 * 1024 * 1024
"""Bytes; the plan of the longest sock is a hundredth of that."""

DEFAULT_PORT = 8712

MOST_KNITTERS = 1_000_000
"""For simulations; that many take hours."""

BAR = 40
"""Width of a progress bar."""


class FaultyInputError(Exception):
    """What was given cannot be used; one line for each reason."""

    def __init__(self, lines: Sequence[str]) -> None:
        super().__init__(*lines)
        self.lines = lines


class _Parser(argparse.ArgumentParser):
    """Complains in one line."""

    def error(self, message: str) -> NoReturn:
        self.exit(FAULTY, f"{self.prog}: {message}; see {self.prog} --help\n")


def _shown(name: str) -> str:
    """A file as complaints name it."""
    return "standard input" if name == "-" else name


def _document(name: str) -> Any:
    """The JSON in a file, or in the standard input for "-"."""
    shown = _shown(name)
    try:
        if name == "-":
            data = sys.stdin.buffer.read(LONGEST_DOCUMENT + 1)
        else:
            with Path(name).open("rb") as file:
                data = file.read(LONGEST_DOCUMENT + 1)
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise FaultyInputError([f"{shown}: cannot be read: {reason}"]) from error
    if len(data) > LONGEST_DOCUMENT:
        raise FaultyInputError([f"{shown}: far longer than any document of a sock"])
    try:
        return read_json(data)
    except UnsoundJSONError as error:
        raise FaultyInputError([f"{shown}: {error}"]) from error


def _sound(value: Any, faults: Sequence[Fault], source: str) -> Any:
    if value is None:
        raise FaultyInputError([f"{_shown(source)}: {fault}" for fault in faults])
    return value


def _plan(arguments: argparse.Namespace) -> str:
    request = _sound(*read_request(_document(arguments.request)), arguments.request)
    plan = _planned(request, arguments.request)
    if arguments.format == "json":
        return plan.model_dump_json(indent=2)
    return written_pattern(plan, arguments.unit).rstrip("\n")


def _planned(request: PlanRequest, source: str) -> Plan:
    try:
        return make_plan(request)
    except CannotKnitError as error:
        raise FaultyInputError([f"{_shown(source)}: {error}"]) from error


def _pattern(arguments: argparse.Namespace) -> str:
    """The pattern of a request, or of a design on feet and at a gauge that the options name."""
    name, unit = arguments.request, arguments.unit
    data, design = _one_construction(_document(name), arguments.construction, name)
    feet = _option(read_feet(arguments.circumferences, arguments.lengths, unit, MOST_SIZES))
    gauges = _option(read_gauges([arguments.gauge] if arguments.gauge else [], unit))
    if isinstance(data, dict):
        data |= {"foot": feet[0].model_dump()} if feet else {}
        data |= {"gauge": gauges[0].model_dump()} if gauges else {}
    request: PlanRequest = _sound(*read_request(data), name)
    plans = [_planned(request.model_copy(update={"foot": foot}), name) for foot in feet or [request.foot]]
    notes = {key: note for plan in plans if design for key, note in notes_by_section(design, plan).items()}
    pattern = pattern_of([Size(size_name(plan, unit), plan) for plan in plans], unit, notes)
    return _PATTERNS[arguments.format](pattern).rstrip("\n")


_PATTERNS = {"text": as_text, "markdown": as_markdown_text}


def _one_construction(data: Any, number: int, source: str) -> tuple[Any, Design | None]:
    """A design as the data of a request for the construction with this number, from 1, and the design; else the data.

    A design is told by the entries that no request has.
    """
    allowed: tuple[Construction, ...] = ()
    design = None
    if isinstance(data, dict) and not OWN.isdisjoint(data):
        body = {entry: data[entry] for entry in ("foot", "gauge") if entry in data}
        design = _sound(*read_design({entry: data[entry] for entry in data if entry not in body}), source)
        allowed = design.constructions
    if not 1 <= number <= max(1, len(allowed)):
        named = [f"{place} ({one.direction}, {one.heel}, {one.toe})" for place, one in enumerate(allowed, start=1)]
        raise FaultyInputError([f"--construction: {number} given; allowed: {', '.join(named) or '1'}"])
    if design is None:
        return data, None
    wanted = request_for(design, USUAL_FOOT, USUAL_GAUGE, allowed[number - 1])
    return {**wanted.model_dump(mode="json", exclude={"foot", "gauge"}), **body}, design


def _design(name: str, construction: int) -> tuple[PlanRequest, bool]:
    """A request from a file that may leave out foot and gauge, and whether it has a gauge of its own."""
    data, _ = _one_construction(_document(name), construction, name)
    if not isinstance(data, dict):
        return _sound(*read_request(data), name), False
    stand_in = {"foot": foot_for(23).model_dump(), "gauge": {"stitches_per_10cm": 30}}
    return _sound(*read_request({**stand_in, **data}), name), "gauge" in data


def _option(read: tuple[Any, Sequence[Fault]]) -> Any:
    """What was read from options; the faults are named by them."""
    found, faults = read
    if faults:
        raise FaultyInputError([f"--{fault}" for fault in faults])
    return found


def _grid(arguments: argparse.Namespace) -> str:
    design, has_gauge = _design(arguments.design, arguments.construction)
    unit = arguments.unit
    feet = _option(read_feet(arguments.circumferences or CIRCUMFERENCES[unit], arguments.lengths, unit))
    if has_gauge and not arguments.gauges:
        gauges = gauges_round(design.gauge)
    else:
        gauges = _option(read_gauges(arguments.gauges or GAUGES, unit))
    return _TABLES[arguments.format](table_of(grid_of(design, feet, gauges), unit)).rstrip("\r\n")


_TABLES = {"markdown": as_markdown, "csv": as_csv, "html": as_html}


def _check(arguments: argparse.Namespace) -> Check:
    counted = {
        what: [{"count": count, "over_cm": 10}] if count is not None else []
        for what, count in (("stitches", arguments.stitches), ("rounds", arguments.rounds))
    }
    check, faults = read_check(counted)
    if check is None:
        options = [Fault(f"--{fault.where.partition('.')[0]}" if fault.where else "", fault.given, fault.message)
                   for fault in faults]  # fmt: skip
        raise FaultyInputError([str(fault) for fault in options])
    return check


def _recalc(arguments: argparse.Namespace) -> str:
    plan: Plan = _sound(*read_plan(_document(arguments.plan)), arguments.plan)
    try:
        found = recalculate(plan, arguments.round, [_check(arguments)])
    except CannotKnitError as error:
        raise FaultyInputError([f"--{error}" if error.fault.where else str(error)]) from error
    if arguments.format == "json":
        return json.dumps(_as_document(found, arguments.sock, arguments.round), indent=2, ensure_ascii=False)
    return "\n".join(_in_words(found, arguments.sock, arguments.round))


def _as_document(found: Recalculation, sock: int, done: int) -> dict[str, Any]:
    best = found.recommended
    return {
        "schema": 1,
        "place": {"sock": sock, "section": found.section, "round": done},
        **found.model_dump(
            mode="json", include={"verdict", "why", "gauge", "gauges", "sure", "measure", "if_unchanged", "ranges"}
        ),
        "plan": best.plan.model_dump(mode="json"),
        "changes": [change.model_dump(mode="json") for change in best.changes],
        "options": [option.model_dump(mode="json", exclude={"plan"}) for option in found.options],
    }


def _in_words(found: Recalculation, sock: int, done: int) -> list[str]:
    gauge = found.gauge
    lines = [
        f"Sock {sock}, after round {done} ({found.section}): {found.verdict}.",
        found.why,
        f"Gauge: {gauge.stitches_per_10cm:.1f} stitches and {gauge.rounds_per_10cm:.1f} rounds over 10 cm.",
    ]
    for option in found.options:
        lines += ["", f"{option.title}{' (recommended)' if option.recommended else ''}", f"  {option.why}"]
        sizes = option.sizes
        lines.append(
            f"  Leg {both_units(sizes.leg_cm)}, foot {both_units(sizes.foot_circumference_cm)} round, "
            f"{both_units(sizes.foot_length_cm)} from heel to toe."
        )
        if option.rounds_ripped:
            lines.append(f"  Rip back {option.rounds_ripped} rounds, {option.stitches_ripped} stitches.")
        lines += [f"  {change.what}: {change.before} -> {change.after}" for change in option.changes]
    return lines


def _add_sizes(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--construction", type=int, default=1, metavar="N", help="which of those a design allows (default: the first)"
    )
    command.add_argument("--unit", choices=["cm", "in"], default="cm", help="for lengths, typed and printed")
    command.add_argument("--circumferences", nargs="+", default=[], metavar="N", help="round the ball of each foot")
    command.add_argument("--lengths", nargs="+", default=[], metavar="N", help="of the same feet")


def _simulate(arguments: argparse.Namespace) -> str:
    # Only simulating needs worker processes, which no other command should pay for.
    from .simulate import outcomes, table  # noqa: PLC0415

    if not 1 <= arguments.knitters <= MOST_KNITTERS:
        raise FaultyInputError([f"--knitters: {arguments.knitters} given; allowed: 1 to {MOST_KNITTERS}"])

    def told(done: int) -> None:
        part = done * BAR // arguments.knitters
        end = "\n" if done == arguments.knitters else ""
        bar = f"[{'#' * part:<{BAR}}] {done} of {arguments.knitters}"
        print(f"\r{bar}", end=end, file=sys.stderr, flush=True)

    return table(outcomes(arguments.knitters, arguments.seed, told))


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
    pattern.add_argument("--format", choices=list(_PATTERNS), default="text")
    _add_sizes(pattern)
    pattern.add_argument("--gauge", metavar="N", help="stitches over 10 cm or 4 in, or like 30x42, for all sizes")

    grid = commands.add_parser("grid", help="print a design's stitch counts, sizes and yarn by foot and gauge")
    grid.add_argument(
        "design", metavar="DESIGN.json", help="a request, with or without foot and gauge; - for the standard input"
    )
    grid.add_argument("--format", choices=list(_TABLES), default="markdown")
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


_PRINTING: dict[str, Callable[[argparse.Namespace], str]] = {
    "plan": _plan,
    "recalc": _recalc,
    "grid": _grid,
    "pattern": _pattern,
    "simulate": _simulate,
}


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
        say(_PRINTING[arguments.command](arguments))
    except FaultyInputError as error:
        for line in error.lines:
            print(line, file=sys.stderr)
        return FAULTY
    return 0
