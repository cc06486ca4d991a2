"""The links of a design: the first leader's, those of further leaders, and the one that is handed out to followers.

Of leaders' links only hashes are kept. The followers' link is kept as it is once others than the first leader have to
show it: whoever has the file can read all that it opens.
"""

from __future__ import annotations

from collections.abc import Callable

from pydantic import ConfigDict
from pydantic.dataclasses import dataclass

from ..database import Connections
from ..rows import parse_row, sha256
from .designs import DesignVersion

MOST_FURTHER = 10
"""Leaders of one design beside the first (ours)."""


@dataclass(frozen=True, config=ConfigDict(strict=True))
class FurtherLeader:
    """Somebody who leads beside the first: the `key` that her link is known by, her name, and since when (ISO 8601)."""

    key: str
    name: str
    since: str


class DesignLinks:
    """Who may open a design, in the store's file."""

    def __init__(self, connections: Connections, moment: Callable[[], str]) -> None:
        self._reading, self._writing = connections.reading, connections.writing
        self._moment = moment

    def is_first(self, leader_link: str) -> bool:
        """Whether a design has this as its first leader's link."""
        with self._reading() as db:
            sought = "SELECT 1 FROM designs WHERE leader_hash = ?"
            return db.execute(sought, (sha256(leader_link),)).fetchone() is not None

    def further(self, design: int) -> list[FurtherLeader]:
        """The further leaders of a design, as they came."""
        with self._reading() as db:
            rows = db.execute(
                "SELECT link_hash, name, created FROM further_leaders WHERE design = ? ORDER BY created, link_hash",
                (design,),
            ).fetchall()
        return [parse_row(FurtherLeader, row) for row in rows]

    def add(self, version: DesignVersion, link: str, name: str, handed_out: str) -> bool:
        """Let a further link open a design, and keep the followers' link for it to show.

        False where there are as many as a design may have.
        """
        with self._writing() as db:
            (there,) = db.execute("SELECT count(*) FROM further_leaders WHERE design = ?", (version.design,)).fetchone()
            if there >= MOST_FURTHER:
                return False
            db.execute(
                "INSERT INTO further_leaders (link_hash, design, name, created) VALUES (?, ?, ?, ?)",
                (sha256(link), version.design, name, self._moment()),
            )
            db.execute(
                "UPDATE designs SET handed_out = ? WHERE id = ? AND handed_out IS NULL", (handed_out, version.design)
            )
        return True

    def remove(self, design: int, key: str) -> None:
        """Take a further leader's link away; it may be gone already."""
        with self._writing() as db:
            db.execute("DELETE FROM further_leaders WHERE design = ? AND link_hash = ?", (design, key))

    def hand_out(self, design: int, follower_link: str) -> None:
        """Put another link for followers in the place of the one before, which opens nothing any more."""
        with self._writing() as db:
            db.execute(
                "UPDATE designs SET follower_hash = ?, handed_out = ? WHERE id = ?",
                (sha256(follower_link), follower_link, design),
            )

    def recovery(self, design: int) -> str | None:
        """The hash of the code that gives a first leader who has lost her link another; None where there is none."""
        with self._reading() as db:
            (found,) = db.execute("SELECT recovery_hash FROM designs WHERE id = ?", (design,)).fetchone()
        return None if found is None else str(found)

    def keep_recovery(self, design: int, code: str, handed_out: str) -> None:
        """Keep a recovery code in the place of the one before, and the followers' link, for the next leader's link to
        show."""
        with self._writing() as db:
            db.execute(
                "UPDATE designs SET recovery_hash = ?, handed_out = coalesce(handed_out, ?) WHERE id = ?",
                (sha256(code), handed_out, design),
            )

    def recover_by_code(self, code: str, leader_link: str) -> bool:
        """Give the design with this recovery code another first leader's link; neither the code nor the link before
        opens it any more. False where there is no such design."""
        with self._writing() as db:
            found = db.execute(
                "UPDATE designs SET leader_hash = ?, recovery_hash = NULL WHERE recovery_hash = ? RETURNING id",
                (sha256(leader_link), sha256(code)),
            ).fetchone()
        return found is not None

    def recover(self, follower_link: str, leader_link: str) -> bool:
        """Give the design that followers join by a link another first leader's link; the one before opens nothing.

        False where there is no such design.
        """
        with self._writing() as db:
            found = db.execute(
                "UPDATE designs SET leader_hash = ?, handed_out = ? WHERE follower_hash = ? RETURNING id",
                (sha256(leader_link), follower_link, sha256(follower_link)),
            ).fetchone()
        return found is not None
