"""On which fabric of a sock in a stitch pattern a check is counted: its place tells, or the knitter does. Pure."""

from __future__ import annotations

from itertools import groupby
from typing import NamedTuple

from ...planning import Check, Plan
from ...planning.recalculation.by_fabric import counts_the_pattern


class CountedOn(NamedTuple):
    """Where a sock is counted on, in words, empty where all of it is of one fabric; whether that is the pattern.

    `asks`: whether the pattern lies beside it and may be counted instead.
    """

    words: str
    in_pattern: bool = False
    asks: bool = False


ONE_FABRIC = CountedOn("")
IN_PATTERN = CountedOn("in the pattern, on the leg", in_pattern=True)
BESIDE = CountedOn("beside the panel", asks=True)
ON_THE_SOLE = CountedOn("on the plain sole", asks=True)


def counted_on(plan: Plan, done: int) -> CountedOn:
    """Where a sock is counted on after so many rounds."""
    pattern = plan.request.leg.stitch_pattern
    if pattern is None:
        return ONE_FABRIC
    if counts_the_pattern(plan, done):
        return IN_PATTERN
    knitted = plan.rounds()[:done]
    if plan.request.instep_follows and any(work.zone == "sole" for item in knitted[-1:] for work in item.work):
        return ON_THE_SOLE
    return BESIDE if pattern.placement and any(item.chart_row for item in knitted) else ONE_FABRIC


def all_along(plan: Plan) -> list[tuple[int, CountedOn]]:
    """The same for every place of a sock: the rounds done from which on it holds."""
    if plan.request.leg.stitch_pattern is None:
        return []
    places = ((done, counted_on(plan, done)) for done in range(plan.count + 1))
    return [next(same) for _, same in groupby(places, key=lambda place: place[1])]


def fabric_counted(check: Check, plan: Plan, done: int) -> str:
    """The fabric that a check was counted on, in words; empty on a sock without a stitch pattern."""
    if plan.request.leg.stitch_pattern is None:
        return ""
    return "in the pattern" if on_its_fabric(check, plan, done).in_pattern else "on plain fabric"


def on_its_fabric(check: Check, plan: Plan, done: int) -> Check:
    """A check with whether it speaks of the pattern.

    Where the pattern lies beside plain fabric, and was said to be counted, its stitches do. Its rounds go round the
    sock, and are as high as the plain ones.
    """
    place = counted_on(plan, done)
    if check.in_pattern and place.asks:
        return check.model_copy(update={"rounds_in_pattern": False})
    return check.model_copy(update={"in_pattern": place.in_pattern})
