"""A pair as its plans and its logbook make it: which plan each sock follows, and where each is. Pure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import chain

from ..planning import Plan, read_plan
from ..planning.units import Unit
from ..strict_json import UnsoundJSONError, read_json
from .logbook import SOCKS, Entry, Sock, highest_clock
from .revisions import Revision, followed, undoable


class UnreadablePlanError(ValueError):
    """The plan of a revision no longer reads; the message says why."""


@dataclass(frozen=True)
class SockPosition:
    """Where a sock is: its plan, and the rounds of it that are done."""

    sock: Sock
    plan: Plan
    done: int

    def in_words(self) -> str:
        """The round on the needles, named as on the knit page: "Sock 1, leg, round 13 of 61"."""
        for section, span in self.plan.spans():
            if self.done in span:
                one = "row" if section.flat else "round"
                place = f"{one} {span.index(self.done) + 1} of {len(span)}"
                return f"Sock {self.sock}, {section.title.lower()}, {place}"
        return f"Sock {self.sock}, finished"

    def behind(self) -> str:
        """The last round that is done: "Sock 1, leg, after round 12"; rounds beyond the plan are its end."""
        if self.done >= self.plan.count:
            return f"Sock {self.sock}, finished"
        for section, span in self.plan.spans():
            if self.done - 1 in span:
                one = "row" if section.flat else "round"
                return f"Sock {self.sock}, {section.title.lower()}, after {one} {span.index(self.done - 1) + 1}"
        return f"Sock {self.sock}, before the cast-on"


@dataclass(frozen=True)
class PairState:
    """A pair with its accepted revisions, in the order of their numbers, and its logbook.

    `ends` are the moves of each sock that no other goes on from. `entries` are the logbook, or as much of it as says
    the same of checks, weighings, lengths and other remarks.
    """

    title: str
    unit: Unit
    revisions: Sequence[Revision]
    ends: Mapping[Sock, Sequence[Entry]]
    entries: Sequence[Entry]

    @cached_property
    def followed(self) -> dict[Sock, Revision]:
        """The revision that each sock follows."""
        return followed(self.revisions)

    @cached_property
    def done(self) -> dict[Sock, int]:
        """Rounds counted of each sock, whatever its plan's length."""
        return {sock: moves[-1].round if moves else 0 for sock, moves in self.ends.items()}

    @property
    def clock(self) -> int:
        """The highest clock in the logbook; of the moves, the last one of each sock has it, and is an end."""
        return highest_clock([*self.entries, *chain.from_iterable(self.ends.values())])

    @property
    def newest(self) -> int:
        """The number of the newest accepted revision."""
        return self.revisions[-1].number

    @property
    def undoable(self) -> Revision | None:
        """The change that can be taken back, if any."""
        return undoable(self.revisions, self.done)

    def recent_entries(self) -> Sequence[Entry]:
        """The newest entries of the logbook: at least as many as the pace is calculated from."""
        return self.entries

    @cached_property
    def _plans(self) -> dict[int, Plan]:
        """The plans that were read already, by the numbers of their revisions."""
        return {}

    def plan_of(self, revision: Revision) -> Plan:
        """The plan of a revision, read once. Raises UnreadablePlanError."""
        if revision.number not in self._plans:
            self._plans[revision.number] = read_kept(revision.plan)
        return self._plans[revision.number]

    def plan(self, sock: Sock) -> Plan:
        """The plan that a sock follows. Raises UnreadablePlanError."""
        return self.plan_of(self.followed[sock])

    @property
    def finished(self) -> bool:
        """Whether each sock is knitted to the end of its plan. Raises UnreadablePlanError."""
        return all(self.done[sock] >= self.plan(sock).count for sock in SOCKS)

    def position(self, sock: Sock) -> SockPosition:
        """Where a sock is: at the end of its plan where more was counted. Raises UnreadablePlanError."""
        plan = self.plan(sock)
        return SockPosition(sock, plan, min(self.done[sock], plan.count))


@lru_cache(maxsize=4)  # the pages of a pair show the same plans one after the other; the largest takes 8 MB
def read_kept(text: str) -> Plan:
    """The plan in the document of a revision. Raises UnreadablePlanError."""
    try:
        plan, faults = read_plan(read_json(text.encode("utf-8", "surrogatepass")))
    except UnsoundJSONError as error:
        raise UnreadablePlanError(str(error)) from error
    if plan is None:
        raise UnreadablePlanError("; ".join(map(str, faults)))
    return plan
