"""A plan that was chosen to go on with, before it is kept as the newest of its pair. Pure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ...planning import Plan
from ...planning.recalculation.changes import Change
from ..logbook import Entry, Sock
from ..revisions import Revision


@dataclass(frozen=True)
class Accepted:
    """A plan to go on with from `done` rounds of a sock on.

    `title` names the change in the logbook, and `option` the way that was taken, for programs. `other_done` is the
    place of the other sock where the page knows of more rounds than the server, and `other_plan` what that sock then is
    knitted by, where the feet differ; `entries` go into the logbook with it.
    """

    sock: Sock
    done: int
    title: str
    plan: Plan
    changes: Sequence[Change]
    option: str
    other_done: int | None = None
    other_plan: Plan | None = None
    gauge_check: str = ""
    entries: Sequence[Entry] = ()

    def revision(self, newest: int, done: Mapping[Sock, int]) -> Revision:
        """The same as it is kept; `newest` is the revision that it goes on from, `done` the rounds of both socks."""
        other: Sock = 2 if self.sock == 1 else 1
        changes = [f"{change.what}: {change.before} → {change.after}" for change in self.changes]
        return Revision(
            number=newest,
            sock=self.sock,
            done=self.done,
            other_done=done[other] if self.other_done is None else self.other_done,
            summary="\n".join([self.title, *changes]),
            plan=self.plan.model_dump_json(),
            option=self.option,
        )
