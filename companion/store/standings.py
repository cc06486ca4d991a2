"""Where those stand who share with the leader of their design, kept so that thousands of them are counted at once.

A standing is what follows from a pair's plans and from its gauge checks: the gauges, and where the parts of each sock
end. It goes when a plan is accepted or taken back and when a check arrives, and is made again then or when the leader
looks; counts of rounds leave it as it is.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple, TypeAlias

from ..pair.logbook import Sock
from .database import Connections
from .rows import Pair
from .shares import NEWEST_REMARK, Sharer, rounds_done, sharers

Ends: TypeAlias = dict[str, dict[str, int]]
"""By the number of the sock and by the part: how many rounds are done when that is."""

MOST_AT_ONCE = 500
"""Pairs whose standings are made in one go; between two, others can write."""

KEPT = ("newest", "remark", "assumed", "found", "undecided", "construction")
"""The entries of a standing but for its parts."""

SHARING = "FROM followers f JOIN shares s ON s.pair = f.pair JOIN standings t ON t.pair = f.pair"
OF_A_DESIGN = "WHERE f.design = :design"
SHOWN = f"{SHARING} {OF_A_DESIGN}"

PLACES = f"""
    SELECT sock, begun, CASE WHEN begun THEN part END, count(*) FROM (
        SELECT socks.sock, coalesce(p.round, 0) > 0 AS begun, (
            SELECT title FROM parts WHERE pair = f.pair AND sock = socks.sock AND until > coalesce(p.round, 0)
            ORDER BY until LIMIT 1) AS part
        {SHARING} CROSS JOIN (SELECT 1 AS sock UNION ALL SELECT 2) socks
        LEFT JOIN places p ON p.pair = f.pair AND p.sock = socks.sock {OF_A_DESIGN}) places
    GROUP BY 1, 2, 3"""


KEEP = f"""
    INSERT INTO standings (pair, assumed, found, undecided, construction, ends)
    SELECT pair, :assumed, :found, :undecided, :construction, :ends FROM shares s WHERE pair = :pair
    AND :newest = (SELECT max(number) FROM revisions WHERE pair = :pair AND state = 'accepted')
    AND :remark = {NEWEST_REMARK}
    ON CONFLICT (pair) DO UPDATE SET assumed = excluded.assumed, found = excluded.found,
        undecided = excluded.undecided, construction = excluded.construction, ends = excluded.ends
    RETURNING pair"""
"""Keeps a standing while it is that of a pair as it is by now."""


@dataclass(frozen=True)
class Standing:
    """The stitches over 10 cm that were assumed and those found, if any, and by sock where its parts end, with titles.

    `undecided`: what was found is another fabric than the plan has. `newest` is the number of the newest plan that it
    was made from, and `remark` that of the newest entry of the logbook that is more than a count. `construction` is in
    words, and `ends` are where each part that a leader speaks of ends, for each sock in the order of knitting.
    """

    newest: int
    remark: int
    assumed: float
    found: float | None
    undecided: bool
    parts: Mapping[Sock, Sequence[tuple[int, str]]]
    construction: str = ""
    ends: Ends = field(default_factory=dict)


MEMBERS = f"""
    SELECT f.pair, s.first_name, s.days, t.undecided, t.construction, t.ends, p1.round, p2.round,
        p.created, l1.received, l2.received
    {SHARING} JOIN pairs p ON p.id = f.pair
    LEFT JOIN places p1 ON p1.pair = f.pair AND p1.sock = 1
    LEFT JOIN places p2 ON p2.pair = f.pair AND p2.sock = 2
    LEFT JOIN log l1 ON l1.pair = p1.pair AND l1.id = p1.id
    LEFT JOIN log l2 ON l2.pair = p2.pair AND l2.id = p2.id
    {OF_A_DESIGN} ORDER BY f.pair"""


class Member(NamedTuple):
    """Who shares, by the number of her pair. `done` are the rounds of each sock.

    `last` is the moment at which the server heard of her newest round, or of her pair while there is none; None where
    she did not share it.
    """

    pair: int
    name: str
    undecided: bool
    construction: str
    ends: Ends
    done: Mapping[Sock, int]
    last: str | None


class Place(NamedTuple):
    """How many followers have a sock in one place: not begun, in a part with this title, or finished, in none."""

    sock: Sock
    begun: bool
    part: str | None
    followers: int


@dataclass(frozen=True)
class Summary:
    """How many share, where their socks are, and how often which gauge was met where which one was assumed."""

    sharing: int
    places: Sequence[Place]
    gauges: Mapping[tuple[float, float], int]


class Standings:
    """Who stands where, of those who follow a design and share."""

    def __init__(self, connections: Connections) -> None:
        self._connections = connections

    def missing(self, design: int) -> Iterator[list[Sharer]]:
        """The pairs that share and of which no standing is kept: since they began to, or since their plan changed.

        They come some at a time: after an update of the program they may be all of a large group.
        """
        with self._connections.reading() as db:
            numbers = [
                number
                for (number,) in db.execute(
                    """SELECT f.pair FROM followers f JOIN shares s ON s.pair = f.pair
                    WHERE f.design = ? AND NOT EXISTS (SELECT 1 FROM standings WHERE pair = f.pair) ORDER BY f.pair""",
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
                    },
                ).fetchone()
                if kept:
                    db.execute("DELETE FROM parts WHERE pair = ?", (pair,))
                    db.executemany(
                        "INSERT INTO parts VALUES (?, ?, ?, ?) ON CONFLICT (pair, sock, until) DO NOTHING",
                        [(pair, sock, *part) for sock, parts in standing.parts.items() for part in parts],
                    )

    def summary(self, design: int) -> Summary:
        """All of those who share, counted."""
        with self._connections.reading() as db:
            given = {"design": design}
            (sharing,) = db.execute(f"SELECT count(*) {SHOWN}", given).fetchone()
            places = db.execute(PLACES, given).fetchall()
            gauges = db.execute(
                f"SELECT t.assumed, t.found, count(*) {SHOWN} AND t.found IS NOT NULL GROUP BY t.assumed, t.found",
                given,
            ).fetchall()
        return Summary(
            sharing=int(sharing),
            places=[Place(sock, bool(begun), part, count) for sock, begun, part, count in places],
            gauges={(assumed, found): count for assumed, found, count in gauges},
        )

    def members(self, design: int) -> list[Member]:
        """All of those who share, in the order in which they joined."""
        with self._connections.reading() as db:
            rows = db.execute(MEMBERS, {"design": design}).fetchall()
        # Read as one document: thousands of small ones take twice as long.
        every = json.loads(f"[{','.join(row[5] for row in rows)}]")
        return [
            Member(
                pair=pair,
                name=str(name),
                undecided=bool(undecided),
                construction=construction,
                ends=ends,
                done=rounds_done(((1, one), (2, two))),
                last=max(filter(None, moments)) if days else None,
            )
            for (pair, name, days, undecided, construction, _, one, two, *moments), ends in zip(
                rows, every, strict=True
            )
        ]

    def these(self, numbers: Sequence[int]) -> list[Sharer]:
        """Those with these numbers who share, in this order."""
        with self._connections.reading() as db:
            found = {sharer.pair.id: sharer for sharer in sharers(db, numbers)}
        return [found[number] for number in numbers if number in found]
