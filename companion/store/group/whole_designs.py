"""Designs that come from another server, with all that belongs to their groups but the pairs."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from ...planning.plan.document import PartOfSock
from ..database import Connections
from ..rows import sha256
from ..tables import LinkTakenError
from .design_links import FurtherLeader
from .designs import begin
from .waiting import Waits, let_wait


@dataclass(frozen=True)
class WholeDesign:
    """The versions of a design from the first to the newest, in JSON text, its photos by part, and when it ended.

    `told` are its announcements, the oldest first, each with its moment (ISO 8601); `waiting` are the
    changes that wait, and `recovery` is the hash of the code for a leader who has lost her link.
    """

    documents: Sequence[str]
    photos: Mapping[PartOfSock, bytes]
    ended: str | None = None
    told: Sequence[tuple[str, str]] = ()
    further: Sequence[FurtherLeader] = ()
    waiting: Sequence[Waits] = ()
    recovery: str | None = None


class WholeDesigns:
    """Designs with everything, in the store's file."""

    def __init__(self, connections: Connections, moment: Callable[[], str]) -> None:
        self._reading, self._writing = connections.reading, connections.writing
        self._moment = moment

    def add(self, leader_link: str, follower_link: str, whole: WholeDesign) -> None:
        """Keep a design under these links. Raises LinkTakenError where one of its links opens a design already."""
        hashes = sha256(leader_link), sha256(follower_link)
        keys = [hashes[0], *(one.key for one in whole.further)]
        with self._writing() as db:
            taken = [
                db.execute("SELECT 1 FROM designs WHERE leader_hash = ? OR follower_hash = ?", hashes).fetchone(),
                *(db.execute("SELECT 1 FROM further_leaders WHERE link_hash = ?", (key,)).fetchone() for key in keys),
            ]
            if any(taken):
                raise LinkTakenError("This design is here already.")
            design = begin(db, leader_link, follower_link, whole.documents, self._moment())
            db.execute(
                "UPDATE designs SET ended = ?, handed_out = ?, recovery_hash = ? WHERE id = ?",
                (whole.ended, follower_link, whole.recovery, design),
            )
            db.executemany(
                "INSERT INTO photos (design, part, image) VALUES (?, ?, ?)",
                [(design, part, image) for part, image in whole.photos.items()],
            )
            db.executemany(
                "INSERT INTO announcements (design, at, words) VALUES (?, ?, ?)",
                [(design, at, words) for at, words in whole.told],
            )
            db.executemany(
                "INSERT INTO further_leaders (link_hash, design, name, created) VALUES (?, ?, ?, ?)",
                [(one.key, design, one.name, one.since) for one in whole.further],
            )
            let_wait(db, design, whole.waiting)

    def documents(self, design: int) -> list[str]:
        """Every version of a design, the newest last."""
        with self._reading() as db:
            rows = db.execute(
                "SELECT document FROM design_versions WHERE design = ? ORDER BY number", (design,)
            ).fetchall()
        return [str(document) for (document,) in rows]
