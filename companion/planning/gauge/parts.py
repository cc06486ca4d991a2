"""The fabric of each part of a sock: what is knitted keeps its own gauge, and the newest is for what is ahead.

A part on which nothing was counted lies between what was counted before it and after it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import NamedTuple

from ..frozen_model import FrozenModel
from .check import Check
from .estimate import Estimate, Gauges, When, gauges_from, gauges_of
from .observations import Evidence
from .statistics import joined
from .steps import WANDERS, believed_so_far, by_place

BELOW = 20
"""Rounds between the needles and the middle of the fabric that is counted there: half of 10 cm (ours)."""

MOST_PLACES = 3
"""Places of a part that its gauge is calculated from: the first and the last, and one between (ours)."""


class Fabrics(FrozenModel):
    """The gauge of what is ahead, and those of leg and foot as far as they are knitted.

    A leg in a stitch pattern has a fabric of its own ahead, too.
    """

    ahead: Gauges
    leg: Gauges
    foot: Gauges
    leg_in_pattern: Gauges | None = None

    @property
    def leg_ahead(self) -> Gauges:
        """The gauge of what is ahead of the leg."""
        return self.leg_in_pattern or self.ahead


def gauges_on(part: range, evidence: Sequence[Evidence], ahead: Gauges, needle_mm: float | None = None) -> Gauges:
    """The gauge of the rounds of a part that are knitted; that of what is `ahead` where none is, or none is dated.

    `part` are these rounds of the sock. A check belongs to the part that its `sock_round` lies in.
    """
    checks = [item for item in evidence if isinstance(item, Check)]
    if not part or any(check.round is None for check in checks):
        return ahead
    own = [check for check in checks if check.sock_round is not None and part.start < check.sock_round <= part.stop]
    if own:
        return _along(part, own, evidence, ahead, needle_mm)
    later = [check for check in checks if check.sock_round is not None and check.sock_round > part.stop]
    if not later:
        return ahead
    first = min(later, key=lambda check: check.round or 0)
    begins = (first.round or 0) - (first.sock_round or 0)
    middle = begins + (part.start + part.stop) / 2
    after = _up_to(first.round or 0, evidence, needle_mm)
    before = [check.round or 0 for check in checks if (check.round or 0) < begins + part.start]
    if not before:
        return _strayed(after, (first.round or 0) - middle)
    earlier = _strayed(_up_to(max(before), evidence, needle_mm), middle - max(before))
    return _between(earlier, _strayed(_alone(first, evidence, needle_mm), (first.round or 0) - middle), ahead)


class _KnownAt(NamedTuple):
    """What was known after so many rounds of the sock."""

    at: int
    gauges: Gauges


def _along(
    part: range, own: Sequence[Check], evidence: Sequence[Evidence], ahead: Gauges, needle_mm: float | None
) -> Gauges:
    """The mean of a part that was checked: between two checks the gauge moves evenly from the one to the other."""
    first = min(own, key=lambda check: check.round or 0)
    begins = (first.round or 0) - (first.sock_round or 0)
    checks = [item for item in evidence if isinstance(item, Check)]
    earlier = [check.round or 0 for check in checks if (check.round or 0) <= begins + part.start]
    before = [(max(earlier), max(earlier) - begins)] if earlier else []
    checked = [(here[-1].round or 0, here[-1].sock_round or 0) for here in by_place(own)]
    so_far = believed_so_far(checks, needle_mm)
    known = [
        _KnownAt(at - BELOW, _counted_or(gauges_from(evidence, *_as_of(of_the_pair, so_far, needle_mm)), ahead))
        for of_the_pair, at in (*before, *_few(checked))
    ]
    shares = _shares(part, [one.at for one in known])

    def mean(of: Callable[[Gauges], Estimate]) -> Estimate:
        found = [of(one.gauges) for one in known]
        value, deviation = (
            sum(share * getattr(one, key) for share, one in zip(shares, found, strict=True))
            for key in ("per_10cm", "deviation")
        )
        return found[-1].model_copy(update={"per_10cm": value, "deviation": deviation})

    return Gauges(stitches=mean(lambda gauges: gauges.stitches), rounds=mean(lambda gauges: gauges.rounds))


def _few(checked: Sequence[tuple[int, int]]) -> Sequence[tuple[int, int]]:
    """As many of the places as are asked, the first and the last among them."""
    if len(checked) <= MOST_PLACES:
        return checked
    return [checked[number * (len(checked) - 1) // (MOST_PLACES - 1)] for number in range(MOST_PLACES)]


def _shares(part: range, nodes: Sequence[int]) -> Sequence[float]:
    """What each place counts in the mean of a part, as a part of 1: by straight lines from one to the next."""
    shares = [0.0] * len(nodes)
    for at in part:
        later = next((number for number, node in enumerate(nodes) if node > at), len(nodes))
        if later in (0, len(nodes)):
            shares[max(0, later - 1)] += 1 / len(part)
            continue
        way = (at - nodes[later - 1]) / (nodes[later] - nodes[later - 1])
        shares[later - 1] += (1 - way) / len(part)
        shares[later] += way / len(part)
    return shares


def _as_of(at: int, so_far: Sequence[Sequence[Check]], needle_mm: float | None) -> tuple[Sequence[Check], When]:
    """The checks that tell the gauge at a round: all that count now, or did then where a later step took its weight."""
    if any(check.round == at for check in so_far[-1]):
        return so_far[-1], When(needle_mm, at)
    then = next(kept for kept in so_far if (kept[-1].round or 0) >= at)
    return [check for check in then if (check.round or 0) <= at], When(needle_mm)


def _up_to(newest: int, evidence: Sequence[Evidence], needle_mm: float | None) -> Gauges:
    known = [item for item in evidence if not isinstance(item, Check) or (item.round or 0) <= newest]
    return gauges_of(known, needle_mm)


def _alone(check: Check, evidence: Sequence[Evidence], needle_mm: float | None) -> Gauges:
    """What the checks of one round say by themselves, beside what was assumed."""
    known = [item for item in evidence if not isinstance(item, Check) or item.round == check.round]
    return gauges_of(known, needle_mm)


def _counted_or(gauges: Gauges, ahead: Gauges) -> Gauges:
    """The gauges, with those of what is ahead for a kind that was never counted."""
    both = zip(("stitches", "rounds"), gauges.both(), ahead.both(), strict=True)
    return Gauges(**{what: own if own.counted else other for what, (_, own), (_, other) in both})


def _strayed(gauges: Gauges, rounds: float) -> Gauges:
    """The gauges so many rounds away, where they may have strayed."""

    def there(found: Estimate) -> Estimate:
        strays = WANDERS * found.per_10cm * math.sqrt(max(0.0, rounds) / 100)
        return found.model_copy(update={"deviation": math.hypot(found.deviation, strays)})

    return Gauges(stitches=there(gauges.stitches), rounds=there(gauges.rounds))


def _between(earlier: Gauges, later: Gauges, ahead: Gauges) -> Gauges:
    def joint(one: Estimate, other: Estimate, newest: Estimate) -> Estimate:
        if not (one.counted and other.counted):
            return newest
        value, deviation = joined([(one.per_10cm, one.deviation), (other.per_10cm, other.deviation)])
        return newest.model_copy(update={"per_10cm": value, "deviation": deviation})

    return Gauges(
        stitches=joint(earlier.stitches, later.stitches, ahead.stitches),
        rounds=joint(earlier.rounds, later.rounds, ahead.rounds),
    )
