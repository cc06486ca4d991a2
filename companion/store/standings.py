"""Where those stand who share with the leader of their design, kept so that thousands of them are counted at once.

A standing is what follows from a pair's plans and from its gauge checks: the gauges, and where the parts of each sock
end. It goes when a plan is accepted or taken back and when a check or a decision arrives, and is made again then or
when the leader looks; counts of rounds leave it as it is.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from ..pair.logbook import SOCKS, Sock
from ..pair.progress import Ends
from . import seats
from .database import Connections
from .rows import Pair
from .shares import NEWEST_REMARK, Sharer, sharers

MOST_AT_ONCE = 500
"""Pairs whose standings are made in one go; between two, others can write."""

KEPT = ("newest", "remark", "assumed", "found", "undecided", "decided", "construction")
"""The entries of a standing except its parts."""

PLACES = "SELECT title_1, title_2, count(*) FROM seats WHERE design = :design GROUP BY title_1, title_2"

GAUGES = """
    SELECT t.assumed, t.found, count(*) FROM seats s JOIN standings t ON t.pair = s.pair
    WHERE s.design = :design AND t.found IS NOT NULL GROUP BY t.assumed, t.found"""


KEEP = f"""
    INSERT INTO standings (pair, assumed, found, undecided, decided, construction, ends)
    SELECT pair, :assumed, :found, :undecided, :decided, :construction, :ends FROM shares s WHERE pair = :pair
    AND :newest = (SELECT max(number) FROM revisions WHERE pair = :pair AND state = 'accepted')
    AND :remark = {NEWEST_REMARK}
    ON CONFLICT (pair) DO UPDATE SET assumed = excluded.assumed, found = excluded.found,
        undecided = excluded.undecided, decided = excluded.decided, construction = excluded.construction,
        ends = excluded.ends
    RETURNING pair"""
"""Keeps a standing while it is that of a pair as it is by now."""


@dataclass(frozen=True)
class Standing:
    """The stitches over 10 cm that were assumed and those found, if any, and by sock where its parts end, with titles.

    `undecided`: what was found is another fabric than the plan has; `decided`: than was assumed, and that is settled.
    `newest` is the number of the newest plan that it was made from, and `remark` that of the newest entry of the
    logbook that is more than a count. `construction` is in words, and `ends` are where each part that a leader speaks
    of ends, for each sock in the order of knitting.
    """

    newest: int
    remark: int
    assumed: float
    found: float | None
    undecided: bool
    parts: Mapping[Sock, Sequence[tuple[int, str]]]
    decided: bool = False
    construction: str = ""
    ends: Ends = field(default_factory=dict)


class PartCount(NamedTuple):
    """How many followers have a sock in one place: not begun, in a part with this title, or finished, in none."""

    sock: Sock
    begun: bool
    part: str | None
    followers: int


@dataclass(frozen=True)
class Summary:
    """How many share, where their socks are, and how often which gauge was met where which one was assumed."""

    sharing: int
    places: Sequence[PartCount]
    gauges: Mapping[tuple[float, float], int]


class Standings:
    """Who stands where, of those who follow a design and share."""

    def __init__(self, connections: Connections) -> None:
        self._connections = connections

    def missing(self, design: int) -> Iterator[list[Sharer]]:
        """The pairs that share and have no standing kept: since they began to, or since their plan changed.

        They come some at a time: after an update of the program they may be all of a large group.
        """
        with self._connections.reading() as db:
            numbers = [
                number
                for (number,) in db.execute(
                    """SELECT f.pair FROM followers f JOIN shares s ON s.pair = f.pair
                    WHERE f.design = ? AND NOT EXISTS (SELECT 1 FROM seats WHERE pair = f.pair) ORDER BY f.pair""",
                    (design,),
                )
            ]
        for start in range(0, len(numbers), MOST_AT_ONCE):
            with self._connections.reading() as db:
                found = list(sharers(db, numbers[start : start + MOST_AT_ONCE]))
            yield found

    def sharer(self, pair: Pair) -> Sharer | None:
        """A pair, if it shares."""
        with self._connections.reading() as db:
            return next(sharers(db, [pair.id]), None)

    def keep(self, standings: Mapping[int, Standing]) -> None:
        """Keep standings by the numbers of their pairs.

        Left alone is one whose pair has stopped sharing, or has another plan or another check by now.
        """
        with self._connections.writing() as db:
            db.lock("pairs", standings)
            for pair, standing in standings.items():
                kept = db.execute(
                    KEEP,
                    {
                        "pair": pair,
                        "ends": json.dumps(standing.ends),
                        **{name: getattr(standing, name) for name in KEPT},
                        "undecided": int(standing.undecided),
                        "decided": int(standing.decided),
                    },
                ).fetchone()
                if kept:
                    db.execute("DELETE FROM parts WHERE pair = ?", (pair,))
                    db.executemany(
                        "INSERT INTO parts VALUES (?, ?, ?, ?) ON CONFLICT (pair, sock, until) DO NOTHING",
                        [(pair, sock, *part) for sock, parts in standing.parts.items() for part in parts],
                    )
                    seats.keep(db, pair)

    def summary(self, design: int) -> Summary:
        """All of those who share, counted."""
        with self._connections.reading() as db:
            given = {"design": design}
            rows = db.execute(PLACES, given).fetchall()
            gauges = db.execute(GAUGES, given).fetchall()
        places: Counter[tuple[Sock, str | None]] = Counter()
        for *titles, count in rows:
            places.update(dict.fromkeys(zip(SOCKS, titles, strict=True), count))
        return Summary(
            sharing=sum(count for *_, count in rows),
            places=[
                PartCount(sock, title is not None, title or None, count) for (sock, title), count in places.items()
            ],
            gauges={(assumed, found): count for assumed, found, count in gauges},
        )

    def these(self, numbers: Sequence[int]) -> list[Sharer]:
        """Those with these numbers who share, in this order."""
        with self._connections.reading() as db:
            found = {sharer.pair.id: sharer for sharer in sharers(db, numbers)}
        return [found[number] for number in numbers if number in found]
