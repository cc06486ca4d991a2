"""What followers share with the leader of their design."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from typing import Any

from ..logbook import SOCKS, Sock
from ..pair import Turn
from .connections import Connections
from .rows import Pair, sound
from .tables import DamagedPairError

_OF_A_DESIGN = "FROM followers f JOIN shares s ON s.pair = f.pair"


@dataclass(frozen=True)
class Share:
    """What a follower lets the leader see besides stage and gauge: a first name or nothing, and perhaps the size."""

    first_name: str
    size: bool


@dataclass(frozen=True)
class Sharer:
    """A pair that shares: its accepted plans, those that a glimpse is kept of by number, and the rounds done."""

    pair: Pair
    share: Share
    turns: tuple[Turn, ...]
    glimpses: Mapping[int, str]
    done: Mapping[Sock, int]


class Shares:
    """Who shares in the store's file, and what."""

    def __init__(self, connections: Connections) -> None:
        self._connections = connections

    def share(self, pair: Pair, share: Share) -> None:
        """Let the leader see this pair from now on; said again, it replaces what was said before."""
        with self._connections.writing() as db:
            db.execute("INSERT OR REPLACE INTO shares VALUES (?, ?, ?)", (pair.id, share.first_name, int(share.size)))

    def withdraw(self, pair: Pair) -> None:
        """Let the leader see nothing of this pair any more, and leave no name behind in the file."""
        with self._connections.writing() as db:
            db.execute("DELETE FROM shares WHERE pair = ?", (pair.id,))
            db.execute("DELETE FROM glimpses WHERE pair = ?", (pair.id,))
        with self._connections.reading() as db:
            db.execute("PRAGMA wal_checkpoint(TRUNCATE)")

    def shared(self, pair: Pair) -> Share | None:
        """What a pair shares; None when it shares nothing."""
        with self._connections.reading() as db:
            row = db.execute("SELECT first_name, size FROM shares WHERE pair = ?", (pair.id,)).fetchone()
        return Share(str(row[0]), bool(row[1])) if row else None

    def keep_glimpses(self, pair: Pair, glimpses: Mapping[int, str]) -> None:
        """Keep what the leader's page needs of a pair's plans, by the numbers of the revisions."""
        with self._connections.writing() as db:
            db.executemany(
                "INSERT OR REPLACE INTO glimpses VALUES (?, ?, ?)",
                [(pair.id, number, glimpse) for number, glimpse in glimpses.items()],
            )

    def sharing(self, design: int) -> Iterator[Sharer]:
        """The pairs that share, in the order in which they joined; one that no longer reads is left out."""
        with self._connections.reading() as db:
            pairs = db.execute(
                f"""SELECT p.id, p.title, p.unit, s.first_name, s.size {_OF_A_DESIGN} JOIN pairs p ON p.id = f.pair
                WHERE f.design = ? ORDER BY p.id""",
                (design,),
            ).fetchall()
            plans = db.execute(
                f"""SELECT f.pair, r.number, r.sock, r.done, r.other_done, g.glimpse {_OF_A_DESIGN}
                JOIN revisions r ON r.pair = f.pair AND r.state = 'accepted'
                LEFT JOIN glimpses g ON g.pair = r.pair AND g.number = r.number
                WHERE f.design = ? ORDER BY r.number""",
                (design,),
            ).fetchall()
            places = db.execute(
                f"SELECT f.pair, p.sock, p.round {_OF_A_DESIGN} JOIN places p ON p.pair = f.pair WHERE f.design = ?",
                (design,),
            ).fetchall()
        plans_of, places_of = _by_pair(plans), _by_pair(places)
        for *pair, first_name, size in pairs:
            with suppress(DamagedPairError):
                own = plans_of[pair[0]]
                yield Sharer(
                    pair=sound(Pair, pair),
                    share=Share(str(first_name), bool(size)),
                    turns=tuple(sound(Turn, turn) for *turn, _ in own),
                    glimpses={number: glimpse for number, *_, glimpse in own if glimpse is not None},
                    done={**dict.fromkeys(SOCKS, 0), **dict(places_of[pair[0]])},
                )


def _by_pair(rows: Iterable[tuple[Any, ...]]) -> defaultdict[int, list[tuple[Any, ...]]]:
    """Rows without the pair that each begins with, by that pair."""
    found: defaultdict[int, list[tuple[Any, ...]]] = defaultdict(list)
    for pair, *row in rows:
        found[pair].append(tuple(row))
    return found
