"""The weighings in a logbook, each with the place of both socks when it was made. Pure.

What the knitter takes back herself, as a mistake, does not count.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from ..logbook import MOVES, Entry, Sock, left_out


class KeptWeighing(NamedTuple):
    """Grams that were left of a yarn, with the rounds done of its sock, and of socks 1 and 2, at that time."""

    id: str
    at: str
    yarn: str
    grams: float
    sock: Sock
    round: int
    done: tuple[int, int]


def weighings_kept(entries: Iterable[Entry]) -> list[KeptWeighing]:
    """Every weighing that was not taken back, in the order of the logbook."""
    log = sorted(entries, key=Entry.order)
    out = left_out(log)
    counted = {1: 0, 2: 0}
    found = []
    for entry in log:
        if entry.kind in MOVES:
            counted[entry.sock] = entry.round
        elif entry.kind == "weighing" and entry.data and entry.id not in out:
            # A weighing knows its own rounds done, also where the counts that led there have not arrived yet.
            done = counted | {entry.sock: entry.round}
            yarn, grams = str(entry.data.get("yarn", "A")), float(entry.data["grams"])
            both = (done[1], done[2])
            found.append(KeptWeighing(entry.id, entry.at, yarn, grams, entry.sock, entry.round, both))
    return found


def weighings_of(entries: Iterable[Entry]) -> dict[str, list[tuple[float, tuple[int, int]]]]:
    """For each yarn's key the grams that were left and the rounds done of socks 1 and 2, oldest first."""
    found: dict[str, list[tuple[float, tuple[int, int]]]] = {}
    for one in weighings_kept(entries):
        found.setdefault(one.yarn, []).append((one.grams, one.done))
    return found
