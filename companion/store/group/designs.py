"""What is kept of designs: their versions, and the pairs that follow them."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from pydantic import ConfigDict
from pydantic.dataclasses import dataclass

from ..database import Connections, Database, largest
from ..rows import Pair, fresh_number, parse_row, sha256
from ..tables import StaleDesignError
from .announcements import announce
from .waiting import Waits, let_wait

BY_DESIGN = "design "
"""How the `option` of a revision begins that was made by taking a version of the design over; its number follows."""

TAKEN_OVER = f"""(
    SELECT max(CAST(substr(option, {len(BY_DESIGN) + 1}) AS INTEGER)) FROM revisions
    WHERE pair = f.pair AND state = 'accepted' AND substr(option, 1, {len(BY_DESIGN)}) = '{BY_DESIGN}')"""
"""The newest version that was taken over, for a row `f` of those who follow."""


@dataclass(frozen=True, config=ConfigDict(strict=True))
class DesignVersion:
    """A design as it stood when it was saved: the design's id, the version's number, and its JSON text.

    Of the design itself: the moment at which its group `ended`, if it has, and the followers' link that is
    `handed_out`, None while that is the one made of the leader's.
    """

    design: int
    number: int
    document: str
    ended: str | None = None
    handed_out: str | None = None


@dataclass(frozen=True, config=ConfigDict(strict=True))
class Following:
    """The design that a pair follows, the version that its plan was last made by, and the newest that was left."""

    design: int
    version: int
    left: int = 0


def begin(db: Database, leader_link: str, follower_link: str, documents: Sequence[str], moment: str) -> int:
    """Begin a design with its versions, one or more; returns its number."""
    number = fresh_number(db, "designs")
    db.execute(
        "INSERT INTO designs (id, leader_hash, follower_hash, created) VALUES (?, ?, ?, ?)",
        (number, sha256(leader_link), sha256(follower_link), moment),
    )
    db.executemany(
        "INSERT INTO design_versions VALUES (?, ?, ?, ?)",
        [(number, version, document, moment) for version, document in enumerate(documents, start=1)],
    )
    return number


class Designs:
    """The designs in the store's file. Of a design's links only hashes are kept."""

    def __init__(self, connections: Connections, moment: Callable[[], str]) -> None:
        self._connections = connections
        self._reading, self._writing = connections.reading, connections.writing
        self._moment = moment

    def add(self, leader_link: str, follower_link: str, document: str) -> None:
        """Begin a design with its first version."""
        with self._writing() as db:
            begin(db, leader_link, follower_link, [document], self._moment())

    def copy(self, version: DesignVersion, leader_link: str, follower_link: str) -> None:
        """Begin a design as another one is, with its photos and what waits, and without those who follow it."""
        with self._writing() as db:
            number = begin(db, leader_link, follower_link, [version.document], self._moment())
            db.execute(
                "INSERT INTO photos (design, part, image) SELECT ?, part, image FROM photos WHERE design = ?",
                (number, version.design),
            )
            db.execute(
                """INSERT INTO waiting (design, day, at, document)
                SELECT ?, day, at, document FROM waiting WHERE design = ?""",
                (number, version.design),
            )

    def led_by(self, leader_link: str) -> DesignVersion | None:
        """The newest version of the design with this leader's link, the first or a further one, if there is one."""
        return self._newest(
            """d.id IN (SELECT id FROM designs WHERE leader_hash = ?
                UNION ALL SELECT design FROM further_leaders WHERE link_hash = ?)""",
            *[sha256(leader_link)] * 2,
        )

    def joined_by(self, follower_link: str) -> DesignVersion | None:
        """The newest version of the design with this follower's link, if there is one."""
        return self._newest("d.follower_hash = ?", sha256(follower_link))

    def newest(self, design: int) -> DesignVersion | None:
        """The newest version of a design."""
        return self._newest("d.id = ?", design)

    def _newest(self, condition: str, *values: str | int) -> DesignVersion | None:
        with self._reading() as db:
            row = db.execute(
                f"""SELECT v.design, v.number, v.document, d.ended, d.handed_out
                FROM designs d JOIN design_versions v ON v.design = d.id
                WHERE {condition} ORDER BY v.number DESC LIMIT 1""",
                values,
            ).fetchone()
        return parse_row(DesignVersion, row) if row else None

    def version(self, design: int, number: int) -> DesignVersion | None:
        """One version of a design."""
        with self._reading() as db:
            row = db.execute(
                "SELECT design, number, document FROM design_versions WHERE design = ? AND number = ?", (design, number)
            ).fetchone()
        return parse_row(DesignVersion, row) if row else None

    def add_version(
        self, before: DesignVersion, document: str, news: str = "", waiting: Sequence[Waits] | None = None
    ) -> None:
        """Keep a changed design, and tell those who follow it the news, if there are any.

        What is `waiting`, if given, takes the place of what waited. Raises StaleDesignError when `before` is not its
        newest version any more.
        """
        with self._writing() as db:
            db.lock("designs", [before.design])
            (newest,) = db.execute(
                "SELECT max(number) FROM design_versions WHERE design = ?", (before.design,)
            ).fetchone()
            if newest != before.number:
                raise StaleDesignError("The design was changed from elsewhere in the meantime.")
            db.execute(
                "INSERT INTO design_versions VALUES (?, ?, ?, ?)",
                (before.design, before.number + 1, document, self._moment()),
            )
            if news:
                announce(db, before.design, news, self._moment())
            if waiting is not None:
                db.execute("DELETE FROM waiting WHERE design = ?", (before.design,))
                let_wait(db, before.design, waiting)
        if waiting is not None:
            self._connections.wipe()

    def end(self, design: int) -> None:
        """Let a group have ended: its design is as it is. One that has ended already keeps its moment."""
        with self._writing() as db:
            db.execute("UPDATE designs SET ended = ? WHERE id = ? AND ended IS NULL", (self._moment(), design))

    def reopen(self, design: int) -> None:
        """Let a group that has ended go on."""
        with self._writing() as db:
            db.execute("UPDATE designs SET ended = NULL WHERE id = ?", (design,))

    def followed_by(self, pair: Pair) -> Following | None:
        """The design that a pair follows, if any. A version taken over and withdrawn again counts as not taken."""
        with self._reading() as db:
            row = db.execute(
                f"""SELECT f.design, {largest("f.version", TAKEN_OVER)}, f.left_version
                FROM followers f WHERE f.pair = ?""",
                (pair.id,),
            ).fetchone()
        return parse_row(Following, row) if row else None

    def unfollow(self, pair: Pair) -> int:
        """Let a pair be one of its own from now on; what it shared is gone from the file.

        Returns up to which number it had put away what was told.
        """
        with self._connections.writing() as db:
            for table in ("seats", "parts", "standings", "shares", "glimpses"):
                db.execute(f"DELETE FROM {table} WHERE pair = ?", (pair.id,))
            gone = db.execute("DELETE FROM followers WHERE pair = ? RETURNING seen", (pair.id,)).fetchone()
        self._connections.wipe()
        return int(gone[0]) if gone else 0

    def follow_again(self, pair: Pair, before: Following, seen: int) -> bool:
        """Let a pair that has left a design follow it as it did, with what it had `seen` of what was told.

        False where the design is gone, or the pair follows one.
        """
        with self._writing() as db:
            known = "EXISTS (SELECT 1 FROM designs WHERE id = :design)"
            alone = "NOT EXISTS (SELECT 1 FROM followers WHERE pair = :pair)"
            added = db.execute(
                f"""INSERT INTO followers (pair, design, version, left_version, seen)
                SELECT :pair, :design, :version, :left, :seen WHERE {known} AND {alone}""",
                {
                    "pair": pair.id,
                    "design": before.design,
                    "version": before.version,
                    "left": before.left,
                    "seen": seen,
                },
            )
        return added.rowcount > 0

    def leave(self, pair: Pair, version: int) -> None:
        """Let a pair stay as it is planned, whatever this version of its design has changed."""
        with self._writing() as db:
            db.execute("UPDATE followers SET left_version = ? WHERE pair = ?", (version, pair.id))

    def count_followers(self, design: int) -> int:
        """How many pairs follow a design."""
        with self._reading() as db:
            (count,) = db.execute("SELECT count(*) FROM followers WHERE design = ?", (design,)).fetchone()
        return int(count)
