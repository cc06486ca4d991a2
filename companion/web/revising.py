"""Keeping a plan that was accepted for a sock: one way for every page that offers one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from flask import abort

from ..logbook import Entry, Sock
from ..pair import Revision
from ..planning.changes import Change
from ..planning.document import Plan
from ..store import StaleRevisionError
from .open_pair import OpenPair, store


@dataclass(frozen=True)
class Accepted:
    """A plan to go on with from `done` rounds of a sock on.

    `title` names the change in the logbook, and `option` the way that was taken, for programs. `other_done` is the
    place of the other sock where the page knows of more rounds than the server; `entries` go into the logbook with it.
    """

    sock: Sock
    done: int
    title: str
    plan: Plan
    changes: Sequence[Change]
    option: str
    other_done: int | None = None
    gauge_check: str = ""
    entries: Sequence[Entry] = ()


def keep(pair: OpenPair, accepted: Accepted, stale: str) -> None:
    """Make it the pair's newest revision; answers 409 with `stale` where there is a newer one by now."""
    other: Sock = 2 if accepted.sock == 1 else 1
    changes = [f"{change.what}: {change.before} → {change.after}" for change in accepted.changes]
    revision = Revision(
        number=pair.newest,
        sock=accepted.sock,
        done=accepted.done,
        other_done=pair.done[other] if accepted.other_done is None else accepted.other_done,
        summary="\n".join([accepted.title, *changes]),
        plan=accepted.plan.model_dump_json(),
    )
    try:
        store().add_revision(pair.pair, revision, accepted.gauge_check, accepted.option, accepted.entries)
    except StaleRevisionError:
        abort(409, stale)
