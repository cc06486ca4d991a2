"""Those followers of a design who share, as their leader sees them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ..glimpse import Glimpse, as_text, from_text, glimpse_of
from ..logbook import SOCKS, Sock
from ..pair import followed
from ..planning.design import Design, rounds_until
from ..store import DamagedPairError, Pair
from ..store.shares import Sharer
from .open_pair import store


@dataclass(frozen=True)
class Person:
    """A follower who shares. `found` is the gauge measured, `size` the leg's stitches and cm if that is shared too."""

    name: str
    where: dict[Sock, str]
    stages: tuple[str, ...]
    assumed: float
    found: float | None
    size: tuple[int, float] | None


def keep_glimpses(pair: Pair) -> dict[int, str]:
    """Read the accepted plans of a pair for the leader's page, keep what it needs of them, and return that.

    A plan that no longer reads has none. Plans never change, so what is kept never grows old.
    """
    found = {revision.number: glimpse_of(revision.plan) for revision in store().revisions(pair)}
    glimpses = {number: as_text(glimpse) for number, glimpse in found.items() if glimpse}
    store().shares.keep_glimpses(pair, glimpses)
    return glimpses


def _glimpses(sharer: Sharer) -> dict[int, Glimpse]:
    """What is kept of each plan; read anew when one was accepted since the leader looked last."""
    there = all(turn.number in sharer.glimpses for turn in sharer.turns)
    texts = sharer.glimpses if there else keep_glimpses(sharer.pair)
    found = {number: from_text(text) for number, text in texts.items()}
    return {number: glimpse for number, glimpse in found.items() if glimpse}


def _person(sharer: Sharer, design: Design) -> Person | None:
    """A follower; None when a plan in use is lost or no longer reads."""
    glimpses = _glimpses(sharer)
    try:
        first, newest = glimpses[sharer.turns[0].number], glimpses[sharer.turns[-1].number]
        own = {sock: glimpses[turn.number] for sock, turn in followed(sharer.turns).items()}
    except LookupError:
        return None
    return Person(
        name=sharer.share.first_name,
        where={sock: own[sock].where(sharer.done[sock]) for sock in SOCKS},
        stages=tuple(
            stage.name
            for stage in design.stages
            if sharer.done[stage.sock] >= rounds_until(own[stage.sock].ends, stage.until)
        ),
        assumed=first.stitches_per_10cm,
        found=newest.stitches_per_10cm if newest.measured else None,
        size=(own[1].leg_stitches, own[1].leg_cm) if sharer.share.size else None,
    )


def people(design: Design, number: int) -> Iterator[Person]:
    """Those who share, in the order in which they joined; `number` is the design's in the store."""
    for sharer in store().shares.sharing(number):
        try:
            person = _person(sharer, design)
        except DamagedPairError:
            continue
        if person:
            yield person
