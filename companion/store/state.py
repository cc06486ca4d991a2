"""The state of a pair: a value that is another one as soon as anything about the pair changes."""

from __future__ import annotations

from typing import TypeAlias

from .database import Connections
from .rows import Pair

State: TypeAlias = tuple[object, ...]
"""Where two are equal nothing of the pair has changed in between; no other module reads what stands in one."""


def state_of(connections: Connections, pair: Pair) -> State:
    """Title and unit, plan, logbook, what is shared, and the design that is followed, with its photos and announcements
    and whether its group has ended.

    Numbers stand for what they number: plans, entries and versions never change while the file is not
    replaced by a backup, which gives it another epoch. The newest accepted revision names all
    that are accepted, as only the newest can be taken back and its number is not given again; so do the newest
    announcement and how many there are, as none is ever added below it.
    """
    with connections.reading() as db:
        row: State = db.execute(
            """SELECT (SELECT value FROM meta WHERE name = 'epoch'), p.id, p.title, p.unit,
                (SELECT max(number) FROM revisions WHERE pair = p.id AND state = 'accepted'),
                (SELECT number FROM log WHERE pair = p.id ORDER BY number DESC LIMIT 1),
                s.first_name, s.size, f.design, f.version, f.left_version, f.seen,
                (SELECT max(number) FROM design_versions WHERE design = f.design),
                (SELECT count(*) FROM announcements WHERE design = f.design),
                (SELECT max(number) FROM announcements WHERE design = f.design),
                (SELECT ended FROM designs WHERE id = f.design)
            FROM pairs p LEFT JOIN followers f ON f.pair = p.id LEFT JOIN shares s ON s.pair = p.id
            WHERE p.id = ?""",
            (pair.id,),
        ).fetchone()
        photos = db.execute(
            "SELECT part FROM photos WHERE design = (SELECT design FROM followers WHERE pair = ?) ORDER BY part",
            (pair.id,),
        ).fetchall()
    return (row, photos)
