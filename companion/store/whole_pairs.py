"""Pairs that come with everything from elsewhere, or go there."""

from __future__ import annotations

from collections.abc import Sequence

from ..pair.file import VERSION, Follows, PairFile
from ..pair.logbook import Entry
from . import log, plans
from .database import Database
from .rows import Pair
from .tables import DamagedPairError


def insert(db: Database, pair: int, whole: PairFile, moment: str) -> None:
    """Keep the plans and the logbook of a pair that was begun here, and let it follow its design where that is here."""
    plans.insert(db, pair, whole.revisions)
    log.insert(db, pair, whole.log, moment)
    if whole.follows:
        _follow_again(db, pair, whole.follows)


def read(db: Database, pair: Pair, entries: Sequence[Entry]) -> PairFile:
    """Everything that is kept of a pair but its link. Raises DamagedPairError when it no longer reads."""
    try:
        follows = _followed_by(db, pair.id)
        return PairFile.model_validate(
            {
                "format": "tapeline pair", "version": VERSION if follows else 1, "title": pair.title,
                "unit": pair.unit, "revisions": plans.all_kept(db, pair.id), "log": entries, "follows": follows,
            }
        )  # fmt: skip
    except (ValueError, TypeError) as error:
        raise DamagedPairError("This pair cannot be read any more. It is kept as it is.") from error


def _followed_by(db: Database, pair: int) -> Follows | None:
    """The design that a pair follows, as other servers know it. What was taken over stands in the plans beside."""
    row = db.execute(
        """SELECT d.follower_hash, f.version, f.left_version FROM followers f JOIN designs d ON d.id = f.design
        WHERE f.pair = ?""",
        (pair,),
    ).fetchone()
    return Follows(design=row[0], version=row[1], left=row[2]) if row else None


def _follow_again(db: Database, pair: int, follows: Follows) -> None:
    """Let a pair that was brought here follow its design, where that is here."""
    db.execute(
        """INSERT INTO followers (pair, design, version, left_version, seen)
        SELECT :pair, id, :version, :left,
            coalesce((SELECT max(number) FROM announcements WHERE design = designs.id), 0)
        FROM designs WHERE follower_hash = :design""",
        {"pair": pair, **follows.model_dump()},
    )
