"""The way to a stage of a design: rounds left, and rounds a day until its day is over."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, tzinfo
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from ..pair.logbook import Sock
from ..planning.construction.design_sections import rounds_until
from ..planning.plan.design import Design, Stage


def zone_of(name: str) -> tzinfo:
    """A time zone by its IANA name; UTC where this computer does not know it."""
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return UTC


def day_at(moment: str, zone: str) -> date:
    """The day that it is in a time zone at a moment (ISO 8601 with its offset)."""
    return datetime.fromisoformat(moment).astimezone(zone_of(zone)).date()


def begins(day: date, zone: str) -> str:
    """The moment in UTC at which a day begins in a time zone (ISO 8601)."""
    return datetime.combine(day, time.min, zone_of(zone)).astimezone(UTC).isoformat(timespec="seconds")


@dataclass(frozen=True)
class Pace:
    """A stage from where the socks are: rounds `left` of its own sock, those to knit of the `other` one before it is
    reached, and the `days` left to knit them, today among them."""

    stage: Stage
    left: int
    other: int
    days: int

    @property
    def a_day(self) -> int:
        """Rounds to knit each day."""
        return math.ceil((self.left + self.other) / max(1, self.days))

    @property
    def words(self) -> str:
        """The same in a line."""
        if not self.left:
            return "done"
        count = self.left + self.other
        rounds = f"{count} round{'s' if count != 1 else ''} left{' on both socks' if self.other else ''}"
        if not self.days:
            return f"{rounds}, and the day is over"
        return f"{rounds}, {self.a_day} a day" if self.days > 1 else f"{rounds}, due today"


def rounds_of_other(stage: Stage, ends: Mapping[str, int], *, two_at_a_time: bool) -> int:
    """How many rounds of the other sock are done when a stage is reached. `ends` are where that one's sections end.

    Two at a time both grow side by side; one after the other the second is cast on when the first is finished.
    """
    if two_at_a_time:
        return rounds_until(ends, stage.until)
    return max(ends.values(), default=0) if stage.sock == 2 else 0


def paces(
    design: Design,
    ends: Mapping[Sock, Mapping[str, int]],
    done: Mapping[Sock, int],
    today: date,
    *,
    two_at_a_time: bool = False,
) -> Iterator[Pace]:
    """Every stage in the order of its day. `ends` are where each sock's sections end, `done` its rounds done."""
    for stage in sorted(design.stages, key=lambda one: one.by):
        other: Sock = 2 if stage.sock == 1 else 1
        left = max(0, rounds_until(ends[stage.sock], stage.until) - done[stage.sock])
        before = rounds_of_other(stage, ends[other], two_at_a_time=two_at_a_time)
        yield Pace(stage, left, max(0, before - done[other]) if left else 0, max(0, (stage.by - today).days + 1))
