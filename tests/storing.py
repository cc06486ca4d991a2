"""A store's file, looked at and damaged past the program."""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

from companion.pair.logbook import Entry
from companion.store import Pair, Store
from companion.store.quarantine import Unreadable

LINK = "a-link-nobody-guesses1"

_COUNTING = """
import sys
from pathlib import Path
from companion.pair.logbook import Entry
from companion.store import Store
store = Store(Path(sys.argv[1]))
pair = store.find_pair(sys.argv[2])
first = Entry.model_validate_json(sys.argv[3])
for number in range(1, int(sys.argv[4]) + 1):
    name = f"{first.id[:-12]}{number:012x}"
    store.add_entries(pair, [first.model_copy(update={"id": name, "clock": number, "round": number})])
    print(number, flush=True)
store.close()
"""


def counting(path: Path, link: str, first: Entry, many: int) -> subprocess.Popen[str]:
    """Another program that counts so many rounds of a pair like the first, and says which it has kept."""
    command = [sys.executable, "-c", _COUNTING, str(path), link, first.model_dump_json(), str(many)]
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True)


def add_pair(store: Store) -> Pair:
    """A pair with a plan of its own, under the link."""
    return store.add_pair(LINK, "Thursday socks", "cm", '{"first": true}')


def rows(path: Path, sql: str) -> list[tuple[object, ...]]:
    """What the file answers."""
    db = sqlite3.connect(path)
    found = db.execute(sql).fetchall()
    db.close()
    return found


def quarantined(path: Path, pair: Pair) -> list[Unreadable]:
    """What is in quarantine of a pair, in the order in which it came."""
    with closing(sqlite3.connect(path)) as db:
        found = db.execute("SELECT what, why, raw FROM set_aside WHERE pair = ? ORDER BY rowid", (pair.id,))
        return [Unreadable(*row) for row in found]


def damaged(path: Path, sql: str, *values: object) -> None:
    """Change the file; `values` stand for the question marks."""
    db = sqlite3.connect(path)
    db.execute(sql, values)
    db.commit()
    db.close()


def copied(source: Path, target: Path) -> None:
    """Put one database into the place of another, as whoever has it open sees it at the next look."""
    with closing(sqlite3.connect(source)) as reading, closing(sqlite3.connect(target)) as writing:
        writing.execute("PRAGMA synchronous = OFF")
        reading.backup(writing)


def written(path: Path, pair: Pair, *entries: Entry) -> None:
    """Put entries into a file as an older version of the program did, which kept less beside them."""
    for one in entries:
        values = {name: getattr(one, name) for name in ("id", "device", "clock", "at", "sock", "kind", "round")}
        damaged(
            path,
            f"INSERT INTO log ({', '.join(values)}, pair, received) VALUES ({'?, ' * len(values)}?, '')",
            *values.values(),
            pair.id,
        )


def overwritten(path: Path, table: str) -> None:
    """Fill the first page of a table with ones, as a failing disk may."""
    [(page,)] = rows(path, f"SELECT rootpage FROM sqlite_master WHERE name = '{table}'")
    [(size,)] = rows(path, "PRAGMA page_size")
    assert isinstance(page, int)
    assert isinstance(size, int)
    with path.open("r+b") as file:
        file.seek((page - 1) * size)
        file.write(b"\xff" * size)


def emptied(path: Path, start: int, end: int) -> None:
    """Fill some bytes of a file with zeros."""
    with path.open("r+b") as file:
        file.seek(start)
        file.write(bytes(end - start))


DAMAGE: dict[str, Callable[[Path], object]] = {
    "the first bytes are lost": lambda path: emptied(path, 0, 100),
    "the list of tables is lost": lambda path: emptied(path, 100, 4096),
    "a table is lost": lambda path: damaged(path, "DROP TABLE log"),
    "a trigger is lost": lambda path: damaged(path, "DROP TRIGGER a_move_is_kept"),
    "the version is lost": lambda path: damaged(path, "PRAGMA user_version = 0"),
    "the pairs are overwritten": lambda path: overwritten(path, "pairs"),
    "only the first page is there": lambda path: os.truncate(path, 4096),
    "the last half is cut off": lambda path: os.truncate(path, path.stat().st_size // 2),
}
"""Ways in which a file comes to harm."""
