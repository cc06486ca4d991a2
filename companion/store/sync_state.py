"""What a phone hears of a pair at each sync, and whether it has met this store before: a few rows."""

from __future__ import annotations

from typing import NamedTuple

from ..pair.logbook import SOCKS, Sock
from . import log
from .database import Database
from .plans import LOST
from .tables import DamagedPairError

EPOCH = "(SELECT value FROM meta WHERE name = 'epoch')"


class SyncState(NamedTuple):
    """Where a pair is at a sync: the number of its newest accepted plan, and the rounds done of each sock, as
    `logbook.rounds_done` counts them in the whole logbook. With the epoch of the store, "" where it has none yet."""

    epoch: str
    revision: int
    done: dict[Sock, int]


def sync_state(db: Database, pair: int) -> SyncState:
    """The state of a pair. Raises DamagedPairError where no plan is left."""
    row = db.execute(
        f"""SELECT {EPOCH}, (SELECT max(number) FROM revisions WHERE pair = :pair AND state = 'accepted'),
            (SELECT round FROM places WHERE pair = :pair AND sock = 1),
            (SELECT round FROM places WHERE pair = :pair AND sock = 2)""",
        {"pair": pair},
    ).fetchone()
    epoch, revision, *rounds = row
    if revision is None:
        raise DamagedPairError(LOST)
    return SyncState(epoch or "", int(revision), {sock: done or 0 for sock, done in zip(SOCKS, rounds, strict=True)})


def met_before(db: Database, pair: int, epoch: str | None, number: int, name: str | None) -> bool:
    """Whether this is the store that a phone has met before: it has this epoch, and the entry of this number has this
    id. What the phone does not know is None."""
    same, there = db.execute(
        f"SELECT {EPOCH} = :epoch, EXISTS (SELECT 1 FROM log WHERE pair = :pair AND number = :number AND id = :name)",
        {"epoch": epoch, "pair": pair, "number": number, "name": name},
    ).fetchone()
    if epoch is not None and not same:
        return False
    return name is None or bool(there) or _folded(db, pair, number) == name


def _folded(db: Database, pair: int, number: int) -> object:
    """The id of an entry that may be folded, None where there is none of this number."""
    found = log.since(db, pair, number - 1)
    return found[0][1]["id"] if found and found[0][0] == number else None
