"""Who of a group stands where, in which order the leader looks at them, and who needs her. Pure: the day is given."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import NamedTuple, cast

from ...drawings.group_sock import Mark
from ...pair.logbook import Sock
from ...planning.plan.design import Stage
from ...planning.plan.document import PARTS_OF_SOCK, PartOfSock
from ...store.standings import Member

QUIET_DAYS = 7
"""Days without a round after which somebody may be stuck, where a stage is due (ours)."""

SOON_DAYS = 7
"""Days before a stage's day from which on it is due (ours)."""


STEPS = 4
"""Into so many steps each part is divided for marks: finer ones would lie on each other (ours)."""

NAMED = 5
"""Followers of one mark who are named, the others are counted (ours)."""


class Place(NamedTuple):
    """A place on a sock: its part, and how many steps down that, from the cuff to the toe."""

    sock: Sock
    part: PartOfSock
    step: int

    @property
    def order(self) -> tuple[int, int, int]:
        """Before which others it comes."""
        return self.sock, PARTS_OF_SOCK.index(self.part), self.step

    @property
    def word(self) -> str:
        """The place in an address."""
        return f"{self.sock}-{self.part}-{self.step}"


@dataclass(frozen=True)
class Seat:
    """A follower at the leader's desk: how far she is and what she is behind with, on a `day`.

    The `stages` come in the order of their days.

    `last` is the day of her newest round in the design's time zone; None where she does not share it.
    """

    member: Member
    stages: Sequence[Stage]
    day: date
    last: date | None

    @property
    def far(self) -> float:
        """How much of the pair is knitted, 0 to 1."""
        one, two = self.member.done.values()
        whole = sum(next(reversed(ends.values()), 0) for ends in self.member.ends.values())
        return (one + two) / whole if whole else 0.0

    @property
    def place(self) -> Place | None:
        """Where she is on the sock in hand, which is sock two from its cast-on; None before the first cast-on."""
        sock: Sock = 2 if self.member.done[2] else 1
        ends = self.member.ends.get(str(sock), {})
        whole = next(reversed(ends.values()), 0)
        done, start = min(self.member.done[sock], whole), 0
        if not done:
            return None
        for part, end in ends.items():
            if done < end or end == whole:
                share = (done - start) / (end - start)
                down = 1 - share if self.member.construction.startswith("toe-up") else share
                return Place(sock, cast(PartOfSock, part), round(down * STEPS))
            start = end
        return None

    @property
    def behind(self) -> Stage | None:
        """The first stage whose day is over and that she has not reached."""
        return self._missed(self.day - timedelta(days=1))

    @property
    def stuck(self) -> bool:
        """Whether a stage is due, and she has not knitted for a week."""
        quiet = self.last is not None and (self.day - self.last).days >= QUIET_DAYS
        return quiet and self._missed(self.day + timedelta(days=SOON_DAYS)) is not None

    def _missed(self, until: date) -> Stage | None:
        """The first stage by a day that she has not reached."""
        for stage in self.stages:
            if stage.by <= until and self.member.done[stage.sock] < self._end(stage):
                return stage
        return None

    def _end(self, stage: Stage) -> int:
        ends = self.member.ends.get(str(stage.sock), {})
        return ends.get(stage.until) or ends.get("heel", 0)


ORDERS: Mapping[str, tuple[str, Callable[[Seat], tuple[object, ...]]]] = {
    "place": ("along the sock", lambda seat: (seat.far,)),
    "name": ("by name", lambda seat: (not seat.member.name, seat.member.name.casefold())),
    "last": ("by the last round", lambda seat: (seat.last is None, seat.last or seat.day)),
    "joined": ("as they joined", lambda seat: (seat.member.pair,)),
}
"""The orders of the list, by their words in the address: what each is called, and what it goes by."""

NEEDS: Mapping[str, tuple[str, Callable[[Seat], bool]]] = {
    "behind": ("behind", lambda seat: seat.behind is not None),
    "stuck": ("perhaps stuck", lambda seat: seat.stuck),
    "gauge": ("with a gauge to decide on", lambda seat: seat.member.undecided),
}
"""What of a group a leader may want to see alone."""


def in_order(seats: Iterable[Seat], order: str, name: str, need: str, at: str) -> list[Seat]:
    """The seats of those whose name has these letters, who have that need, and who are at that place, if asked for."""
    wanted = NEEDS[need][1] if need in NEEDS else lambda _: True
    found = [
        seat
        for seat in seats
        if name.casefold() in seat.member.name.casefold()
        and wanted(seat)
        and (not at or (seat.place is not None and seat.place.word == at))
    ]
    return sorted(found, key=ORDERS[order if order in ORDERS else "place"][1])


def marks(seats: Iterable[Seat], address: Callable[[str], str]) -> list[Mark]:
    """A mark for each place where somebody is, in the order of the sock; `address` leads to those at a place."""
    there: dict[Place, list[str]] = {}
    for seat in seats:
        if place := seat.place:
            there.setdefault(place, []).append(seat.member.name or "somebody")
    return [
        Mark(place.sock, place.part, place.step / STEPS, len(names), _who(place, names), address(place.word))
        for place, names in sorted(there.items(), key=lambda one: one[0].order)
    ]


def _who(place: Place, names: Sequence[str]) -> str:
    more = len(names) - NAMED
    listed = ", ".join(names[:NAMED]) + (f" and {more} more" if more > 0 else "")
    return f"{listed}: sock {place.sock}, {place.part}"
