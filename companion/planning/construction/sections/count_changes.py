"""Around a change of the count: the rounds of a pattern are finished before it, and a large one is made in steps."""

from __future__ import annotations

from collections.abc import Iterator

from ...plan.document import Round
from ...plan.rounds import op, row, zone_stitches
from .base import Aim

MOST_AT_ONCE = 0.1
"""The part of its stitches that one plain round may lose or win (ours): more makes a frill."""

PLAIN_BETWEEN = 3
"""Plain rounds from one such round to the next (common practice)."""


def to_the_end_of_the_chart(aim: Aim, rounds: tuple[Round, ...], room: int) -> tuple[Round, ...]:
    """Plain rounds over the zones of the last one, for the rounds that the pattern has left; none without `room`."""
    pattern = aim.request.leg.pattern
    worked = rounds[-1].chart_row if rounds else None
    left = pattern.height - worked if pattern and worked else 0
    if not 0 < left < room:
        return ()
    last = rounds[-1]
    zones = [(work.zone, op("k", zone_stitches(last, work.zone))) for work in last.work]
    return (row(*zones, before=last.after),) * left


def in_steps(count: int, to: int) -> Iterator[int]:
    """The counts on the way to another one, the last of them that one; none where it is the same."""
    while count != to:
        most = max(2, int(MOST_AT_ONCE * count) // 2 * 2)
        count += max(-most, min(most, to - count))
        yield count
