"""How far along everybody is who shares with the leader of a design, kept so that thousands are looked through at once.

A seat follows from a standing, from what is shared and from the places of the socks. It is written again whenever one
of them is, in the same transaction, so that a look at a group need not calculate it for everybody.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

from ..pair.logbook import SOCKS
from ..pair.progress import PairProgress, rounds_done
from .database import Connections, Database, Statements, marks

FINISHED = ""
"""In the place of a part's title: the sock is finished. NULL stands there before its first round."""

MEMBERS = """
    SELECT f.pair, f.design, s.first_name, s.days, t.undecided, t.construction, t.ends, p1.round, p2.round,
        p.created, l1.received, l2.received
    FROM followers f JOIN shares s ON s.pair = f.pair JOIN standings t ON t.pair = f.pair JOIN pairs p ON p.id = f.pair
    LEFT JOIN places p1 ON p1.pair = f.pair AND p1.sock = 1
    LEFT JOIN places p2 ON p2.pair = f.pair AND p2.sock = 2
    LEFT JOIN log l1 ON l1.pair = p1.pair AND l1.id = p1.id
    LEFT JOIN log l2 ON l2.pair = p2.pair AND l2.id = p2.id
    WHERE f.pair IN """

OF_A_DESIGN = "FROM seats WHERE design = :design"

NEEDS: Mapping[str, str] = {
    "behind": "(reached & :over) <> :over",
    "stuck": "heard < :quiet AND (reached & :soon) <> :soon",
    "gauge": "undecided = 1",
}
"""Who needs the leader, by the words for the needs."""

ORDERS: Mapping[str, str] = {
    "place": "far, pair",
    "name": "name = '', name, pair",
    "last": "heard IS NULL, heard, pair",
    "joined": "pair",
}
"""By the words for the orders of the list; those without a name, or without a day, come last."""


@dataclass(frozen=True)
class Due:
    """What counts as late on a day: the parts (bits) of stages whose day is over, and of those that are due `soon`.

    Quiet is who has sent nothing since a moment (in UTC, ISO 8601).
    """

    over: int
    soon: int
    quiet: str


@dataclass(frozen=True)
class Asked:
    """Whom to list: the order, letters in the name, a need, a place; "" for all."""

    order: str = ""
    name: str = ""
    need: str = ""
    at: str = ""


class Member(NamedTuple):
    """Who shares, by the number of her pair, and how far she is.

    `last` is the moment at which the server heard of her newest round, or of her pair while there is none; None where
    she did not share it.
    """

    pair: int
    name: str
    undecided: bool
    along: PairProgress
    last: str | None


class Crowd(NamedTuple):
    """How many are at a place, by its word, and the names of the first of them."""

    place: str
    followers: int
    names: Sequence[str]


def keep(db: Statements, pair: int) -> None:
    """Write the seat of a pair again; without a standing it has none."""
    for member, design in _members(db, [pair]):
        parts = db.execute("SELECT sock, until, title FROM parts WHERE pair = ? ORDER BY until", (pair,)).fetchall()
        along = member.along
        titles = [
            next((title for of, until, title in parts if of == sock and along.done[sock] < until), FINISHED)
            if along.done[sock] > 0
            else None
            for sock in SOCKS
        ]
        place = along.place
        db.execute(
            """INSERT INTO seats (pair, design, name, far, place, reached, undecided, title_1, title_2, heard)
            VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (pair) DO UPDATE SET design = excluded.design,
            name = excluded.name, far = excluded.far, place = excluded.place, reached = excluded.reached,
            undecided = excluded.undecided, title_1 = excluded.title_1, title_2 = excluded.title_2,
            heard = excluded.heard""",
            (
                *(pair, design, member.name.casefold(), along.knitted, place.word if place else None, along.reached),
                *(int(member.undecided), *titles, member.last),
            ),
        )


def _members(db: Statements, numbers: Sequence[int]) -> Iterator[tuple[Member, int]]:
    """The pairs with these numbers that share, each with its design."""
    rows = db.execute(f"{MEMBERS}{marks(numbers)} ORDER BY f.pair", numbers).fetchall()
    for pair, design, name, days, undecided, construction, ends, one, two, *moments in rows:
        along = PairProgress(rounds_done(((1, one), (2, two))), json.loads(ends), construction)
        last = max(filter(None, moments)) if days else None
        yield Member(pair, str(name), bool(undecided), along, last), design


class Seats:
    """Looks through the seats of those who follow a design and share."""

    def __init__(self, connections: Connections) -> None:
        self._connections = connections

    def needs(self, design: int, due: Due) -> dict[str, int]:
        """How many have each need."""
        counts = ", ".join(f"count(CASE WHEN {need} THEN 1 END)" for need in NEEDS.values())
        with self._connections.reading() as db:
            row = db.execute(f"SELECT {counts} {OF_A_DESIGN}", {"design": design, **vars(due)}).fetchone()
        return dict(zip(NEEDS, row, strict=True))

    def listed(self, design: int, asked: Asked, due: Due, first: int, most: int) -> tuple[int, list[Member]]:
        """How many are found so, and the members from the `first`, counted from 1, on; the last one where it is past.

        At most so many members come.
        """
        sql, given = _found(design, asked, due)
        with self._connections.reading() as db:
            (count,) = db.execute(f"SELECT count(*) {sql}", given).fetchone()
            order = ORDERS.get(asked.order, ORDERS["place"])
            skipped = max(0, min(first, count) - 1)
            numbers = [
                number
                for (number,) in db.execute(
                    f"SELECT pair {sql} ORDER BY {order} LIMIT :most OFFSET :skipped",
                    {**given, "most": most, "skipped": skipped},
                )
            ]
            found = {member.pair: member for member, _ in _members(db, numbers)}
        return count, [found[number] for number in numbers if number in found]

    def crowds(self, design: int, most_named: int) -> list[Crowd]:
        """Every place where somebody is, with the names of those who joined first."""
        with self._connections.reading() as db:
            places = db.execute(
                "SELECT place, count(*) FROM seats WHERE design = ? AND place IS NOT NULL GROUP BY place", (design,)
            ).fetchall()
            return [Crowd(place, count, _first_names(db, design, place, most_named)) for place, count in places]


def _first_names(db: Database, design: int, place: str, most: int) -> list[str]:
    found = db.execute(
        """SELECT s.first_name FROM (
            SELECT pair FROM seats WHERE design = ? AND place = ? ORDER BY pair LIMIT ?) first
        JOIN shares s ON s.pair = first.pair ORDER BY s.pair""",
        (design, place, most),
    )
    return [str(name) for (name,) in found]


def _found(design: int, asked: Asked, due: Due) -> tuple[str, dict[str, Any]]:
    """Where those are who are asked for, as SQL with what stands for its names."""
    name = asked.name.casefold()
    for sign in "!%_":
        name = name.replace(sign, f"!{sign}")
    terms: list[tuple[str, dict[str, Any]]] = [
        (OF_A_DESIGN, {"design": design}),
        *([(NEEDS[asked.need], vars(due))] if asked.need in NEEDS else []),
        *([("name LIKE :name ESCAPE '!'", {"name": f"%{name}%"})] if name else []),
        *([("place = :place", {"place": asked.at})] if asked.at else []),
    ]
    given: dict[str, Any] = {}
    for _, values in terms:
        given |= values
    return " AND ".join(sql for sql, _ in terms), given
