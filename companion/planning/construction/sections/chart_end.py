"""Finishing the rounds of a pattern before a count changes, so that no motif breaks."""

from __future__ import annotations

from ...plan.document import Round
from ...plan.rounds import op, row, zone_stitches
from .base import Aim


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
