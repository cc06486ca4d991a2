"""The photos that leaders have put beside their notes."""

from __future__ import annotations

from ..database import Connections


class Photos:
    """A photo for each part of a design that has one. They belong to the design, whatever its version."""

    def __init__(self, connections: Connections) -> None:
        self._connections = connections

    def keep(self, design: int, part: str, image: bytes) -> None:
        """Keep a photo in the place of the one before."""
        with self._connections.writing() as db:
            db.execute(
                "INSERT INTO photos VALUES (?, ?, ?) ON CONFLICT (design, part) DO UPDATE SET image = excluded.image",
                (design, part, image),
            )

    def remove(self, design: int, part: str) -> None:
        """Take a photo away; there may be none."""
        with self._connections.writing() as db:
            db.execute("DELETE FROM photos WHERE design = ? AND part = ?", (design, part))

    def parts(self, design: int) -> set[str]:
        """The parts that have a photo."""
        with self._connections.reading() as db:
            return {str(part) for (part,) in db.execute("SELECT part FROM photos WHERE design = ?", (design,))}

    def find(self, design: int, part: str) -> bytes | None:
        """The photo of a part, if there is one."""
        with self._connections.reading() as db:
            row = db.execute("SELECT image FROM photos WHERE design = ? AND part = ?", (design, part)).fetchone()
        return bytes(row[0]) if row and isinstance(row[0], bytes) else None
