"""The weighings in a logbook, each with the place of both socks when it was made. Pure."""

from __future__ import annotations

from collections.abc import Iterable

from .logbook import MOVES, Entry


def weighings_of(entries: Iterable[Entry]) -> dict[str, list[tuple[float, tuple[int, int]]]]:
    """For each yarn's key the grams that were left and the rounds done of socks 1 and 2, oldest first."""
    places = {1: 0, 2: 0}
    found: dict[str, list[tuple[float, tuple[int, int]]]] = {}
    for entry in sorted(entries, key=Entry.order):
        if entry.kind in MOVES:
            places[entry.sock] = entry.round
        elif entry.kind == "weighing" and entry.data:
            # A weighing knows its own place, also where the counts that led there have not arrived yet.
            done = places | {entry.sock: entry.round}
            yarn = str(entry.data.get("yarn", "A"))
            found.setdefault(yarn, []).append((float(entry.data["grams"]), (done[1], done[2])))
    return found
