"""What is in the PostgreSQL database, and whether the store can use it."""

from __future__ import annotations

from collections.abc import Iterator

from ..database import Statements
from ..file.examination import Examination, Quarantined, contents
from ..tables import StoreUnavailableError
from .connections import ServerDatabase, connected
from .tables import version_of

WITHOUT_A_PLAN = """
    SELECT count(*) FROM pairs p WHERE NOT EXISTS (
    SELECT 1 FROM revisions WHERE pair = p.id AND state = 'accepted')"""
"""What must not be there and no constraint forbids."""

NOT_DURABLE = """
    SELECT name FROM pg_settings WHERE name IN ('fsync', 'full_page_writes') AND setting = 'off' ORDER BY name"""
"""Settings with which a computer that fails takes along what was acknowledged."""


def examine(url: str, letters: int) -> Examination:
    """Look through a database, which may be in use; of each text that was set aside, take so many letters.

    Raises NotAStoreError, StoreUnavailableError.
    """
    with connected(url) as connection:
        db = ServerDatabase(connection)
        version = version_of(db)
        if not version:
            raise StoreUnavailableError("The database is empty: no server has kept anything in it yet")
        tables = {str(name) for (name,) in db.execute("SELECT tablename FROM pg_tables WHERE schemaname = 'public'")}
        aside = db.execute(
            "SELECT pair, what, why, left(raw, ?), received FROM set_aside ORDER BY pair, received", (letters,)
        )
        return Examination(
            version=version,
            faults=list(_faults(db)),
            contents=contents(db, tables),
            newest_backup=None,
            quarantined=[Quarantined(int(pair), *map(str, words)) for pair, *words in aside],
        )


def _faults(db: Statements) -> Iterator[str]:
    [lost] = db.execute(WITHOUT_A_PLAN).fetchone()
    if lost:
        yield f"pairs without a plan: {lost}"
    for (name,) in db.execute(NOT_DURABLE):
        yield f"{name} is off: what was acknowledged may be lost with the power; set it to on in postgresql.conf"
