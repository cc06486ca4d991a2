"""Taking the newest change of a pair's plan back: until when it is offered, and what is ripped for it. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ...planning.units import in_one_unit
from ..logbook import SOCKS, Sock
from ..revisions import OTHER_FOOT, Revision, followed
from ..state import PairState

OFFERED_ROUNDS = 10
"""Rounds after a change for which the knit page offers to take it back (ours)."""

TOLD_CHANGES = 2
"""Numbers of a change that the knit page says."""


@dataclass(frozen=True)
class NewChange:
    """A change that was just accepted: after which round, in words, and up to where nothing is ripped to undo it."""

    at: int
    free: int
    words: str


def new_change(pair: PairState, sock: Sock) -> NewChange | None:
    """The newest change, while a sock that follows it is hardly past its place; that of both socks is none of one."""
    revision = pair.followed[sock]
    fresh = revision.done > 0 and pair.done[sock] - revision.done <= OFFERED_ROUNDS
    ours = revision.number == pair.newest and revision.option != OTHER_FOOT
    if not ours or revision is pair.revisions[0] or not fresh:
        return None
    return NewChange(revision.done, free_until(pair), _in_words(revision, pair))


def free_until(pair: PairState) -> int:
    """Rounds up to which the newest plan is knitted as the one before: so far it is taken back with nothing ripped."""
    newest = pair.revisions[-1]
    new, old = pair.plan_of(newest), pair.plan_of(followed(pair.revisions[:-1])[newest.sock])
    if new.request.needles.size_mm != old.request.needles.size_mm:
        return newest.done
    rounds = enumerate(zip(new.rounds(), old.rounds(), strict=False))
    return next((number for number, (one, other) in rounds if one != other), min(new.count, old.count))


def socks_past(pair: PairState, free: int, done: Mapping[Sock, int]) -> list[Sock]:
    """The socks that follow the newest change and are knitted past the round `free`."""
    return [sock for sock in SOCKS if pair.followed[sock].number == pair.newest and done[sock] > free]


def _in_words(revision: Revision, pair: PairState) -> str:
    """The change and its first numbers: "Change the leg here: leg stitches 66 → 58, foot stitches 66 → 60"."""
    title, *changes = revision.summary.splitlines()
    numbers = [change.replace(": ", " ", 1) for change in changes[:TOLD_CHANGES]]
    named = title.rpartition(": ")[2]
    return in_one_unit(f"{named}: {', '.join(numbers)}" if numbers else named, pair.unit)
