"""A pair of socks whose plan changes while it is knitted: which revision each sock follows. Pure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TypeVar

from pydantic import ConfigDict
from pydantic.dataclasses import dataclass

from .logbook import SOCKS, Sock

MOST_REVISIONS = 1000
"""Plans of one pair, those taken back included: a change every third round of both socks (ours)."""


NEW_GAUGE = "new gauge"
"""The way of a revision that was made before the cast-on with another gauge than the plan before was given."""


OTHER_FOOT = "other foot"
"""The way of a revision for the sock of the other foot that came with a plan of the first: it has no summary."""


@dataclass(frozen=True, config=ConfigDict(strict=True))
class RevisionStart:
    """Where an accepted plan of a pair took over from the one before.

    Its rounds up to `done` are those of the plan before. `sock` is the one it was made for, `other_done` the rounds
    of the other sock done at that time.
    """

    number: int
    sock: Sock
    done: int
    other_done: int


@dataclass(frozen=True, config=ConfigDict(strict=True))
class Revision(RevisionStart):
    """An accepted plan of a pair.

    `summary` says what changed, a line each under a first line that names the change; the first revision has none.
    `plan` is the plan document as JSON text, and `option` the way that was taken, for programs.
    """

    summary: str
    plan: str
    option: str = ""


AnyStart = TypeVar("AnyStart", bound=RevisionStart)


def followed(revisions: Sequence[AnyStart]) -> dict[Sock, AnyStart]:
    """The revision that each sock is knitted by, from the accepted ones in the order of their numbers.

    The first revision is for both. Sock 1 follows its own newest. Sock 2 goes along with sock 1, so that the
    pair matches, until it is knitted past the place of a change: its rounds there are then already others,
    and it stays on what it was on. A revision made for sock 2 parts it from sock 1 for good.
    """
    first, *later = revisions
    current: dict[Sock, AnyStart] = dict.fromkeys(SOCKS, first)
    together = True
    for revision in later:
        if revision.sock == 2:
            together = False
        elif together and revision.other_done <= revision.done:
            current[2] = revision
        else:
            together = False
        current[revision.sock] = revision
    return current


def first_plan(revisions: Sequence[Revision]) -> Revision:
    """The revision whose gauge was given and not found by a check: the first, or the newest that replaced its gauge."""
    return next((one for one in reversed(revisions) if one.option == NEW_GAUGE), revisions[0])


def undoable(revisions: Sequence[Revision], done: Mapping[Sock, int]) -> Revision | None:
    """The newest change, if it can be taken back: no sock that follows it is knitted past its place.

    `done` is the number of rounds done of each sock. A plan for the other foot goes with the change that it came with.
    """
    newest = revisions[-1]
    if newest.option == OTHER_FOOT:
        change = revisions[-2]
        free = all(done[one.sock] <= one.done for one in (change, newest))
        return change if free and change is not revisions[0] else None
    if newest is revisions[0]:
        return None
    socks = [sock for sock, revision in followed(revisions).items() if revision is newest]
    return newest if all(done[sock] <= newest.done for sock in socks) else None
