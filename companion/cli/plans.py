"""What each command but `serve` prints, and the documents that it reads.

Each raises FaultyInputError where what was given cannot be used.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from ..planning import (
    CannotKnitError,
    Check,
    Fault,
    Plan,
    PlanRequest,
    make_plan,
    pattern_of,
    read_check,
    read_plan,
    read_request,
    recalculate,
    written_pattern,
)
from ..planning.construction.design_sections import notes_by_section
from ..planning.fabric.second_sock import as_second_sock
from ..planning.gauge.decision import SPOTS_BELIEVED
from ..planning.pattern.left_handed import left_handed
from ..planning.pattern.pattern import Size, size_name
from ..planning.pattern.render import as_markdown_text, as_text
from ..planning.pattern.size_grid import grid_of, table_of
from ..planning.pattern.tables import as_csv, as_html, as_markdown
from ..planning.plan.design import OWN, USUAL_FOOT, USUAL_GAUGE, Design, read_design, request_for
from ..planning.recalculation.answer import Answer, answer_of, gauge_shown
from ..planning.recalculation.fabric_to_count import refuse_more_than_knitted
from ..planning.recalculation.recalculate import Recalculation
from ..planning.request.construction import Construction
from ..planning.request.foot import Foot
from ..planning.request.size_range import CIRCUMFERENCES, GAUGES, MOST_SIZES, gauges_round, read_feet, read_gauges
from ..planning.units import Unit, in_one_unit
from ..strict_json import UnsoundJSONError, read_json
from .entry_names import ENTRY_NAMES, NAMES_OF_DESIGN, described

LONGEST_DOCUMENT = 16 * 1024 * 1024
"""Bytes; the plan of the longest sock is a hundredth of that."""

MOST_KNITTERS = 100_000
"""Of a kind, for simulations; that many take hours."""

BAR = 40
"""Width of a progress bar."""


class FaultyInputError(Exception):
    """What was given cannot be used; one line for each reason."""

    def __init__(self, lines: Sequence[str]) -> None:
        super().__init__(*lines)
        self.lines = lines


def _shown(name: str) -> str:
    """A file as complaints name it."""
    return "standard input" if name == "-" else name


def _document(name: str) -> Any:
    """The JSON in a file, or in the standard input for "-"; of a saved design, the design."""
    shown = _shown(name)
    try:
        if name == "-":
            if sys.stdin is None:
                raise OSError("it is closed")
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
        found = read_json(data)
    except UnsoundJSONError as error:
        raise FaultyInputError([f"{shown}: {error}"]) from error
    # A design that a leader has saved lies in its file beside its photos.
    return found["design"] if isinstance(found, dict) and {"format", "design"} <= found.keys() else found


def _sound(value: Any, faults: Sequence[Fault], source: str, names: Mapping[str, str] = ENTRY_NAMES) -> Any:
    if value is None:
        raise FaultyInputError([f"{_shown(source)}: {described(fault, names)}" for fault in faults])
    return value


def _plan(arguments: argparse.Namespace) -> str:
    request = _sound(*read_request(_document(arguments.request)), arguments.request)
    if arguments.format == "json":
        return _of_sock(request, arguments.sock or 1, arguments.request).model_dump_json(indent=2)
    socks = [arguments.sock] if arguments.sock or not request.two_feet else [1, 2]
    plans = [_of_sock(request, sock or 1, arguments.request) for sock in socks]
    if request.two_feet:
        plans = [
            plan.model_copy(update={"title": f"{plan.title}, sock {sock}"})
            for sock, plan in zip(socks, plans, strict=True)
        ]
    written = [written_pattern(plan, arguments.unit) for plan in plans]
    return "\n".join(map(left_handed, written) if arguments.left_handed else written).rstrip("\n")


def _of_sock(request: PlanRequest, sock: int, source: str) -> Plan:
    """The plan of a sock (1 or 2): the second for its own foot, and in its own colours."""
    if sock == 1:
        return _planned(request, source)
    return as_second_sock(_planned(request.for_the_other_foot() if request.two_feet else request, source))


def _planned(request: PlanRequest, source: str) -> Plan:
    try:
        return make_plan(request)
    except CannotKnitError as error:
        raise FaultyInputError([f"{_shown(source)}: {described(error.fault)}"]) from error


def _pattern(arguments: argparse.Namespace) -> str:
    """The pattern of a request, or of a design on feet and at a gauge that the options name."""
    name, unit = arguments.request, arguments.unit
    data, design = _one_construction(_document(name), arguments.construction, name)
    feet = _option(read_feet(arguments.circumferences, arguments.lengths, unit, MOST_SIZES))
    gauges = _option(read_gauges(() if arguments.gauge is None else (arguments.gauge,), unit), "gauge")
    if isinstance(data, dict):
        data |= {"foot": feet[0].model_dump()} if feet else {}
        data |= {"gauge": gauges[0].model_dump()} if gauges else {}
    request, faults = read_request(data)
    if request is None:
        missing = BODY_OPTIONS.keys() - set(data) if isinstance(data, dict) else set()
        said = [BODY_OPTIONS[fault.where] if fault.where in missing else described(fault) for fault in faults]
        raise FaultyInputError([f"{_shown(name)}: {line}" for line in said])
    plans = [_planned(wanted, name) for wanted in _on_each(request, feet)]
    notes = {key: note for plan in plans if design for key, note in notes_by_section(design, plan).items()}
    two_feet = plans[0].request.two_feet and not feet
    socks = ["sock 1", "sock 2"] if two_feet else [size_name(plan, unit) for plan in plans]
    pattern = pattern_of([Size(called, plan) for called, plan in zip(socks, plans, strict=True)], unit, notes)
    written = PATTERNS[arguments.format](pattern)
    return (left_handed(written) if arguments.left_handed else written).rstrip("\n")


def _on_each(request: PlanRequest, feet: Sequence[Foot]) -> list[PlanRequest]:
    """The request for each of the feet; without any for its own, both of them where they differ."""
    if feet:
        return [PlanRequest.model_validate({**dict(request), "foot": foot, "other_foot": {}}) for foot in feet]
    return [request, request.for_the_other_foot()] if request.two_feet else [request]


BODY_OPTIONS = {
    "foot": "it has no foot; give one or several by --circumferences, like --circumferences 22 24",
    "gauge": "it has no gauge; give it by --gauge, like --gauge 30 or --gauge 30x42",
}
"""What a design leaves out, and which options put it in."""

PATTERNS = {"text": as_text, "markdown": as_markdown_text}
"""What writes a pattern, by the format asked for."""


def _one_construction(data: Any, number: int, source: str) -> tuple[Any, Design | None]:
    """A design as the data of a request for the construction with this number, from 1, and the design; else the data.

    A design is recognised by the entries that no request has.
    """
    allowed: tuple[Construction, ...] = ()
    design = None
    if isinstance(data, dict) and not OWN.isdisjoint(data):
        body = {entry: data[entry] for entry in ("foot", "other_foot", "gauge") if entry in data}
        design = _sound(
            *read_design({entry: data[entry] for entry in data if entry not in body}), source, NAMES_OF_DESIGN
        )
        allowed = design.constructions
    if not 1 <= number <= max(1, len(allowed)):
        named = [f"{place} ({one.direction}, {one.heel}, {one.toe})" for place, one in enumerate(allowed, start=1)]
        raise FaultyInputError([f"--construction: {number} given; allowed: {', '.join(named) or '1'}"])
    if design is None:
        return data, None
    wanted = request_for(design, USUAL_FOOT, USUAL_GAUGE, allowed[number - 1])
    return {**wanted.model_dump(mode="json", exclude={"foot", "other_foot", "gauge"}), **body}, design


def _design(name: str, construction: int) -> tuple[PlanRequest, bool]:
    """A request from a file that may leave out foot and gauge, and whether it has a gauge of its own."""
    data, _ = _one_construction(_document(name), construction, name)
    if not isinstance(data, dict):
        return _sound(*read_request(data), name), False
    stand_in = {"foot": USUAL_FOOT.model_dump(), "gauge": USUAL_GAUGE.model_dump()}
    return _sound(*read_request({**stand_in, **data}), name), "gauge" in data


def _option(read: tuple[Any, Sequence[Fault]], name: str = "") -> Any:
    """What was read from options; the faults are named by them, or by this `name`."""
    found, faults = read
    if faults:
        raise FaultyInputError([f"--{replace(fault, where=name or fault.where)}" for fault in faults])
    return found


def _grid(arguments: argparse.Namespace) -> str:
    design, has_gauge = _design(arguments.design, arguments.construction)
    unit = arguments.unit
    feet = _option(read_feet(arguments.circumferences or CIRCUMFERENCES[unit], arguments.lengths, unit))
    if has_gauge and not arguments.gauges:
        gauges = gauges_round(design.gauge)
    else:
        gauges = _option(read_gauges(arguments.gauges or GAUGES, unit))
    return TABLES[arguments.format](table_of(grid_of(design, feet, gauges), unit)).rstrip("\r\n")


TABLES = {"markdown": as_markdown, "csv": as_csv, "html": as_html}
"""What writes a grid, by the format asked for."""


def _check(arguments: argparse.Namespace) -> Check:
    counted = {
        what: [
            {"count": count, "over_cm": arguments.over}
            for count in counts * (SPOTS_BELIEVED if len(counts) == 1 else 1)
        ]
        for what, counts in (("stitches", arguments.stitches or []), ("rounds", arguments.rounds or []))
    }
    check, faults = read_check(counted)
    if check is None:
        options = [
            replace(fault, where="over" if fault.where.endswith("over_cm") else fault.where.partition(".")[0])
            for fault in faults
        ]
        said = [f"--{fault}" if fault.where else fault.message for fault in options]
        raise FaultyInputError(list(dict.fromkeys(said)))
    return check


def _recalc(arguments: argparse.Namespace) -> str:
    document = _document(arguments.plan)
    if isinstance(document, dict) and "sections" not in document and not BODY_OPTIONS.keys().isdisjoint(document):
        name = _shown(arguments.plan)
        raise FaultyInputError(
            [f"{name}: this is a request; make a plan of it first: companion plan {name} --format json > plan.json"]
        )
    plan: Plan = _sound(*read_plan(document), arguments.plan)
    try:
        check = _check(arguments)
        if arguments.round > 0:  # before the cast-on a swatch was counted
            refuse_more_than_knitted(check, arguments.round)
        found = recalculate(plan, arguments.round, [check])
    except CannotKnitError as error:
        raise FaultyInputError([f"--{error}" if error.fault.where else str(error)]) from error
    if arguments.format == "json":
        return json.dumps(_as_document(found, arguments.sock, arguments.round), indent=2, ensure_ascii=False)
    return "\n".join(_in_words(found, plan, arguments)).rstrip("\n")


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


def _in_words(found: Recalculation, plan: Plan, arguments: argparse.Namespace) -> list[str]:
    """The answer as the screen has it: verdict, numbers, the way advised with its changes, the others a line each."""
    unit = arguments.unit
    answer = answer_of(found, plan, arguments.round, unit)
    section = next(one.title.lower() for one in plan.sections if one.key == found.section)
    lines = [f"Sock {arguments.sock}, after round {arguments.round} ({section})", answer.verdict, answer.reason]
    if way := answer.recommended:
        lines += ["", f"{way.option.title} (recommended)", *(f"  {line}" for line in way.lines)]
        lines += [f"  {change.what}: {change.before} → {change.after}" for change in way.option.changes]
        lines += [f"  {way.option.why}"]
    lines += ["", *_others(answer)]
    lines += ["", *(f"Estimated, not counted: {estimate}." for estimate in _not_counted(found, unit))]
    return [in_one_unit(line, unit) for line in lines]


def _others(answer: Answer) -> list[str]:
    """The ways beside the recommended one, a line each; what comes where there is nothing to choose."""
    if not answer.recommended and len(answer.others) == 1:
        return [f"As it is: {answer.others[0].sizes}"]
    ways = [f"  {way.option.title}: {' '.join(way.lines)}" for way in answer.others]
    return ["Other ways" if answer.recommended else "Ways to go on", *ways]


def _not_counted(found: Recalculation, unit: Unit) -> Iterator[str]:
    """What of the gauge rests on no count."""
    over = "10 cm" if unit == "cm" else "4 in"
    for what, planned in found.planned.both():
        estimate = found.gauges.stitches if what == "stitches" else found.gauges.rounds
        if not estimate.counted:
            yield f"{what}, {gauge_shown(planned, unit)} over {over} as planned"


def _simulate(arguments: argparse.Namespace) -> str:
    # Only simulating needs worker processes, which no other command should pay for.
    from ..simulation.run import outcomes  # noqa: PLC0415
    from ..simulation.table import table  # noqa: PLC0415

    if not 1 <= arguments.knitters <= MOST_KNITTERS:
        raise FaultyInputError([f"--knitters: {arguments.knitters} given; allowed: 1 to {MOST_KNITTERS}"])

    show_progress = _bar if sys.stderr.isatty() else _tenths
    return table(outcomes(arguments.knitters, arguments.seed, lambda done: show_progress(done, arguments.knitters)))


def _bar(done: int, of: int) -> None:
    """A progress bar, drawn over itself."""
    end = "\n" if done == of else ""
    print(f"\r[{'#' * (done * BAR // of):<{BAR}}] {done} of {of}", end=end, file=sys.stderr, flush=True)


def _tenths(done: int, of: int) -> None:
    """A line at the start and each tenth of the way: in a file a bar drawn over itself is one endless line."""
    if done == 1 or done * 10 // of > (done - 1) * 10 // of:
        print(f"{done} of {of}", file=sys.stderr, flush=True)


PRINTING: Mapping[str, Callable[[argparse.Namespace], str]] = {
    "plan": _plan,
    "recalc": _recalc,
    "grid": _grid,
    "pattern": _pattern,
    "simulate": _simulate,
}
"""What a command prints for the options given, by its name."""
