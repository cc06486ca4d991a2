"""Those followers of a design who share, as their leader sees them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from werkzeug.exceptions import HTTPException

from ...group.plan_summary import FINISHED, NOT_BEGUN, PlanSummary, as_text, from_text, plan_summary
from ...group.stages import day_at
from ...pair.learned_gauges import decided, gauges_learned, undecided
from ...pair.logbook import Sock
from ...pair.revisions import followed
from ...planning.construction.design_sections import rounds_until
from ...planning.plan.design import Design
from ...store import DamagedPairError, Pair
from ...store.seats import Member
from ...store.shares import GaugeFound, Sharer
from ...store.standings import PartCount, Standing, Summary
from ..open_pair import opened, store
from .roster import Roster


@dataclass(frozen=True)
class Person:
    """A follower who shares. `size` is the leg's stitches and cm if that is shared too.

    `behind` names the stage that she is late with, and `last` is the day of her newest round if that is shared.
    """

    name: str
    where: dict[Sock, str]
    stages: tuple[str, ...]
    behind: str | None
    stuck: bool
    last: date | None
    gauge: GaugeFound
    size: tuple[int, float] | None
    construction: str


def keep_standing(pair: Pair) -> None:
    """Keep what the leader's page needs of a pair that shares, when it begins to or when its plan has changed."""
    sharer = store().standings.sharer(pair)
    standing = sharer and _standing(sharer)
    if standing:
        store().standings.keep({pair.id: standing})


def _keep_summaries(pair: Pair) -> dict[int, str]:
    """Read the accepted plans of a pair, keep what the leader's page needs of them, and return that.

    A plan that no longer reads has none. Plans never change, so what is kept never grows old.
    """
    found = {revision.number: plan_summary(revision.plan) for revision in store().revisions(pair)}
    summaries = {number: as_text(summary) for number, summary in found.items() if summary}
    store().shares.keep_summaries(pair, summaries)
    return summaries


def _plan_summaries(sharer: Sharer) -> dict[int, PlanSummary]:
    """What is kept of each plan; read again when one was accepted since the leader looked last."""
    there = all(start.number in sharer.summaries for start in sharer.starts)
    texts = sharer.summaries if there else _keep_summaries(sharer.pair)
    found = {number: from_text(text) for number, text in texts.items()}
    return {number: summary for number, summary in found.items() if summary}


@dataclass(frozen=True)
class _Plans:
    """The first plan of a pair, and that of each sock."""

    first: PlanSummary
    own: dict[Sock, PlanSummary]


def _plans(sharer: Sharer) -> _Plans | None:
    """The plans in use; None when one of them is lost or no longer reads."""
    try:
        summaries = _plan_summaries(sharer)
        first = summaries[sharer.first]
        return _Plans(first, {sock: summaries[start.number] for sock, start in followed(sharer.starts).items()})
    except (LookupError, DamagedPairError):
        return None


def _person(sharer: Sharer, roster: Roster, member: Member) -> Person | None:
    """A follower; None when a plan in use is lost or no longer reads, or nothing is known of her gauge yet."""
    plans = _plans(sharer)
    if plans is None or sharer.gauge is None:
        return None
    behind = roster.behind(member)
    return Person(
        name=sharer.share.first_name,
        where={sock: own.where(sharer.done[sock]) for sock, own in plans.own.items()},
        stages=tuple(
            stage.name
            for stage in roster.design.stages
            if sharer.done[stage.sock] >= rounds_until(plans.own[stage.sock].ends, stage.until)
        ),
        behind=behind.name if behind else None,
        stuck=roster.stuck(member),
        last=roster.last(member),
        gauge=sharer.gauge,
        size=(plans.own[1].leg_stitches, plans.own[1].leg_cm) if sharer.share.size else None,
        construction=member.along.construction,
    )


def people(roster: Roster, members: Sequence[Member]) -> list[Person]:
    """What the leader sees of these, in their order."""
    by_pair = {member.pair: member for member in members}
    found = (_person(sharer, roster, by_pair[sharer.pair.id]) for sharer in store().standings.these(list(by_pair)))
    return [person for person in found if person]


def roster_of(design: Design) -> Roster:
    """The roster of a design's leader today."""
    return Roster(design, day_at(store().moment(), design.time_zone))


def group_summary(number: int) -> Summary:
    """All of those who share, counted. What has changed in their plans since the leader looked last is read first."""
    for sharers in store().standings.missing(number):
        standings = {sharer.pair.id: _standing(sharer) for sharer in sharers}
        store().standings.keep({pair: standing for pair, standing in standings.items() if standing})
    return store().standings.summary(number)


def _standing(sharer: Sharer) -> Standing | None:
    plans = _plans(sharer)
    if plans is None:
        return None
    found, is_undecided, is_decided = _gauge_found(sharer)
    return Standing(
        newest=sharer.starts[-1].number,
        remark=sharer.remark,
        assumed=plans.first.stitches_per_10cm,
        found=found,
        undecided=is_undecided,
        decided=is_decided,
        construction=plans.own[1].construction,
        ends={str(sock): own.ends_of_parts() for sock, own in plans.own.items()},
        parts={sock: list(own.parts()) for sock, own in plans.own.items()},
    )


NONE_FOUND = (None, False, False)


def _gauge_found(sharer: Sharer) -> tuple[float | None, bool, bool]:
    """The stitches over 10 cm by all checks of a pair, if any, whether a sock still goes on by others, and whether
    others than those assumed were found and that is settled.

    Without a remark in its logbook no plan is read for it.
    """
    if not sharer.remark:
        return NONE_FOUND
    try:
        pair = opened(sharer.pair)
        learned = gauges_learned(pair)
        if learned is None or not learned[0].plain.stitches.counted:
            return NONE_FOUND
        known = learned[0]
        return round(known.plain.stitches.per_10cm, 1), undecided(pair, known), decided(pair, known)
    except (DamagedPairError, HTTPException):
        return NONE_FOUND


def place_words(place: PartCount) -> str:
    """Where a sock is, as `PlanSummary.where` has it."""
    return (place.part or FINISHED) if place.begun else NOT_BEGUN
