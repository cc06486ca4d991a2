"""Logbook entries as rows of the log, and back."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from contextlib import suppress
from operator import attrgetter, itemgetter
from typing import Any, TypeAlias

from ..pair.logbook import HIGHEST_CLOCK, MOST_ENTRIES, MOVES, Entry
from . import folded, kept_ends, seats
from .database import Database, Given
from .kept_ends import Moved
from .rows import JSON, PLAIN
from .tables import FullPairError

Row: TypeAlias = tuple[int, dict[str, Any]]
"""An entry's number, and what is kept of it."""


COLUMNS = (*PLAIN, *JSON, "pair", "received")

BATCH = 50
"""Entries that are kept by one statement: as many as a long evening has counts (ours)."""

plain = attrgetter(*PLAIN)
"""The values of an entry in the order of PLAIN."""
moved = attrgetter(*Moved._fields[1:])
"""The values of a move in the order of Moved, after its number."""


def insert(db: Database, pair: int, entries: Sequence[Entry], received: str) -> bool:
    """Keep entries; one whose id is there already stays as it was first written.

    What is withdrawn by now loses what it said, and so do the revisions that have a check written beside them.
    Returns whether that erased anything. Raises FullPairError.
    """
    db.lock("pairs", [pair])
    before, there, packed = db.execute(FOUND, {"pair": pair}).fetchone()
    if packed:
        folded.unfold(db, pair)
    new = [
        one
        for start in range(0, len(entries), BATCH)
        for one in _new(db, pair, entries[start : start + BATCH], received)
    ]
    if new and there + packed + len(new) > MOST_ENTRIES:
        raise FullPairError(
            f"The logbook of this pair is full: {MOST_ENTRIES:,} entries are kept of a pair. "
            "Export the pair, and plan the next one from it."
        )
    moves = [Moved(number, *moved(one)) for number, one in new if one.kind in MOVES]
    kept_ends.keep(db, pair, before, moves)
    if any(one.kind == "decision" for one in entries):
        db.execute("DELETE FROM standings WHERE pair = ?", (pair,))  # as triggers do for what else it is made from
    seats.keep(db, pair)
    if MOVES.issuperset(one.kind for one in entries):
        return False
    return _empty_withdrawn(db, pair)


FOUND = """
    SELECT coalesce(max(number), 0), count(*), coalesce((SELECT entries FROM folded WHERE pair = :pair), 0)
    FROM log WHERE pair = :pair"""
"""The number of the newest entry of a pair, which is never folded, how many there are, and how many are folded."""


def _new(db: Database, pair: int, entries: Sequence[Entry], received: str) -> Iterator[tuple[int, Entry]]:
    """Keep entries by one statement; those that were not there yet, with the numbers that they got."""
    row = f"({'?, ' * (len(COLUMNS) - 1)}?)"
    found = db.execute(
        f"""INSERT INTO log ({", ".join(COLUMNS)}) VALUES {", ".join([row] * len(entries))}
        ON CONFLICT (pair, id) DO NOTHING RETURNING number, id""",
        [value for one in entries for value in (*plain(one), _json(one.data), _json(one.after), pair, received)],
    ).fetchall()
    first = {one.id: one for one in reversed(entries)}
    for number, name in sorted(found):
        yield number, first[name]


def _empty_withdrawn(db: Database, pair: int) -> bool:
    """Take what withdrawn remarks said out of the log, whichever of remark and withdrawal came first."""
    given = db.execute("SELECT data FROM log WHERE pair = ? AND kind = 'withdrawal'", (pair,)).fetchall()
    names = {_withdrawn(data) for (data,) in given} - {None}
    erased = {kind for name in names for (kind,) in db.execute(EMPTY, (pair, name)).fetchall()}
    if "check" in erased:
        db.execute("UPDATE revisions SET gauge_check = NULL WHERE pair = ?", (pair,))
    return bool(erased)


EMPTY = """
    UPDATE log SET data = NULL WHERE pair = ? AND id = ? AND kind <> 'withdrawal' AND data IS NOT NULL
    RETURNING kind"""


def _withdrawn(data: object) -> str | None:
    """The name of the entry that a withdrawal takes back; None where that no longer reads."""
    with suppress(ValueError, TypeError, KeyError):
        name = json.loads(data)["entry"]  # type: ignore[arg-type]
        return name if isinstance(name, str) else None
    return None


def _json(value: object) -> str | None:
    return None if value is None else json.dumps(value)


def newest(db: Database, pair: int) -> int:
    """The number of a pair's newest entry, 0 when it has none."""
    row = db.execute("SELECT number FROM log WHERE pair = ? ORDER BY number DESC LIMIT 1", (pair,)).fetchone()
    return int(row[0]) if row else 0


NAMES = ", ".join((*PLAIN, *JSON))


def as_data(values: Sequence[Any]) -> dict[str, Any]:
    """What a row has of an entry, in the order of PLAIN and JSON, as it would be read from JSON."""
    data = dict(zip((*PLAIN, *JSON), values, strict=True))
    for name in JSON:
        with suppress(ValueError, TypeError):  # what is no JSON is shown as it stands
            data[name] = data[name] and json.loads(data[name])
    return data


def rows(db: Database, condition: str, given: Given) -> list[Row]:
    """The rows for which a condition holds, in the order of their numbers; none that is folded."""
    found = db.execute(f"SELECT number, {NAMES} FROM log WHERE {condition} ORDER BY number", given)
    return [(number, as_data(values)) for number, *values in found]


SINCE = f"""
    SELECT number, {NAMES}, NULL FROM log WHERE pair = :pair AND number > :after
    UNION ALL SELECT last, {"NULL, " * len((*PLAIN, *JSON))}counts FROM folded WHERE pair = :pair AND last > :after"""
"""By one statement, so that all is of one moment: what is folded goes from one table into the other."""


def since(db: Database, pair: int, after: int) -> list[Row]:
    """All that came after a number, folded or not, in the order of their numbers."""
    found: list[Row] = []
    for number, *values, packed in db.execute(SINCE, {"pair": pair, "after": after}):
        if packed is None:
            found.append((number, as_data(values)))
        else:
            found += [(row[0], as_data(row[1:-1])) for row in folded.unpack(packed) if row[0] > after]
    return sorted(found, key=itemgetter(0))


def newest_rows(db: Database, pair: int, most: int) -> list[Row]:
    """Those that came last, folded or not, at most so many. All of one moment where the connection's reading is."""
    if db.execute("SELECT 1 FROM folded WHERE pair = ?", (pair,)).fetchone():
        return since(db, pair, 0)[-most:]
    last = "pair = :pair AND number IN (SELECT number FROM log WHERE pair = :pair ORDER BY number DESC LIMIT :most)"
    return rows(db, last, {"pair": pair, "most": most})


def highest_clock(db: Database, pair: int) -> int:
    """The highest clock in a pair's log, 0 when it is empty; what has it is never folded."""
    # In SQLite anything that is no number comes after all numbers.
    found = db.execute("SELECT max(clock) FROM log WHERE pair = ? AND clock <= ?", (pair, HIGHEST_CLOCK)).fetchone()
    return int(found[0] or 0)
