"""Deleting pairs and designs that nobody has touched for a long time, and making room of what rests."""

from __future__ import annotations

import argparse
import calendar
import re
import time
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

from ..store import Store, StoreUnavailableError
from ..store.deleting import Untouched
from .doctor import amount
from .folding import fold_finished
from .plans import FaultyInputError

LEAST_DAYS = 30
"""A pair rests for as long between two socks, more often than not (ours)."""

BATCH = 25
"""Pairs in one transaction, which takes a few hundredths of a second."""

PAUSE = 0.11
"""Seconds between two: whoever waits to write looks again after 0.1 s at the latest (SQLite's own busy handler)."""

_DURATION = re.compile(r"([0-9]{1,4})([dmy])")


def earlier(now: datetime, duration: str) -> datetime:
    """The moment so long before `now`: a number of days, calendar months or years, as in 90d, 18m and 2y.

    Raises ValueError with what is allowed.
    """
    found = _DURATION.fullmatch(duration)
    if not found:
        raise ValueError("write a number and d, m or y for days, months or years, as in 90d, 18m or 2y")
    number = int(found[1])
    try:
        moment = now - timedelta(days=number) if found[2] == "d" else _months_before(now, number * _MONTHS[found[2]])
    except (OverflowError, ValueError):
        raise ValueError("nothing is so old; write less") from None
    if moment > now - timedelta(days=LEAST_DAYS):
        raise ValueError(f"allowed: {LEAST_DAYS}d or more")
    return moment


_MONTHS = {"m": 1, "y": 12}


def _months_before(now: datetime, months: int) -> datetime:
    """The same day of an earlier month, or the last that this month has."""
    year, month = divmod(now.year * 12 + now.month - 1 - months, 12)
    last = calendar.monthrange(year, month + 1)[1]
    return now.replace(year=year, month=month + 1, day=min(now.day, last))


def purge(kept_in: Path | str, arguments: argparse.Namespace, now: datetime) -> str:
    """Delete what is untouched for as long as the options say, or count it; returns what to tell.

    Where it is not only counted, the logbooks of finished pairs are folded as well.
    """
    try:
        before = earlier(now.astimezone(UTC), arguments.untouched_for).isoformat(timespec="seconds")
    except ValueError as error:
        raise FaultyInputError([f"--untouched-for: “{arguments.untouched_for}” given; {error}"]) from error
    if isinstance(kept_in, Path) and not kept_in.exists():
        raise StoreUnavailableError(f"{kept_in} is not there; name the folder that the pairs are kept in with --data")
    with closing(Store(kept_in)) as store:
        found = store.deleting.untouched(before)
        lines = [_describe_untouched(one, before) for one in found]
        if arguments.dry_run:
            return "\n".join([*lines, "Nothing was deleted: this was a dry run."])
        deleted = {one.table: _deleted(store, one, before) for one in found}
        folded = fold_finished(store, now.astimezone(UTC))
    pairs, designs = amount(deleted["pairs"], "pair"), amount(deleted["designs"], "design")
    return "\n".join([*lines, f"Deleted: {pairs} and {designs}.", *folded])


def _describe_untouched(found: Untouched, before: str) -> str:
    """How many are untouched, and for how long."""
    count, moments = amount(len(found.since), found.table.removesuffix("s")), list(found.since.values())
    since = f"; the oldest since {moments[0][:10]}, the newest since {moments[-1][:10]}" if moments else ""
    return f"Untouched since before {before[:10]}: {count}{since}."


def _deleted(store: Store, found: Untouched, before: str) -> int:
    """Delete them a few at a time, so that a server can write in between; returns how many."""
    count = 0
    for more in store.deleting.purge(found, before, BATCH):
        count += more
        time.sleep(PAUSE)
    return count
