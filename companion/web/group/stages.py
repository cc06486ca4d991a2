"""How far it is to a stage of a design: rounds left, and rounds a day until its day is over."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, tzinfo
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from ...pair.logbook import Sock
from ...planning.construction.design_sections import rounds_until
from ...planning.plan.design import Design, Stage


def zone_of(name: str) -> tzinfo:
    """A time zone by its IANA name; UTC where this computer does not know it."""
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return UTC


def day_at(moment: str, zone: str) -> date:
    """The day that it is in a time zone at a moment (ISO 8601 with its offset)."""
    return datetime.fromisoformat(moment).astimezone(zone_of(zone)).date()


@dataclass(frozen=True)
class Pace:
    """A stage from where one sock is: rounds `left`, and the `days` left to knit them, today among them."""

    stage: Stage
    left: int
    days: int

    @property
    def a_day(self) -> int:
        """Rounds to knit each day."""
        return math.ceil(self.left / max(1, self.days))

    @property
    def words(self) -> str:
        """The same in a line."""
        if not self.left:
            return "done"
        rounds = f"{self.left} round{'s' if self.left != 1 else ''} left"
        if not self.days:
            return f"{rounds}, and the day is over"
        return f"{rounds}, {self.a_day} a day" if self.days > 1 else f"{rounds}, due today"


def paces(
    design: Design, ends: Mapping[Sock, Mapping[str, int]], done: Mapping[Sock, int], today: date
) -> Iterator[Pace]:
    """Every stage in the order of its day. `ends` are where each sock's sections end, `done` its rounds done."""
    for stage in sorted(design.stages, key=lambda one: one.by):
        left = max(0, rounds_until(ends[stage.sock], stage.until) - done[stage.sock])
        yield Pace(stage, left, max(0, (stage.by - today).days + 1))
