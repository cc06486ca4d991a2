"""Who of a group stands where, in which order the leader looks at them, and who needs her. Pure: the day is given."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

from ...drawings.group_sock import Mark
from ...group.stages import day_at, zone_of
from ...pair.progress import STEPS, PlaceOnSock, bit
from ...planning.plan.design import Design, Stage
from ...store.seats import Crowd, Due, Member

QUIET_DAYS = 7
"""Days without a round after which somebody may be stuck, where a stage is due (ours)."""

SOON_DAYS = 7
"""Days before a stage's day from which on it is due (ours)."""

NAMED = 5
"""Followers of one mark who are named, the others are counted (ours)."""

ORDERS: Mapping[str, str] = {
    "place": "along the sock",
    "name": "by name",
    "last": "by the last round",
    "joined": "as they joined",
}
"""The orders of the list, by their words in the address."""

NEEDS: Mapping[str, str] = {
    "behind": "behind",
    "stuck": "perhaps stuck",
    "gauge": "with a gauge to decide on",
}
"""What of a group a leader may want to see alone.

Behind: a stage's day is over, and she has not reached it. Stuck: a stage is due, and she has not knitted for a week.
"""


@dataclass(frozen=True)
class Roster:
    """The stages of a design as they stand on a `day` in its time zone."""

    design: Design
    day: date

    @property
    def due(self) -> Due:
        """What counts as late today."""
        first_day = datetime.combine(self.day - timedelta(days=QUIET_DAYS - 1), time(), zone_of(self.design.time_zone))
        return Due(
            over=self._parts_until(self.day - timedelta(days=1)),
            soon=self._parts_until(self.day + timedelta(days=SOON_DAYS)),
            quiet=first_day.astimezone(UTC).isoformat(timespec="seconds"),
        )

    def _parts_until(self, day: date) -> int:
        parts = 0
        for stage in self.design.stages:
            if stage.by <= day:
                parts |= bit(stage.sock, stage.until)
        return parts

    def behind(self, member: Member) -> Stage | None:
        """The first stage whose day is over and that a follower has not reached."""
        late = self.due.over & ~member.along.reached
        missed = (stage for stage in self.design.stages if stage.by < self.day and late & bit(stage.sock, stage.until))
        return min(missed, key=lambda stage: stage.by, default=None)

    def stuck(self, member: Member) -> bool:
        """Whether a stage is due, and she has not knitted for a week."""
        due = self.due
        return member.last is not None and member.last < due.quiet and bool(due.soon & ~member.along.reached)

    def last(self, member: Member) -> date | None:
        """The day of her newest round; None where she does not share it."""
        return day_at(member.last, self.design.time_zone) if member.last else None


def marks(crowds: Iterable[Crowd], address: Callable[[str], str]) -> list[Mark]:
    """A mark for each place where somebody is, in the order of the sock; `address` leads to those at a place."""
    there = sorted(((PlaceOnSock.read(crowd.place), crowd) for crowd in crowds), key=lambda one: one[0].order)
    return [
        Mark(
            place.sock,
            place.part,
            place.step / STEPS,
            crowd.followers,
            _who(place, crowd.names, crowd.followers),
            address(place.word),
        )
        for place, crowd in there
    ]


def _who(place: PlaceOnSock, names: Sequence[str], followers: int) -> str:
    more = followers - len(names)
    listed = ", ".join(name or "somebody" for name in names) + (f" and {more} more" if more > 0 else "")
    return f"{listed}: sock {place.sock}, {place.part}"
