"""How fast a knitter goes, from the times of the counts in the logbook. Pure.

The same rule as on the knit page (`static/js/pair/pace.js`), and with the same limits: the time between two counts is
what a round took, unless it is so long that there was a break in it, or so short that rounds were only caught up with.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from itertools import pairwise
from statistics import median

from ..planning import Plan
from .logbook import Entry, Sock

BREAK = 600
"""Seconds after which a gap is a break (ours: a round of a sock takes one to five minutes)."""

FASTEST = 0.25
"""Seconds a stitch, faster than which nobody knits (ours)."""

RECENT_ROUNDS = 200
"""Rounds that tell the present pace (ours)."""

RECENT_ENTRIES = 5 * RECENT_ROUNDS
"""The newest entries of a logbook, which hold so many rounds, steps back and remarks among them (ours)."""


def stitches_worked(plan: Plan) -> list[int]:
    """Stitches made in each round of a sock."""
    return [item.made for item in plan.rounds()]


def seconds_per_stitch(entries: Iterable[Entry], stitches: Mapping[Sock, Sequence[int]]) -> float | None:
    """The middle one of the recent rounds; None while none was counted soon after another."""
    log = sorted(((datetime.fromisoformat(entry.at), entry) for entry in entries), key=lambda one: one[0])
    rates = []
    for (before, first), (now, entry) in pairwise(log):
        gap = (now - before).total_seconds()
        worked = stitches[entry.sock][entry.round - 1 : entry.round]
        if first.kind == entry.kind == "count" and gap <= BREAK and worked and gap >= FASTEST * worked[0] > 0:
            rates.append(gap / worked[0])
    return median(rates[-RECENT_ROUNDS:]) if rates else None
