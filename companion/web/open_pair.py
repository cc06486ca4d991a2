"""A pair as a page needs it: found by its link, with its logbook, and the plan that each sock follows."""

from __future__ import annotations

import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from flask import abort, current_app

from ..logbook import HIGHEST_CLOCK, THIS_SERVER, Entry, Move, Sock, ends, highest_clock, places
from ..pair import Revision, followed, undoable
from ..planning.document import Plan
from ..planning.reading import read_plan
from ..remarks import Remark
from ..store import Pair, Store
from ..strict_json import UnsoundJSONError, read_json


def store() -> Store:
    """The store of this app."""
    found: Store = current_app.extensions["store"]
    return found


@dataclass(frozen=True)
class OpenPair:
    """A pair with its accepted revisions and its logbook."""

    pair: Pair
    revisions: Sequence[Revision]
    entries: dict[int, Entry]

    @cached_property
    def followed(self) -> dict[Sock, Revision]:
        """The revision that each sock follows."""
        return followed(self.revisions)

    @cached_property
    def done(self) -> dict[Sock, int]:
        """Rounds counted of each sock, whatever its plan's length."""
        return places(self.entries.values())

    @cached_property
    def ends(self) -> dict[Sock, list[Entry]]:
        """The moves of each sock that no other goes on from."""
        return ends(self.entries.values())

    @property
    def cursor(self) -> int:
        """The server's number of the newest entry."""
        return max(self.entries, default=0)

    @property
    def clock(self) -> int:
        """The highest clock in the logbook."""
        return highest_clock(self.entries.values())

    @property
    def newest(self) -> int:
        """The number of the newest accepted revision."""
        return self.revisions[-1].number

    @property
    def undoable(self) -> Revision | None:
        """The change that can be taken back, if any."""
        return undoable(self.revisions, self.done)

    def entry(self, sock: Sock, kind: Move | Remark, done: int, **own: Any) -> Entry:
        """A logbook entry that the server itself writes at a place of a sock, after all that it knows of.

        `own` is what else the entry has, or has another way. Raises ValidationError where that cannot be.
        """
        usual = {"id": str(uuid.uuid4()), "clock": min(self.clock + 1, HIGHEST_CLOCK), "at": store().moment()}
        return Entry.model_validate({**usual, "device": THIS_SERVER, "sock": sock, "kind": kind, "round": done, **own})

    def plan_of(self, revision: Revision) -> Plan:
        """The plan of a revision; answers 409 when it no longer reads, which loses nothing."""
        try:
            plan, faults = read_plan(read_json(revision.plan.encode("utf-8", "surrogatepass")))
            why = "; ".join(map(str, faults))
        except UnsoundJSONError as error:
            plan, why = None, str(error)
        if plan is None:
            store().set_aside(self.pair, f"plan of revision {revision.number}", why, revision.plan)
            abort(409, "This pair's plan cannot be read any more. It is kept as it is, and so are the counts.")
        return plan

    def plan(self, sock: Sock) -> Plan:
        """The plan that a sock follows."""
        return self.plan_of(self.followed[sock])


def find_pair(link: str) -> Pair:
    """The pair with this link; answers 404 when there is none."""
    pair = store().find_pair(link)
    if pair is None:
        abort(404)
    return pair


def open_pair(link: str) -> OpenPair:
    """The same with its plans and its logbook."""
    pair = find_pair(link)
    return OpenPair(pair, store().revisions(pair), store().entries(pair))
