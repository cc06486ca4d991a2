"""A pair's plans as rows of the revisions: those that were accepted, and those that were taken back."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from ..pair.file import KeptRevision
from ..pair.revisions import MOST_REVISIONS, Revision
from .database import Database
from .rows import parse_row
from .tables import DamagedPairError, FullPairError, StaleRevisionError

COLUMNS = ("number", "sock", "done", "other_done", "gauge_check", "option", "summary", "state", "created")
"""What is kept of a revision beside its plan."""

LOST = "This pair has lost its plan. The counts are kept."


def begin(db: Database, pair: int, plan: str, moment: str) -> None:
    """Keep the first plan of a pair."""
    db.execute(
        """INSERT INTO revisions (pair, number, sock, done, other_done, summary, plan, state, created)
        VALUES (?, 1, 1, 0, 0, '', ?, 'accepted', ?)""",
        (pair, plan, moment),
    )


def insert(db: Database, pair: int, revisions: Sequence[KeptRevision]) -> None:
    """Keep all plans of a pair as they were elsewhere."""
    db.executemany(
        f"INSERT INTO revisions ({', '.join(COLUMNS)}, plan, pair) VALUES ({'?, ' * len(COLUMNS)}?, ?)",
        [(*(getattr(one, name) for name in COLUMNS), json.dumps(one.plan), pair) for one in revisions],
    )


def all_kept(db: Database, pair: int) -> list[dict[str, Any]]:
    """What was inserted, as it would be read from JSON. Raises ValueError or TypeError where it no longer reads."""
    rows = db.execute(
        f"SELECT {', '.join(COLUMNS)}, plan FROM revisions WHERE pair = ? ORDER BY number", (pair,)
    ).fetchall()
    return [{**dict(zip(COLUMNS, values, strict=True)), "plan": json.loads(plan)} for *values, plan in rows]


def accepted(db: Database, pair: int) -> list[Revision]:
    """Those accepted, in the order of their numbers; never empty. Raises DamagedPairError."""
    rows = db.execute(
        """SELECT number, sock, done, other_done, summary, plan, coalesce(option, '') FROM revisions
        WHERE pair = ? AND state = 'accepted' ORDER BY number""",
        (pair,),
    ).fetchall()
    if not rows:
        raise DamagedPairError(LOST)
    return [parse_row(Revision, row) for row in rows]


def after(db: Database, pair: int, number: int) -> list[Revision]:
    """Those above a number, taken back ones included. Raises DamagedPairError."""
    rows = db.execute(
        """SELECT number, sock, done, other_done, summary, plan, coalesce(option, '') FROM revisions
        WHERE pair = ? AND number > ? ORDER BY number""",
        (pair, number),
    ).fetchall()
    return [parse_row(Revision, row) for row in rows]


def newest(db: Database, pair: int) -> int:
    """The number of the newest that was accepted. Raises DamagedPairError when there is none left."""
    row = db.execute("SELECT max(number) FROM revisions WHERE pair = ? AND state = 'accepted'", (pair,)).fetchone()
    if row[0] is None:
        raise DamagedPairError(LOST)
    return int(row[0])


def add(db: Database, pair: int, change: Revision, gauge_check: str, moment: str) -> int:
    """Keep an accepted change of the plan that `change.number` names; returns its own number.

    Raises StaleRevisionError when that is not the newest by now, FullPairError.
    """
    db.lock("pairs", [pair])
    if newest(db, pair) != change.number:
        raise StaleRevisionError("The plan was changed from elsewhere in the meantime.")
    count, highest = db.execute("SELECT count(*), max(number) FROM revisions WHERE pair = ?", (pair,)).fetchone()
    if count >= MOST_REVISIONS:
        raise FullPairError(
            f"The plan of this pair was changed {MOST_REVISIONS:,} times, and no more changes are kept. "
            "Go on by the plan as it is."
        )
    db.execute(
        """INSERT INTO revisions
        (pair, number, sock, done, other_done, gauge_check, option, summary, plan, state, created)
        VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, 'accepted', ?)""",
        (
            pair, highest + 1, change.sock, change.done, change.other_done, gauge_check, change.option,
            change.summary, change.plan, moment,
        ),
    )  # fmt: skip
    return int(highest) + 1


def withdraw(db: Database, pair: int, number: int) -> None:
    """Mark an accepted change as taken back. Raises StaleRevisionError when it is not the newest, or is the first."""
    db.lock("pairs", [pair])
    if number == 1 or newest(db, pair) != number:
        raise StaleRevisionError("The plan was changed from elsewhere in the meantime.")
    db.execute("UPDATE revisions SET state = 'withdrawn' WHERE pair = ? AND number = ?", (pair, number))
