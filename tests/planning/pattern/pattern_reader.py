"""An independent knitter of graded patterns: reads the bracket form for one size, and gives back every round of it.

Nothing here is shared with the program, so that a mistake in its writing cannot hide itself.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from tests.planning.pattern.laid_out import Kept, kept_in_pattern, laid_out
from tests.reader import read_zones

LABEL = re.compile(
    r"(?:(?P<side>RS|WS) )?(?P<noun>round|row)s? (?P<first>\d+|–)(?: to (?P<last>\d+|–))?",
    re.IGNORECASE,
)
VALUE = r"(?:\d+(?:\.\d+)?|–)"
BRACKET = re.compile(rf"(?P<first>{VALUE}) \((?P<others>{VALUE}(?:, {VALUE})*)\)")
INSTEP = re.compile(r"Instep: [^;.]+")
REPEATED = re.compile(r"work these (?P<rounds>two|\d+) (?:round|row)s (?P<times>\d+) times")
GROWING = re.compile(
    r"(?P<number>\d+)(?P<rest>[^\d,;\[\]]*?) and (?P<step>\d+) (?P<way>more|fewer) (?:each time|in each such round)"
)
CHART = re.compile(r"(?:chart (?:from )?row|pattern (?:from )?round) (?P<row>\d+)(?: on)?: (?P<rest>.*)")
COUNTED = re.compile(r"(?P<work>.*)\. Now (?P<stitches>\d+) stitches")
LAID = re.compile(
    r"(?:(?P<zone>[A-Z][a-z]+): )?(?P<work>.*?), (?:beginning with stitch (?P<stitch>\d+) of the chart"
    r"|(?P<turns>the yarns of the row in turn)|(?P<front>the chart as it lies on the front))"
)


@dataclass(frozen=True)
class Zone:
    """What is worked in a zone, each op in the yarn that is named with it.

    `stitch` of the chart is its first, `turns` says that the row's yarns take turns. `kept` is what is said where the
    pattern is not written out.
    """

    ops: tuple[str, ...]
    yarns: tuple[str | None, ...] = ()
    stitch: int | None = None
    turns: bool = False
    kept: Kept | None = None


@dataclass(frozen=True)
class ReadRound:
    """One round as the pattern tells it to one size: None for `zones` is plain knitting in the `yarn` named."""

    noun: str
    side: str
    zones: dict[str, Zone] | None
    row: int | None = None
    now: int | None = None
    yarn: str | None = None


@dataclass(frozen=True)
class Line:
    """One line, already read for one size."""

    noun: str
    side: str
    first: int
    last: int
    text: str


def pick(text: str, size: int, sizes: int) -> str:
    """The text for one of so many sizes: of each bracket the number that is this size's, or a dash."""

    def chosen(found: re.Match[str]) -> str:
        values = [found["first"], *found["others"].split(", ")]
        assert len(values) == sizes, text
        value: str = values[size]
        return value

    return BRACKET.sub(chosen, text)


def lines_for(lines: Sequence[tuple[str, str]], name: str, names: Sequence[str]) -> Iterator[Line]:
    """The lines (label, text) that are for the size of this name: those whose label has a number for it."""
    place, count = names.index(name), len(names)
    instep = ""
    for label, text in lines:
        found = LABEL.fullmatch(pick(label, place, count))
        assert found, label
        if found["first"] == "–":
            assert found["last"] in (None, "–"), label
            continue
        told = pick(text, place, count)
        assert "–" not in told, text
        told = told.replace("Instep as before", instep)
        instep = told_of_the_instep[0] if (told_of_the_instep := INSTEP.search(told)) else instep
        last = int(found["last"] or found["first"])
        yield Line(found["noun"].lower(), found["side"] or "", int(found["first"]), last, told)


def rounds_for(
    lines: Sequence[tuple[str, str]], name: str, names: Sequence[str], described: Sequence[tuple[str, ...]] = ()
) -> list[ReadRound]:
    """Every round of a section for one size, in order; fails where the numbers of the rounds do not follow.

    `described` are the rounds of the stitch pattern to which it refers.
    """
    rounds: list[ReadRound] = []
    told = list(lines_for(lines, name, names))
    while told:
        line = told.pop(0)
        assert line.first == len(rounds) + 1, line
        text, now = _counted(line.text)
        text, row = _charted(text)
        heading = REPEATED.fullmatch(text)
        if heading:
            period = 2 if heading["rounds"] == "two" else int(heading["rounds"])
            group: list[Line] = []
            while len(group) < period:
                each = told.pop(0)
                assert each.first == line.first + len(group)
                group += [each] * (each.last - each.first + 1)
            times = int(heading["times"])
        else:
            group, times = [replace(line, text=text)], line.last - line.first + 1
        for number in range(times):
            for place, each in enumerate(group):
                this_row = row + number * len(group) + place if row else None
                shown = described[(this_row - 1) % len(described)] if this_row and described else ()
                rounds.append(_read(each, number, this_row, shown))
        rounds[-1] = replace(rounds[-1], now=now)
        assert len(rounds) == line.last, line
    return rounds


def _counted(text: str) -> tuple[str, int | None]:
    found = COUNTED.fullmatch(text)
    return (found["work"], int(found["stitches"])) if found else (text, None)


def _charted(text: str) -> tuple[str, int | None]:
    found = CHART.fullmatch(text)
    return (found["rest"], int(found["row"])) if found else (text, None)


def _grown(text: str, times: int) -> str:
    def number(found: re.Match[str]) -> str:
        step = int(found["step"]) * (1 if found["way"] == "more" else -1)
        return f"{int(found['number']) + times * step}{found['rest']}"

    return GROWING.sub(number, text)


def _read(line: Line, times: int, row: int | None, shown: tuple[str, ...]) -> ReadRound:
    text = _grown(line.text, times)
    if plain := re.fullmatch(r"knit(?: in (?P<yarn>\S+))?", text):
        return ReadRound(line.noun, line.side, None, row, yarn=plain["yarn"])
    return ReadRound(line.noun, line.side, _zones(text, shown), row)


@lru_cache(maxsize=1024)
def _zones(text: str, shown: tuple[str, ...]) -> dict[str, Zone]:
    """The zones of a round, read once: most rounds of a sock have the same words, and many of its sizes too."""
    if (kept := kept_in_pattern(text)) is not None:
        return {"": Zone((), kept=kept)}
    zones = {}
    for part in (laid_out(text, shown) if shown else text).split("; "):
        laid = LAID.fullmatch(part)
        if laid:
            words = f"{laid['zone']}: {laid['work']}" if laid["zone"] else laid["work"]
            [zone] = read_zones(words)
            stitch = int(laid["stitch"]) if laid["stitch"] else None
            zones[zone["zone"]] = _zone(zone["ops"], stitch, turns=bool(laid["turns"]))
        else:
            [zone] = read_zones(part)
            zones[zone["zone"]] = _zone(zone["ops"])
    return zones


def _zone(ops: Sequence[dict[str, object]], stitch: int | None = None, *, turns: bool = False) -> Zone:
    worked = list(_flat(ops))
    return Zone(tuple(op for op, _ in worked), tuple(yarn for _, yarn in worked), stitch, turns)


def _flat(ops: Sequence[dict[str, object]]) -> Iterator[tuple[str, str | None]]:
    for op in ops:
        inside, times = op.get("ops"), op.get("times", op.get("n", 1))
        assert isinstance(times, int)
        for _ in range(times):
            if isinstance(inside, list):
                yield from _flat(inside)
            else:
                yarn = op.get("yarn")
                yield str(op["op"]), str(yarn) if yarn else None
