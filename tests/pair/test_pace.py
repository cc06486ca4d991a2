"""The pace of the hands from the times of the counts, by the rule of the knit page."""

from __future__ import annotations

from datetime import timedelta

import pytest

from companion.pair.logbook import Entry, Sock
from companion.pair.pace import seconds_per_stitch

from ..conftest import NOON, entry

STITCHES: dict[Sock, list[int]] = {1: [60] * 300, 2: [60] * 300}


def counts(*gaps: float, kind: str = "count") -> list[Entry]:
    """Counts with so many seconds before each, the first at noon."""
    found, moment = [], NOON
    for number, gap in enumerate((0.0, *gaps), start=1):
        moment += timedelta(seconds=gap)
        at = moment.isoformat().replace("+00:00", "Z")
        found.append(Entry.model_validate(entry(number, kind=kind, at=at)))
    return found


@pytest.mark.parametrize(
    ("gaps", "pace"),
    [
        ((), None),
        ((120,), 2.0),
        ((120, 90, 180), 2.0),
        ((120, 5000, 120), 2.0),  # a break in between
        ((120, 1, 1, 120), 2.0),  # rounds caught up with
        ((60,) * 150 + (120,) * 101, 2.0),  # of the recent 200 more than half
    ],
)
def test_the_pace_is_the_middle_one_of_the_recent_rounds(gaps: tuple[float, ...], pace: float | None) -> None:
    assert seconds_per_stitch(counts(*gaps), STITCHES) == pace


def test_steps_back_tell_no_pace() -> None:
    assert seconds_per_stitch(counts(120, 120, kind="go"), STITCHES) is None
