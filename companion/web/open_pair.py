"""A pair as a page needs it: found by its link, with what the store knows of its logbook."""

from __future__ import annotations

import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from flask import abort, current_app

from ..pair.logbook import HIGHEST_CLOCK, THIS_SERVER, Entry, Move, Sock
from ..pair.pace import RECENT_ENTRIES
from ..pair.remarks import Remark
from ..pair.revisions import Revision
from ..pair.state import PairState, UnreadablePlanError
from ..planning import Plan
from ..store import Pair, Store, Unreadable


def store() -> Store:
    """The store of this app."""
    found: Store = current_app.extensions["store"]
    return found


@dataclass(frozen=True)
class OpenPair(PairState):
    """A pair that is kept in the store; `cursor` is the number there of the newest entry of its logbook."""

    pair: Pair
    cursor: int

    def recent_entries(self) -> Sequence[Entry]:
        """The newest entries of the logbook, as many as the pace is calculated from."""
        return store().newest_entries(self.pair, RECENT_ENTRIES)

    def plan_of(self, revision: Revision) -> Plan:
        """The plan of a revision, read once; answers 409 when it no longer reads, which loses nothing."""
        try:
            return super().plan_of(revision)
        except UnreadablePlanError as error:
            unreadable = Unreadable(f"plan of revision {revision.number}", str(error), revision.plan)
            store().quarantine(self.pair, [unreadable])
            abort(409, "This pair's plan cannot be read any more. It is kept as it is, and so are the counts.")

    def entry(self, sock: Sock, kind: Move | Remark, done: int, **own: Any) -> Entry:
        """A logbook entry that the server itself writes at a place of a sock, after all that it knows of.

        `own` is what else the entry has, or has another way. Raises ValidationError where that cannot be.
        """
        usual = {"id": str(uuid.uuid4()), "clock": min(self.clock + 1, HIGHEST_CLOCK), "at": store().moment()}
        return Entry.model_validate({**usual, "device": THIS_SERVER, "sock": sock, "kind": kind, "round": done, **own})


def find_pair(link: str) -> Pair:
    """The pair with this link; answers 404 when there is none."""
    pair = store().find_pair(link)
    if pair is None:
        abort(404)
    return pair


def open_pair(link: str) -> OpenPair:
    """The same with its plans and its logbook; answers 404 when there is none."""
    return opened(find_pair(link))


def opened(pair: Pair) -> OpenPair:
    """A pair with its plans and its logbook."""
    revisions, known = store().revisions(pair), store().log_digest(pair)
    return OpenPair(pair.title, pair.unit, revisions, known.ends, known.entries, pair, known.cursor)
