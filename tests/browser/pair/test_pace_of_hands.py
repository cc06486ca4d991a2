"""The knit page and the server find the same pace of the hands in the same logbook."""

from __future__ import annotations

import random
from datetime import timedelta
from typing import Any

import pytest

from companion.pair.logbook import Entry, Sock
from companion.pair.pace import BREAK, FASTEST, seconds_per_stitch

from ...conftest import NOON, entry
from ..modules import Modules

PACE = """async ([module, log, stitches]) => {
    const { knittingSoFar } = await import(module);
    return knittingSoFar(log, stitches, Date.parse("2026-01-01T00:00:00Z")).perStitch;
}"""


def knitted(seed: int, entries: int) -> tuple[list[dict[str, Any]], dict[Sock, list[int]]]:
    """A logbook with breaks, rounds caught up with and steps back, and the stitches in each round of both socks."""
    chance = random.Random(seed)
    stitches: dict[Sock, list[int]] = {sock: [chance.choice((0, 8, 56, 60, 64)) for _ in range(120)] for sock in (1, 2)}
    places: dict[Sock, int] = {1: 0, 2: 0}
    log, moment = [], NOON
    for number in range(1, entries + 1):
        sock: Sock = chance.choice((1, 1, 1, 2))
        kind = chance.choice(("count",) * 8 + ("undo", "go", "note"))
        # A place beyond the sock is that of a longer plan.
        step = 1 if kind == "count" else chance.choice((-1, 0))
        places[sock] = chance.randint(1, 130) if kind == "go" else min(130, max(1, places[sock] + step))
        worked = stitches[sock][min(places[sock], 120) - 1]
        edges = (0, 1, FASTEST * worked, FASTEST * worked - 0.001, BREAK, BREAK + 0.001, 90_000)
        moment += timedelta(seconds=chance.choice((*edges, *(chance.uniform(20, 400) for _ in range(12)))))
        at = moment.isoformat(timespec="milliseconds").replace("+00:00", "Z")
        data = {"data": {"text": "wool in the way"}} if kind == "note" else {}
        log.append(entry(number, kind=kind, sock=sock, round=places[sock], at=at, **data))
    chance.shuffle(log)
    return log, stitches


@pytest.mark.parametrize(
    ("seed", "entries"), [(seed, 3 * seed) for seed in range(12)] + [(seed, 200 * seed) for seed in range(5, 9)]
)
def test_both_find_the_same_pace(modules: Modules, seed: int, entries: int) -> None:
    log, stitches = knitted(seed, entries)
    by_sock = {str(sock): each for sock, each in stitches.items()}
    here = modules.page.evaluate(PACE, [modules.address("pair/pace"), log, by_sock])
    there = seconds_per_stitch([Entry.model_validate(one) for one in log], stitches)
    assert here == (None if there is None else pytest.approx(there, rel=1e-12))
    assert there is not None or entries < 20
