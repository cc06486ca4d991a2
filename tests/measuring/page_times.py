"""How long the server takes for a page, with logbooks and groups of any length: milliseconds of processor time."""

from __future__ import annotations

import json
import random
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from companion.pair.logbook import Entry
from companion.store import Pair, Store
from companion.web import create_app

from ..conftest import Browser, made
from ..web.designing import join, lead
from ..web.fuzz.everything import pair_with_everything
from .measured import Line

LOGBOOKS = (0, 2_000, 20_000)
"""Counts in a logbook. A pair has about 400 rounds, so the longest is of somebody who counts each of them 50 times."""

CHECK = "check/result"
MANY_CHECKS = 100

TARGETS = {"pair.json": 40.0, "knit": 40.0, "": 40.0, "pattern": 40.0, CHECK: 150.0, "yarn": 40.0}
UNCHANGED_TARGET = 5.0
KEPT = ("pair.json", "knit", "", "pattern")

GROUPS = (100, 20_000)
GROUP_TARGET = 100.0


@contextmanager
def browser_at_home() -> Iterator[tuple[Browser, Store]]:
    """A browser in the same process as the app, which has a file of its own."""
    with tempfile.TemporaryDirectory() as folder:
        app = create_app({"DATABASE": Path(folder) / "pairs.sqlite3"})
        store: Store = app.extensions["store"]
        yield Browser(app.test_client()), store
        store.close()


def counts(number: int) -> list[Entry]:
    """A round counted each minute on one phone, each going on from the one before, sock after sock."""
    return [
        made(
            10_000 + one,
            clock=10_000 + one,
            round=one % 180 + 1,
            at=f"2025-{1 + one // 40_320 % 12:02}-{1 + one // 1440 % 28:02}T{one // 60 % 24:02}:{one % 60:02}:00Z",
            after=[made(10_000 + one - 1, round=0).id] if one else None,
        )
        for one in range(number)
    ]


def checks(number: int, among: int) -> list[Entry]:
    """Checks spread evenly among so many counts, of a fabric a little looser than planned that strays by a percent."""
    chance = random.Random(1)
    return [
        made(
            50_000 + one,
            device="aaaaaaaa-0000-4000-8000-000000000002",
            clock=10_000 + at,
            kind="check",
            round=at % 180 + 1,
            data={
                what: [{"count": round(2 * chance.gauss(per_10cm, per_10cm / 100)) / 2, "over_cm": 10}]
                for what, per_10cm in (("stitches", 28.5), ("rounds", 40))
            },
        )
        for one, at in enumerate(range(0, among, among // number))
    ]


def page_lines(timed: Callable[[Callable[[], object]], list[float]]) -> Iterator[Line]:
    """Pages of a pair with all that a pair can have, made and asked for again unchanged; then leaders' pages."""
    for number in LOGBOOKS:
        with browser_at_home() as (browser, store):
            _, link = pair_with_everything(browser)
            pair = store.find_pair(link)
            assert pair
            store.add_entries(pair, counts(number))
            for page, target in TARGETS.items():
                yield Line(_name(page, number), timed(_opening(browser, f"/pair/{link}/{page}")), target)
            if number == max(LOGBOOKS):
                store.add_entries(pair, checks(MANY_CHECKS, number))
                found = timed(_opening(browser, f"/pair/{link}/{CHECK}"))
                yield Line(f"{_name(CHECK, number)[:-4]}, {MANY_CHECKS} checks, ms", found, TARGETS[CHECK])
            for page in KEPT:
                name = browser.get(f"/pair/{link}/{page}".rstrip("/")).headers["ETag"]
                found = timed(_opening(browser, f"/pair/{link}/{page}", name))
                yield Line(f"{_name(page, number)}, unchanged", found, UNCHANGED_TARGET)
    for number in GROUPS:
        with browser_at_home() as (browser, store):
            leader = lead(browser)
            link = join(browser, leader)
            browser.post(f"/pair/{link}/share", {"first_name": "Ortrun", "size": "y"})
            pair = store.find_pair(link)
            assert pair
            many_like(store, pair, number)
            yield Line(
                f"leader's page of {number:,}, ms", timed(_opening(browser, f"/design/{leader}/group")), GROUP_TARGET
            )


def _name(page: str, number: int) -> str:
    return f"{page or 'plan'}, {number:,} counts, ms"


def _opening(browser: Browser, address: str, name: str = "") -> Callable[[], None]:
    """A look at a page, by a browser that has it under this name."""
    status = 304 if name else 200

    def look() -> None:
        answer = browser.get(address.rstrip("/"), headers={"If-None-Match": name} if name else {})
        assert answer.status_code == status, (address, answer.status_code)

    return look


def many_like(store: Store, pair: Pair, number: int) -> None:
    """Followers who share, each at a round of her own; a third of them found a gauge of their own."""
    chance = random.Random(1)
    with store._writing() as db:
        (text,) = db.execute("SELECT glimpse FROM glimpses WHERE pair = ?", (pair.id,)).fetchone()
        (design,) = db.execute("SELECT design FROM followers WHERE pair = ?", (pair.id,)).fetchone()
        for one in range(pair.id + 1, pair.id + number):
            db.execute("INSERT INTO pairs VALUES (?, ?, 'Socks', 'cm', '')", (one, f"hash {one}"))
            db.execute("INSERT INTO followers (pair, design, version) VALUES (?, ?, 1)", (one, design))
            db.execute("INSERT INTO shares (pair, first_name, size) VALUES (?, ?, ?)", (one, f"Ortrun {one}", one % 2))
            summaries = [json.loads(text)]
            if chance.random() < 1 / 3:
                summaries.append(
                    {**summaries[0], "measured": True, "stitches_per_10cm": round(chance.gauss(30, 1.5), 1)}
                )
            for version, summary in enumerate(summaries, start=1):
                db.execute(
                    "INSERT INTO revisions VALUES (?, ?, 1, 0, 0, NULL, NULL, '', '{}', 'accepted', '')", (one, version)
                )
                db.execute("INSERT INTO glimpses VALUES (?, ?, ?)", (one, version, json.dumps(summary)))
            for sock in (1, 2):
                db.execute("INSERT INTO places VALUES (?, ?, ?, 1, '', '')", (one, sock, chance.randrange(190)))
