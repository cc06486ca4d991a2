"""A step in the gauge: another needle or another pair of hands that nobody mentioned.

At each place what was counted is compared with what all before it says now. Where it contradicts that, it is counted
once more; where the second count agrees, everything older loses its weight. All limits are ours.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache

from .check import Check
from .observations import HERE_ROUNDS, What, spread_of, values_in
from .statistics import Observation, joined, wandering

CONTRADICTS = 2.0
"""Deviations by which a count must be off from all before it to be one of another fabric, or a miscount."""

AGREES = 1.5
"""Deviations by which the second count must be off to the same side."""

WANDERS = 0.015
"""How far a gauge wanders in 100 rounds: one deviation, as a part of it, growing with the root of the rounds (ours).

Hands change from week to week, so an old check says less of the rounds to come than a new one.
"""

KINDS: tuple[What, What] = ("stitches", "rounds")


def believed(checks: Sequence[Check], needle_mm: float | None = None) -> list[Check]:
    """The checks that still say something of the gauge, in order; those without a round leave all as they are."""
    if any(check.round is None for check in checks):
        return list(checks)
    *_, kept = [(), *believed_so_far(checks, needle_mm)]
    return list(kept)


def believed_so_far(checks: Sequence[Check], needle_mm: float | None = None) -> Sequence[Sequence[Check]]:
    """The same after each place, in order."""
    return [[checks[number] for number in kept] for kept in _numbers_so_far(tuple(checks), needle_mm)]


@lru_cache(maxsize=16)  # one recalculation asks for the same ones several times
def _numbers_so_far(checks: tuple[Check, ...], needle_mm: float | None) -> Sequence[Sequence[int]]:
    """The same by their numbers among the checks: others that are equal to these have the same ones."""
    number = {id(check): at for at, check in enumerate(checks)}
    so_far: list[Sequence[Check]] = []
    for here in by_place(checks):
        so_far.append(_with(so_far[-1] if so_far else [], here, needle_mm))
    return [[number[id(check)] for check in kept] for kept in so_far]


def contradicts(checks: Sequence[Check], needle_mm: float | None = None) -> bool:
    """Whether the newest place was counted once only, and says something else than all before it."""
    if not checks or any(check.round is None for check in checks):
        return False
    *_, here = by_place(checks)
    *_, older, _ = [(), (), *believed_so_far(checks, needle_mm)]
    return len(here) == 1 and _most_off(older, here, needle_mm) > CONTRADICTS


def by_place(checks: Sequence[Check]) -> Iterator[list[Check]]:
    """The checks of each place, in the order of knitting."""
    place: list[Check] = []
    for check in sorted(checks, key=lambda one: one.round or 0):
        if place and (check.round or 0) - (place[0].round or 0) > HERE_ROUNDS:
            yield place
            place = []
        place.append(check)
    if place:
        yield place


def _with(older: Sequence[Check], here: Sequence[Check], needle_mm: float | None) -> Sequence[Check]:
    """The older checks with those of one place, without what a step or a miscount outweighs."""
    first, *again = here
    if not older or not again or _most_off(older, [first], needle_mm) <= CONTRADICTS:
        return [*older, *here]
    for one, other in zip(_off(older, [first], needle_mm), _off(older, again, needle_mm), strict=True):
        if abs(one) > CONTRADICTS and abs(other) > AGREES and one * other > 0:
            return here
    return [*older, *(again if _differ(first, again, needle_mm) else here)]


def _most_off(older: Sequence[Check], here: Sequence[Check], needle_mm: float | None) -> float:
    return max(map(abs, _off(older, here, needle_mm)), default=0.0)


def _off(older: Sequence[Check], here: Sequence[Check], needle_mm: float | None) -> tuple[float, ...]:
    """By how many deviations a place is off in stitches, in rounds and in both together; 0 where nothing is known."""
    each = [_z(_known(older, what, needle_mm, here), _known(here, what, needle_mm)) for what in KINDS]
    return (*each, sum(each) / math.sqrt(len(each)))


def _differ(first: Check, again: Sequence[Check], needle_mm: float | None) -> bool:
    """Whether two counts of one place contradict each other."""
    each = (_z(_known([first], what, needle_mm), _known(again, what, needle_mm)) for what in KINDS)
    return max(map(abs, each)) > CONTRADICTS


def _z(one: Observation | None, other: Observation | None) -> float:
    if one is None or other is None:
        return 0.0
    return (other[0] - one[0]) / math.hypot(one[1], other[1])


def _known(
    checks: Sequence[Check], what: What, needle_mm: float | None, as_of: Sequence[Check] = ()
) -> Observation | None:
    """What checks say of one kind, `as_of` the place of others; None where they say nothing of it."""
    spread = spread_of([check.spots(what) for check in checks])
    points = [
        (float(check.round or 0), *value) for check in checks for value in values_in(check, what, spread, needle_mm)
    ]
    if not points:
        return None
    if not as_of:
        return joined([(value, deviation) for _, value, deviation in points])
    strays = WANDERS * points[0][1] / 10
    value, deviation, _ = wandering(points, strays)
    ahead = max(0.0, min(check.round or 0 for check in as_of) - max(at for at, _, _ in points))
    return value, math.hypot(deviation, strays * math.sqrt(ahead))
