"""What nearly every page needs of a logbook: a few rows, however many thousand counts there are."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from ..pair.logbook import THIS_SERVER, Entry, Sock
from . import log
from .database import Database
from .kept_ends import A_MOVE, AN_END

LANDMARK = f"(NOT {A_MOVE} OR device = '{THIS_SERVER}')"
"""All but what a knitter's own counting leaves behind: remarks, and the moves that the server itself has written."""

BEFORE = f"""
    SELECT (
        SELECT number FROM log
        WHERE pair = l.pair AND sock = socks.sock AND {A_MOVE} AND clock <= l.clock
        AND (clock, device, id) < (l.clock, l.device, l.id)
        ORDER BY clock DESC, device DESC, id DESC LIMIT 1)
    FROM log l, (SELECT 1 AS sock UNION ALL SELECT 2) socks
    WHERE pair = :pair AND {LANDMARK} AND kind IN ('check', 'weighing', 'go')"""
"""The last move of each sock before each landmark that is read by where the socks were."""


@dataclass(frozen=True)
class LogDigest:
    """What is known of a pair from its logbook, at one moment.

    `cursor` is the number of the newest entry, and `ends` are the moves of each sock that no other goes on from.
    `entries` has every remark, every move that the server has written, and the last move of each sock before each of
    them: as much of the logbook as tells the same of checks, weighings and lengths as the whole.
    """

    cursor: int
    ends: dict[Sock, list[Entry]]
    entries: list[Entry]


class Rows(NamedTuple):
    """The same as it stands in the file."""

    cursor: int
    ends: list[log.Row]
    entries: list[log.Row]


def rows(db: Database, pair: int) -> Rows:
    """Read it."""
    with db.snapshot():
        return within(db, pair)


def within(db: Database, pair: int) -> Rows:
    """The same within a transaction."""
    return Rows(
        cursor=log.newest(db, pair),
        ends=log.rows(db, AN_END, {"pair": pair}),
        entries=log.rows(
            db,
            f"pair = :pair AND number IN (SELECT number FROM log WHERE pair = :pair AND {LANDMARK} UNION {BEFORE})",
            {"pair": pair},
        ),
    )
