"""What a server needs for so many knitters, from what was measured, and what breaks first."""

from __future__ import annotations

import argparse
import math
from typing import NamedTuple

from .doctor import size
from .plans import FaultyInputError

PAIRS_A_YEAR, PLANS, COUNTS = 2, 3, 360
"""Of a knitter, and of a pair: two socks of some 150 rounds, and what is counted twice (common practice)."""
AT_ONCE = 20
"""At the busiest one in so many knits, with a network (ours)."""
SYNCS_A_MINUTE = 1.0
"""Of who knits: a round of 64 stitches takes a minute or longer (common practice)."""


class Measured(NamedTuple):
    """Of a database: bytes of a plan of 21 kB of JSON and of an entry of a logbook, with all indexes, and of one that
    is folded, and thousandths of a second of processor time that a server takes for a sync of 12 entries, with 5,000
    followers on two cores."""

    name: str
    plan: int
    entry: int
    folded: int
    sync_ms: float


MEASURED = (Measured("one SQLite file", 21_200, 275, 43, 2.3), Measured("PostgreSQL", 5_000, 470, 56, 3.5))
"""On version 3.40 and 15, tests/measuring/group_benchmark.py for the times."""

MOST_KNITTERS = 100_000_000

BUSY = 0.6
"""The share of a core above which requests begin to wait for one another noticeably (ours)."""


def capacity(arguments: argparse.Namespace) -> str:
    """Disk and cores in both databases, in lines. Raises FaultyInputError for a number that is none of knitters."""
    knitters: int = arguments.knitters
    if not 1 <= knitters <= MOST_KNITTERS:
        raise FaultyInputError([f"N: {knitters} given; allowed: 1 to {MOST_KNITTERS:,}"])
    syncs = knitters / AT_ONCE * SYNCS_A_MINUTE / 60
    return "\n".join(
        [
            f"{knitters:,} knitters: {PAIRS_A_YEAR} pairs a year each, of {COUNTS} counts and {PLANS} plans. At the "
            f"busiest 1 in {AT_ONCE} knits and sends every minute: {syncs:,.0f} syncs a second.",
            *(_line(one, knitters, syncs) for one in MEASURED),
            f"With one file the processor of one process breaks first, at {_most(MEASURED[0]):,} syncs a second "
            f"({_knitters(_most(MEASURED[0])):,} knitters), or the disk: writes wait for one another, so that one of "
            "10 ms leaves 100 a second.",
            "With PostgreSQL it is the processes, and more are added; a process has four threads, of which each waits "
            "for its own write, so that one of 10 ms leaves it 400 a second. Then it is the disk's size.",
            "More on top: a photo of a leader has up to 1 MB, an archive of PostgreSQL's log 1 kB for each count.",
        ]
    )


def _line(one: Measured, knitters: int, syncs: float) -> str:
    disk, folded = (
        size(knitters * PAIRS_A_YEAR * (PLANS * one.plan + COUNTS * entry)) for entry in (one.entry, one.folded)
    )
    cores = math.ceil(syncs * one.sync_ms / 1000 / BUSY)
    return (
        f"  {one.name}: {disk} of disk a year, {folded} once `companion purge` has folded what is finished; "
        f"{cores} {'process' if cores == 1 else 'processes'} of a core each."
    )


def _most(one: Measured) -> int:
    """Syncs a second that one process does without much waiting."""
    return int(BUSY * 1000 / one.sync_ms)


def _knitters(syncs: int) -> int:
    return int(syncs * 60 / SYNCS_A_MINUTE) * AT_ONCE
