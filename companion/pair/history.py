"""The logbook in words, day by day: what happened when, for people to read and to print. Pure."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta, tzinfo
from functools import cache
from itertools import groupby
from typing import Any

from ..planning.units import Unit, both_weights, in_one_unit, show_length
from .lengths import SINCE_WORDS
from .logbook import MOVES, SOCKS, Entry, Sock, left_out
from .state import PairState, SockPosition

Where = Callable[[Sock, int], str]
"""A sock with so many rounds done, in words: "Sock 1, leg, after round 12"."""

REST = timedelta(hours=1)
"""A longer pause between two counts parts one sitting from the next (ours)."""


@dataclass(frozen=True)
class Happening:
    """One line of the logbook page."""

    begun: datetime
    ended: datetime
    text: str
    remark: bool = False
    entry: str | None = None
    """The entry that it is, where it is one."""


@dataclass(frozen=True)
class Day:
    """A day with what happened on it, in order."""

    day: date
    happenings: Sequence[Happening]


def _rounds(number: int) -> str:
    return f"{number} round" if number == 1 else f"{number} rounds"


def _spots(data: Mapping[str, Any], unit: Unit) -> Iterator[str]:
    for what in ("stitches", "rounds"):
        for spot in data.get(what, ()):
            yield f"{spot['count']:g} {what} over {show_length(spot['over_cm'], unit)}"


def _remark(entry: Entry, where: Where, unit: Unit) -> str:
    return f"{where(entry.sock, entry.round)}. {_what_was_remarked(entry.kind, entry.data or {}, unit)}"


def _what_was_remarked(kind: str, data: dict[str, Any], unit: Unit) -> str:
    in_pattern = " in the pattern" if data.get("in_pattern") else ""
    words: Mapping[str, Callable[[], str]] = {
        "note": lambda: f"Note: {data['text']}",
        "try-on": lambda: f"Tried on: {data['feels']} at the {data['where']}",
        "check": lambda: f"Gauge counted{in_pattern}: {'; '.join(_spots(data, unit))}",
        "weighing": lambda: f"Yarn {data.get('yarn', 'A')} weighs {in_one_unit(both_weights(data['grams']), unit)}",
        "length": lambda: f"Measured: {show_length(data['cm'], unit)} from {SINCE_WORDS[data.get('from', 'cast-on')]}",
        "decision": lambda: "Decided to knit on as it is",
        "withdrawal": lambda: "Left out again what was written down before",
    }
    return words[kind]()


def _sittings(moves: Iterable[tuple[datetime, Entry]]) -> Iterable[list[tuple[datetime, Entry]]]:
    """Counts and steps back of one sock on one device and one day, without a long pause; a jump is by itself."""
    sitting: list[tuple[datetime, Entry]] = []
    for moment, entry in moves:
        if sitting:
            last_moment, last = sitting[-1]
            same = (last.sock, last.device) == (entry.sock, entry.device) and last_moment.date() == moment.date()
            if not same or "go" in (last.kind, entry.kind) or moment - last_moment > REST:
                yield sitting
                sitting = []
        sitting.append((moment, entry))
    if sitting:
        yield sitting


def _sitting(sitting: Sequence[tuple[datetime, Entry]], where: Where) -> Happening:
    (begun, first), (ended, last) = sitting[0], sitting[-1]
    counted = sum({"count": 1, "undo": -1}[entry.kind] for _, entry in sitting if entry.kind != "go")
    what = "taken up here" if first.kind == "go" else f"{_rounds(max(0, counted))} counted"
    return Happening(begun, ended, f"{where(last.sock, last.round)}: {what}")


def history(
    entries: Iterable[Entry], changes: Iterable[tuple[str, str]], where: Where, unit: Unit, zone: tzinfo | None = UTC
) -> list[Day]:
    """The days of a pair, with times as clocks in `zone` showed them; None is the zone of this device.

    `changes` are the accepted changes of the plan, each with its moment and what it was.
    """
    log = list(entries)
    out = left_out(log)
    timed = sorted(
        (
            (datetime.fromisoformat(entry.at).astimezone(zone), entry)
            for entry in log
            if entry.kind in MOVES or entry.id not in out
        ),
        key=lambda item: (item[0], *item[1].order()),
    )
    moves = [(moment, entry) for moment, entry in timed if entry.kind in MOVES]
    found = [_sitting(sitting, where) for sitting in _sittings(moves)]
    found += [
        Happening(moment, moment, _remark(entry, where, unit), remark=True, entry=str(entry.id))
        for moment, entry in timed
        if entry.kind not in MOVES
    ]
    for at, what in changes:
        moment = datetime.fromisoformat(at).astimezone(zone)
        found.append(Happening(moment, moment, f"The plan was changed. {what}", remark=True))
    found.sort(key=lambda one: one.begun)
    return [Day(day, list(lines)) for day, lines in groupby(found, key=lambda one: one.begun.date())]


def logbook_shown(
    pair: PairState, entries: Iterable[Entry], changes: Iterable[tuple[str, str]], zone: tzinfo | None
) -> dict[str, Any]:
    """What the page of a logbook says, of all of its entries."""

    @cache
    def where(sock: Sock, done: int) -> str:
        return SockPosition(sock, pair.plan(sock), done).behind()

    return {
        "title": pair.title,
        "days": history(entries, changes, where, pair.unit, zone),
        "places": [where(sock, pair.done[sock]) for sock in SOCKS],
    }
