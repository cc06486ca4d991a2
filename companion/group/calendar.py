"""Dates as a calendar file that any calendar program takes in (iCalendar, RFC 5545). Pure: the present is passed in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

MEDIA_TYPE = "text/calendar; charset=utf-8"

LINE_OCTETS = 75
"""Octets in a line without its end; longer ones are folded (RFC 5545, 3.1)."""


@dataclass(frozen=True)
class Event:
    """Something on a day, or at a moment that knows its time zone.

    `uid` is the same whenever this event is written again, so that a calendar moves it instead of doubling it.
    """

    uid: str
    name: str
    when: date
    about: str = ""
    address: str = ""


def _text(words: str) -> str:
    """A value of type TEXT (RFC 5545, 3.3.11): signs with a meaning escaped, without control characters."""
    lines = words.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    plain = ["".join(each for each in line if each.isprintable() or each == "\t") for line in lines]
    escaped = (line.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,") for line in plain)
    return "\\n".join(escaped)


def _moment(when: datetime) -> str:
    """A date with UTC time (RFC 5545, 3.3.5, form 2)."""
    if when.tzinfo is None:
        raise ValueError(f"{when} has no time zone; a calendar elsewhere would show another moment")
    return f"{when.astimezone(UTC):%Y%m%dT%H%M%SZ}"


def _time(when: date) -> Iterator[str]:
    if isinstance(when, datetime):
        yield f"DTSTART:{_moment(when)}"
    else:
        yield f"DTSTART;VALUE=DATE:{when:%Y%m%d}"
        yield f"DTEND;VALUE=DATE:{when + timedelta(days=1):%Y%m%d}"


def _lines(name: str, events: Iterable[Event], stamp: datetime) -> Iterator[str]:
    yield from ("BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Tapeline//Stages of a sock//EN", f"NAME:{_text(name)}")
    # How often a calendar that follows the address is to look again (RFC 7986, 5.7).
    yield "REFRESH-INTERVAL;VALUE=DURATION:PT6H"
    for event in events:
        yield from ("BEGIN:VEVENT", f"UID:{_text(event.uid)}", f"DTSTAMP:{_moment(stamp)}")
        yield from _time(event.when)
        yield f"SUMMARY:{_text(event.name)}"
        if event.about:
            yield f"DESCRIPTION:{_text(event.about)}"
        if event.address:
            yield f"URL:{event.address}"
        yield from ("TRANSP:TRANSPARENT", "END:VEVENT")
    yield "END:VCALENDAR"


def _folded(line: str) -> Iterator[str]:
    """A line in pieces of at most 75 octets, each but the first begun with a space, no character taken apart."""
    piece, octets = "", 0
    for each in line:
        size = len(each.encode())
        if octets + size > LINE_OCTETS:
            yield piece
            piece, octets = " ", 1
        piece, octets = piece + each, octets + size
    yield piece


def calendar_file(name: str, events: Iterable[Event], stamp: datetime) -> str:
    """The calendar file of these events, made at the moment `stamp`; to be sent and kept as UTF-8.

    Days are events that last all day and block nothing. Raises ValueError for a moment without a time zone.
    """
    return "".join(f"{piece}\r\n" for line in _lines(name, events, stamp) for piece in _folded(line))
