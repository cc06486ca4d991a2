"""What followers share with the leader of their design."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from typing import Any

from ..pair.logbook import Sock
from ..pair.progress import rounds_done
from ..pair.revisions import NEW_GAUGE, RevisionStart
from . import seats
from .database import Connections, Database, marks
from .log_digest import LANDMARK
from .rows import Pair, parse_row
from .tables import DamagedPairError


@dataclass(frozen=True)
class Share:
    """What a follower lets the leader see besides stage and gauge: a first name or nothing, and perhaps the size."""

    first_name: str
    size: bool


@dataclass(frozen=True)
class GaugeFound:
    """Stitches over 10 cm: those assumed, and those that the checks found, if any.

    `undecided`: the plan has others than were found. `decided`: others were found than assumed, and it is settled.
    """

    assumed: float
    found: float | None
    undecided: bool
    decided: bool


@dataclass(frozen=True)
class Sharer:
    """A pair that shares: its accepted plans, the summary kept of each by its number, and the rounds done.

    `first` is the number of the plan whose gauge was given and not found by a check.
    `remark` is the number of the newest entry of its logbook that is more than a count, 0 where there is none, and
    `gauge` is None until it was looked for.
    """

    pair: Pair
    share: Share
    starts: tuple[RevisionStart, ...]
    first: int
    summaries: Mapping[int, str]
    done: Mapping[Sock, int]
    remark: int
    gauge: GaugeFound | None


class Shares:
    """Who shares in the store's file, and what."""

    def __init__(self, connections: Connections) -> None:
        self._connections = connections

    def share(self, pair: Pair, share: Share) -> None:
        """Let the leader see this pair from now on; said again, it replaces what was said before."""
        with self._connections.writing() as db:
            db.lock("pairs", [pair.id])
            db.execute(
                """INSERT INTO shares (pair, first_name, size, days) VALUES (?, ?, ?, 1) ON CONFLICT (pair) DO UPDATE
                SET first_name = excluded.first_name, size = excluded.size, days = excluded.days""",
                (pair.id, share.first_name, int(share.size)),
            )
            seats.keep(db, pair.id)

    def withdraw(self, pair: Pair) -> None:
        """Let the leader see nothing of this pair any more, and leave no name behind in the file."""
        with self._connections.writing() as db:
            db.execute("DELETE FROM shares WHERE pair = ?", (pair.id,))
            db.execute("DELETE FROM glimpses WHERE pair = ?", (pair.id,))
        self._connections.wipe()

    def shared(self, pair: Pair) -> Share | None:
        """What a pair shares; None when it shares nothing."""
        with self._connections.reading() as db:
            row = db.execute("SELECT first_name, size FROM shares WHERE pair = ?", (pair.id,)).fetchone()
        return Share(str(row[0]), bool(row[1])) if row else None

    def keep_summaries(self, pair: Pair, summaries: Mapping[int, str]) -> None:
        """Keep what the leader's page needs of a pair's plans, by the numbers of the revisions."""
        with self._connections.writing() as db:
            db.executemany(
                """INSERT INTO glimpses VALUES (?, ?, ?)
                ON CONFLICT (pair, number) DO UPDATE SET glimpse = excluded.glimpse""",
                [(pair.id, number, summary) for number, summary in summaries.items()],
            )


NEWEST_REMARK = f"(SELECT coalesce(max(number), 0) FROM log WHERE pair = s.pair AND {LANDMARK})"
"""The number of the newest entry of a logbook that is more than a count, for a row `s` of those who share."""


def sharers(db: Database, numbers: Sequence[int]) -> Iterator[Sharer]:
    """The pairs with these numbers that share, in their order; one that no longer reads is left out."""
    own = f"IN {marks(numbers)}"
    pairs = db.execute(
        f"""SELECT p.id, p.title, p.unit, s.first_name, s.size, {NEWEST_REMARK}, t.assumed, t.found, t.undecided,
            t.decided
        FROM pairs p JOIN shares s ON s.pair = p.id LEFT JOIN standings t ON t.pair = p.id
        WHERE p.id {own} ORDER BY p.id""",
        numbers,
    ).fetchall()
    plans = db.execute(
        f"""SELECT r.pair, r.number, r.sock, r.done, r.other_done, r.option, g.glimpse FROM revisions r
        LEFT JOIN glimpses g ON g.pair = r.pair AND g.number = r.number
        WHERE r.pair {own} AND r.state = 'accepted' ORDER BY r.number""",
        numbers,
    ).fetchall()
    places = db.execute(f"SELECT pair, sock, round FROM places WHERE pair {own}", numbers)
    plans_of, places_of = _by_pair(plans), _by_pair(places)
    for *pair, first_name, size, remark, assumed, found, undecided, decided in pairs:
        with suppress(DamagedPairError):
            rows = plans_of[pair[0]]
            yield Sharer(
                pair=parse_row(Pair, pair),
                share=Share(str(first_name), bool(size)),
                starts=tuple(parse_row(RevisionStart, start) for *start, _, _ in rows),
                first=max((number for number, *_, option, _ in rows if option == NEW_GAUGE), default=1),
                summaries={number: summary for number, *_, summary in rows if summary is not None},
                done=rounds_done(places_of[pair[0]]),
                remark=remark,
                gauge=None if assumed is None else GaugeFound(assumed, found, bool(undecided), bool(decided)),
            )


def _by_pair(rows: Iterable[tuple[Any, ...]]) -> defaultdict[int, list[tuple[Any, ...]]]:
    """Rows without the pair that each begins with, by that pair."""
    found: defaultdict[int, list[tuple[Any, ...]]] = defaultdict(list)
    for pair, *row in rows:
        found[pair].append(tuple(row))
    return found
