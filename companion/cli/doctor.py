"""Whether all is well with what the server keeps, in plain lines: first the answer, then the numbers."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from itertools import groupby
from pathlib import Path

from ..store import StoreError
from ..store.file.examination import Contents, Quarantined, examine
from ..store.file.in_use import is_in_use
from ..store.file.opening import BRING_BACK
from ..store.file.privacy import BESIDE, beside, is_shared, open_to_others
from ..store.tables import MIGRATIONS

LEAST_FREE = 100_000_000
"""Bytes on the disk (ours); a large group's counts take less in a year."""

MOST_LETTERS = 80
MOST_OF_A_PAIR = 20
"""Of what is set aside: the letters of each text that are shown, and how many of one pair."""

READ_LETTERS = 25 * MOST_LETTERS
"""So many that no link is cut off at the end of what is shown once others before it are left out."""

_MAY_HOLD_A_LINK = re.compile(r"[\w-]{20,}")


@dataclass
class _Findings:
    wrong: list[str] = field(default_factory=list)
    lines: list[str] = field(default_factory=list)


def look_over(path: Path, now: datetime) -> tuple[str, bool]:
    """Lines about the file, and whether all is well with it. Changes nothing."""
    found = _Findings()
    if path.is_file():
        _look_into(path, now, found)
        _look_around(path, found)
    else:
        found.wrong.append(
            f"{path} is not there. `companion serve` makes it; if that was elsewhere, name its folder with --data"
        )
    answer = [f"All is well with {path}."]
    if found.wrong:
        answer = ["Something is wrong:", *(f"- {one}." for one in found.wrong)]
    return "\n".join([*answer, *(["", *found.lines] if found.lines else [])]), not found.wrong


def _look_into(path: Path, now: datetime, found: _Findings) -> None:
    try:
        inside = examine(path, READ_LETTERS)
    except StoreError as error:
        found.wrong.append(str(error))
        return
    if inside.faults:
        found.wrong += [f"{path} is damaged: {fault}" for fault in inside.faults]
        found.wrong.append(BRING_BACK)
    found.lines += [
        f"Its version is {inside.version}"
        + ("." if inside.version == len(MIGRATIONS) else ", which the next start of the server brings up to date."),
        in_logbooks(inside.contents),
        _backup_words(inside.newest_backup, now),
        *quarantined(inside.quarantined),
    ]


def in_logbooks(kept: Contents) -> str:
    """How much is kept, in a line."""
    return (
        f"{amount(kept.pairs, 'pair')}, {amount(kept.designs, 'design')}, {amount(kept.entries, 'entry')} in logbooks, "
        f"{amount(kept.photos, 'photo')} ({size(kept.photo_bytes)})."
    )


def _backup_words(moment: str | None, now: datetime) -> str:
    try:
        made = datetime.fromisoformat(moment or "")
        days = (now - made).days
    except (ValueError, TypeError):
        return "No backup was made yet: `companion backup FILE` makes one."
    age = f"{amount(days, 'day')} ago" if days else "today"
    return f"Newest backup: {made:%Y-%m-%d %H:%M} UTC, {age}."


def quarantined(things: Sequence[Quarantined]) -> Iterator[str]:
    """What could not be read, by pair; a pair is named by its number, for its link is secret."""
    yield f"{amount(len(things), 'thing')} set aside that could not be read{':' if things else '.'}"
    for pair, of_pair in groupby(things, key=lambda thing: thing.pair):
        listed = list(of_pair)
        yield f"  Pair {pair}:"
        for one in listed[:MOST_OF_A_PAIR]:
            yield f"    {one.received[:10]} {_plain(one.what)}: {_plain(one.why)}: {_plain(one.raw)}"
        if len(listed) > MOST_OF_A_PAIR:
            yield f"    and {len(listed) - MOST_OF_A_PAIR} more"


def _plain(text: str) -> str:
    """The beginning of a text that anybody may have written, safe for a terminal and without what may be a link."""
    without = _MAY_HOLD_A_LINK.sub("(left out)", text)
    shown = "".join(letter if letter.isprintable() else ascii(letter)[1:-1] for letter in without)
    return shown if len(shown) <= MOST_LETTERS else shown[:MOST_LETTERS] + "…"


def _look_around(path: Path, found: _Findings) -> None:
    wal = beside(path, "-wal")
    beside_it = f", and {size(wal.stat().st_size)} in the WAL beside it" if wal.is_file() else ""
    served = "A server is running" if is_in_use(path) else "No server is running"
    free = shutil.disk_usage(path.parent).free
    found.lines[:0] = [
        f"{served}. The file has {size(path.stat().st_size)}{beside_it}. Free on its disk: {size(free)}.",
        *(
            f"Kept from before: {one.name}, {size(one.stat().st_size)}."
            for one in sorted(path.parent.glob(f"{path.stem}-*{path.suffix}"))
        ),
    ]
    if free < max(LEAST_FREE, path.stat().st_size):
        found.wrong.append(f"only {size(free)} are free on the disk of {path.parent}; make room")
    for one in (path, *(beside(path, ending) for ending in BESIDE)):
        if one.is_file() and open_to_others(one):
            found.wrong.append(f"other users of this computer can read {one}; start the server again, which closes it")
    if open_to_others(path.parent) and not is_shared(path.parent):
        found.wrong.append(f"other users of this computer can open {path.parent}; start the server again")


def amount(number: int, noun: str) -> str:
    """A number of things in words: "1 pair", "1,200 entries"."""
    plural = noun[:-1] + "ies" if noun.endswith("y") and noun[-2] not in "aeiou" else noun + "s"
    return f"{number:,} {noun if number == 1 else plural}"


def size(number: int) -> str:
    """Bytes in words, in units of 1,000."""
    for unit, divisor in (("GB", 1_000_000_000), ("MB", 1_000_000), ("kB", 1_000)):
        if number >= divisor:
            return f"{number / divisor:.1f} {unit}"
    return amount(number, "byte")
