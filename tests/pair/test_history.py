"""The logbook in words: sittings, remarks and changes under the days of the knitter's own zone."""

from __future__ import annotations

from typing import Any
from zoneinfo import ZoneInfo

import pytest

from companion.pair.history import Happening, history
from companion.pair.logbook import Entry

from ..conftest import entry


def made(number: int, at: str, **changes: Any) -> Entry:
    return Entry.model_validate(entry(number, at=f"2025-11-03T{at}Z", **changes))


def lines(*entries: Entry, changes: tuple[tuple[str, str], ...] = (), zone: str = "UTC") -> list[tuple[str, str, str]]:
    def line(one: Happening) -> tuple[str, str, str]:
        return f"{one.begun:%d %H:%M}", f"{one.ended:%H:%M}", one.text

    return [
        line(one)
        for day in history(entries, changes, "Sock {}, round {}".format, "cm", ZoneInfo(zone))
        for one in day.happenings
    ]


def test_counts_without_a_long_pause_are_one_sitting() -> None:
    sitting = [made(1, "19:30:00"), made(2, "19:40:00"), made(3, "19:41:00", kind="undo", round=1)]
    assert lines(made(4, "21:00:00", round=2), *sitting) == [
        ("03 19:30", "19:41", "Sock 1, round 1: 1 round counted"),
        ("03 21:00", "21:00", "Sock 1, round 2: 1 round counted"),
    ]


def test_socks_devices_days_and_jumps_part_sittings() -> None:
    other = "bbbbbbbb-0000-4000-8000-000000000001"
    found = lines(
        made(1, "23:30:00"), made(2, "23:50:00", sock=2, round=1), made(3, "23:51:00", device=other, sock=2, round=2),
        made(4, "23:52:00", kind="go", round=30, device=other), made(5, "23:53:00", round=31, device=other),
    )  # fmt: skip
    assert [text for _, _, text in found] == [
        "Sock 1, round 1: 1 round counted", "Sock 2, round 1: 1 round counted", "Sock 2, round 2: 1 round counted",
        "Sock 1, round 30: taken up here", "Sock 1, round 31: 1 round counted",
    ]  # fmt: skip
    assert len(lines(made(1, "23:30:00"), made(2, "23:40:00"), zone="UTC")) == 1
    # Nairobi keeps UTC+3 all year (IANA time zone database), so its midnight is at 21:00 UTC.
    assert len(lines(made(1, "20:50:00"), made(2, "21:05:00"), zone="Africa/Nairobi")) == 2


@pytest.mark.parametrize(
    ("kind", "data", "words"),
    [
        ("note", {"text": "Half a size up."}, "Note: Half a size up."),
        ("try-on", {"where": "heel", "feels": "loose"}, "Tried on: loose at the heel"),
        ("check", {"stitches": [{"count": 31.5, "over_cm": 10}]}, "Gauge counted: 31.5 stitches over 10 cm"),
        (
            "check",
            {"stitches": [{"count": 36, "over_cm": 10}], "in_pattern": True},
            "Gauge counted in the pattern: 36 stitches over 10 cm",
        ),
        ("weighing", {"grams": 41.5, "yarn": "B"}, "Yarn B weighs 41.5 g"),
        ("length", {"cm": 12.5, "from": "back of heel"}, "Measured: 12.5 cm from the back of the heel"),
        ("length", {"cm": 12.5, "from": "section"}, "Measured: 12.5 cm from where this part begins"),
        (
            "withdrawal",
            {"entry": "00000000-0000-4000-8000-000000000007"},
            "Left out again what was written down before",
        ),
    ],
)
def test_a_remark_is_shown_with_its_place(kind: str, data: dict[str, Any], words: str) -> None:
    [(_, _, text)] = lines(made(1, "10:00:00", kind=kind, round=12, data=data))
    assert text == f"Sock 1, round 12. {words}"


def test_of_what_was_taken_back_only_that_is_reported() -> None:
    note = made(1, "10:00:00", kind="note", data={"text": "Larch"})
    for told in (note, made(1, "10:00:00", kind="note")):
        found = lines(told, made(2, "11:00:00", kind="withdrawal", data={"entry": note.id}))
        assert [text for _, _, text in found] == ["Sock 1, round 2. Left out again what was written down before"]


def test_changes_of_the_plan_stand_between_the_counts() -> None:
    found = lines(made(1, "10:00:00"), made(2, "14:00:00"), changes=(("2025-11-03T12:00:00+00:00", "Fewer stitches"),))
    assert [text.partition(" ")[0] for _, _, text in found] == ["Sock", "The", "Sock"]
