"""Calendar files are what RFC 5545 says, read by a library that shares nothing with the program."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import icalendar
import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.group.calendar import Event, calendar_file

STAMP = datetime(2026, 11, 3, 12, 0, tzinfo=UTC)

SIGNS = st.characters(codec="utf-8", exclude_categories=("C", "Z")) | st.sampled_from(" ,;:\\\n")
WORDS = st.lists(SIGNS, max_size=200).map("".join)
"""A text would be drawn from all of these signs alike, and hardly ever have one that is escaped."""

EVENTS = st.lists(
    st.builds(
        Event,
        uid=st.uuids().map(str),
        name=WORDS.map(str.strip).filter(bool),
        when=st.dates(date(2000, 1, 1), date(2100, 1, 1)),
        about=WORDS.map(str.strip),
        address=st.just("https://socks.example/design/abc,def?unit=in"),
    ),
    max_size=5,
)


def read(text: str) -> Any:
    """The one calendar in a file; a line that the parser could not read is an error."""
    calendar = icalendar.Calendar.from_ical(text)
    assert isinstance(calendar, icalendar.Calendar)
    assert not calendar.errors
    assert not [event for event in calendar.events if event.errors]
    return calendar


def name_of(calendar: Any) -> str:
    """The name, a TEXT by RFC 7986, 5.1. The library does not know it, and leaves it as it is written from 7.2 on."""
    written = calendar["NAME"].to_ical().decode()
    # RFC 5545, 3.3.11: what follows a backslash is meant itself, but for a new line.
    return re.sub(r"\\(.)", lambda escaped: "\n" if escaped[1] in "nN" else escaped[1], written)


@given(WORDS.map(str.strip), EVENTS)
def test_what_is_written_reads_back(name: str, events: list[Event]) -> None:
    calendar = read(calendar_file(name, events, STAMP))
    assert name_of(calendar) == name
    for found, event in zip(calendar.events, events, strict=True):
        assert str(found["UID"]) == event.uid
        assert str(found["SUMMARY"]) == event.name
        assert str(found.get("DESCRIPTION", "")) == event.about
        assert str(found["URL"]) == event.address
        assert found["DTSTART"].dt == event.when
        assert found["DTSTART"].params["VALUE"] == "DATE"
        assert found["DTEND"].dt == event.when + timedelta(days=1)
        assert found["DTSTAMP"].dt == STAMP


@given(WORDS.map(str.strip), EVENTS)
def test_lines_are_short_and_whole(name: str, events: list[Event]) -> None:
    # RFC 5545, 3.1: lines end in CRLF and have at most 75 octets without it; folding takes no character apart here.
    data = calendar_file(name, events, STAMP).encode()
    assert data.endswith(b"\r\n")
    for line in data.removesuffix(b"\r\n").split(b"\r\n"):
        assert len(line) <= 75
        assert b"\r" not in line
        assert b"\n" not in line
        line.decode()


def test_a_calendar_has_what_the_standard_demands() -> None:
    # RFC 5545, 3.6: PRODID and VERSION once; 3.6.1: UID and DTSTAMP in every event.
    calendar = read(calendar_file("Socks", [Event("leg@socks", "Leg done", date(2026, 12, 6))], STAMP))
    assert calendar["VERSION"] == "2.0"
    assert calendar["PRODID"]
    [event] = calendar.events
    assert set(event) >= {"UID", "DTSTAMP", "DTSTART"}
    assert "DESCRIPTION" not in event
    assert "URL" not in event


def test_the_same_event_written_again_is_the_same_but_for_its_stamp() -> None:
    event = Event("leg@socks", "Leg done", date(2026, 12, 6))
    early, late = (calendar_file("Socks", [event], STAMP + timedelta(days=days)) for days in (0, 1))
    assert early.replace("20261103T120000Z", "20261104T120000Z") == late


def test_a_moment_is_the_same_moment_everywhere() -> None:
    # Berlin is an hour ahead of UTC in winter and two in summer.
    berlin = ZoneInfo("Europe/Berlin")
    for when, written in (
        (datetime(2026, 12, 6, 18, 0, tzinfo=berlin), "DTSTART:20261206T170000Z"),
        (datetime(2026, 7, 6, 18, 0, tzinfo=berlin), "DTSTART:20260706T160000Z"),
    ):
        text = calendar_file("Socks", [Event("leg@socks", "Leg done", when)], STAMP)
        assert f"\r\n{written}\r\n" in text
        assert read(text).events[0]["DTSTART"].dt == when


def test_a_moment_without_a_time_zone_is_refused() -> None:
    with pytest.raises(ValueError, match="no time zone"):
        calendar_file("Socks", [Event("leg@socks", "Leg done", datetime(2026, 12, 6, 18, 0))], STAMP)


def test_words_cannot_begin_a_line_of_their_own() -> None:
    text = calendar_file("Socks\r\nX-A:1", [Event("a", "Leg\nEND:VEVENT\x07", date(2026, 12, 6))], STAMP)
    assert "SUMMARY:Leg\\nEND:VEVENT\r\n" in text
    assert "NAME:Socks\\nX-A:1\r\n" in text
    assert len(read(text).events) == 1
