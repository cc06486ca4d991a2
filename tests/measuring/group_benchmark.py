"""Five thousand followers of one design on one server: `python tests/measuring/group_benchmark.py [--followers N]`.

With --processes the server is so many, and with --postgresql they keep what they keep in a database.

Each follower makes a plan through the short form. Then all of them send a day of counts in two bursts, at a steady 50
requests a second (--rate) whatever the answers take: from two phones, both at once; one burst in twenty is sent twice,
as after a lost answer. A time runs from the moment when the request was due, so that a server that falls behind is seen
to. Then each phone asks once more, and has to have heard of all that its pair has. Then all of them share, and the
leader looks at the first part of her group. At the end the database is read.
"""

from __future__ import annotations

import argparse
import json
import math
import random
import re
import sqlite3
import sys
import tempfile
import threading
import time
import urllib.parse
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack, closing
from http.client import HTTPConnection, HTTPResponse
from itertools import cycle
from pathlib import Path
from typing import Any
from uuid import UUID

from companion.store import Store
from companion.web.links import follower_link
from tests.browser.server import Server, serving
from tests.store.postgresql import running
from tests.web.designing import DESIGN

TARGET = 100.0
"""Milliseconds that 99 % of the syncs stay under."""
BURSTS, ROUNDS_A_BURST = 2, 12
"""A day of counts: 24 rounds, an evening's knitting (common practice), sent when the phone has a network."""
SENT_TWICE = 0.05
LOOKS = 5
LOOK_TARGET = 100.0
"""Milliseconds that the first part of the leader's page stays under, however many followers there are."""
CLIENTS = 16


class Client:
    """A browser's worth of cookies over one connection that is kept open."""

    def __init__(self, address: str) -> None:
        self._connection = HTTPConnection(urllib.parse.urlsplit(address).netloc)
        answer, body = self._send("GET", "/csrf", "", {})
        self._headers = {
            "Cookie": (answer.getheader("Set-Cookie") or "").split(";")[0],
            "X-CSRFToken": json.loads(body)["token"],
        }

    def _send(self, method: str, path: str, body: str, headers: dict[str, str]) -> tuple[HTTPResponse, bytes]:
        self._connection.request(method, path, body, headers)
        answer = self._connection.getresponse()
        return answer, answer.read()

    def post_form(self, path: str, form: dict[str, str]) -> str:
        """Send a form; returns where the answer leads."""
        # Each from a home of its own, as through a proxy: one address may not make so many pairs (RFC 2544, C.2.2).
        home = f"198.18.{random.randrange(256)}.{random.randrange(256)}"
        headers = {
            **self._headers,
            "Content-Type": "application/x-www-form-urlencoded",
            "X-Forwarded-For": home,
        }
        answer, body = self._send("POST", path, urllib.parse.urlencode(form), headers)
        assert answer.status == 303, (answer.status, body[:300])
        return answer.getheader("Location") or ""

    def get(self, path: str) -> str:
        """A page."""
        answer, body = self._send("GET", path, "", self._headers)
        assert answer.status == 200, (answer.status, body[:300])
        return body.decode()

    def post_json(self, path: str, data: object) -> dict[str, Any]:
        """Send JSON; returns the answer."""
        headers = {**self._headers, "Content-Type": "application/json"}
        answer, body = self._send("POST", path, json.dumps(data), headers)
        assert answer.status == 200, (answer.status, body[:300])
        found: dict[str, Any] = json.loads(body)
        return found


def table_line(what: str, milliseconds: Sequence[float]) -> str:
    """Median, 99th percentile and worst."""
    ordered = sorted(milliseconds)
    middle, high = (ordered[math.ceil(share * len(ordered)) - 1] for share in (0.5, 0.99))
    return f"{what:<38}{len(ordered):8}{middle:10.1f}{high:10.1f}{ordered[-1]:10.1f}"


class Crowd:
    """Clients that share the work, each in a thread of its own."""

    def __init__(self, addresses: Sequence[str]) -> None:
        self._addresses = cycle(addresses)
        self._own = threading.local()
        self._pool = ThreadPoolExecutor(CLIENTS)

    def client(self) -> Client:
        """The client of this thread."""
        if not hasattr(self._own, "client"):
            self._own.client = Client(next(self._addresses))
        found: Client = self._own.client
        return found

    def fresh_client(self) -> Client:
        """One more, after a time in which the server has closed the connection of an idle one."""
        return Client(next(self._addresses))

    def each(self, jobs: Sequence[Callable[[Client], object]], rate: float | None = None) -> list[float]:
        """Do all jobs, at a steady rate or as fast as they go; returns each one's milliseconds since it was due."""
        start = time.perf_counter()

        def do(numbered: tuple[int, Callable[[Client], object]]) -> float:
            number, job = numbered
            client = self.client()
            due = start + number / rate if rate else time.perf_counter()
            time.sleep(max(0.0, due - time.perf_counter()))
            job(client)
            return (time.perf_counter() - due) * 1000

        return list(self._pool.map(do, enumerate(jobs)))


def bodies(count: int) -> Iterator[dict[str, str]]:
    """Feet and gauges that differ, the same ones in every run."""
    chance = random.Random(1)
    for _ in range(count):
        ball = chance.uniform(20, 26)
        yield {
            "unit": "cm",
            "ball_circumference": f"{ball:.1f}",
            "foot_length": f"{ball * chance.uniform(1.02, 1.14):.1f}",
            "stitches": f"{chance.choice((28, 29, 30, 31, 32, 33))}",
        }


def burst(follower: int, number: int) -> list[dict[str, object]]:
    """A follower's counts since the last burst."""
    first = number * ROUNDS_A_BURST
    return [
        {
            "id": str(UUID(int=(follower << 32) + place)),
            "device": str(UUID(int=follower + 1)),
            "clock": place,
            "at": "2025-11-03T19:30:00Z",
            "sock": 1,
            "kind": "count",
            "round": place,
        }
        for place in range(first + 1, first + ROUNDS_A_BURST + 1)
    ]


class Phone:
    """One of a follower's two, with a burst to send and what it has heard of; as pair/sync.js keeps it."""

    def __init__(self, path: str, entries: list[dict[str, object]]) -> None:
        self._path, self._entries = path, entries
        self._where: dict[str, object] = {}
        self.heard: set[object] = set()

    def send(self, client: Client) -> None:
        """Send the burst, whether it was sent before or not."""
        self._exchange(client, self._entries)

    def ask(self, client: Client) -> None:
        """Ask what is new."""
        self._exchange(client, [])

    def _exchange(self, client: Client, entries: list[dict[str, object]]) -> None:
        answer = client.post_json(f"{self._path}/log", {"entries": entries, **self._where})
        self.heard |= {*answer["kept"], *(one["id"] for one in answer["entries"])}
        self._where = {"after": answer["cursor"], "epoch": answer["epoch"], "last": answer["last"]}


def syncs(phones: Sequence[Sequence[Phone]]) -> list[Callable[[Client], object]]:
    """Both phones of each follower, one behind the other, the followers mixed, some bursts twice."""
    chance = random.Random(2)
    order = list(phones)
    chance.shuffle(order)
    return [phone.send for both in order for phone in both for _ in range(2 if chance.random() < SENT_TWICE else 1)]


def all_heard(crowd: Crowd, phones: Sequence[Sequence[Phone]], rate: float) -> bool:
    """Each phone asks once more; whether it knows by then all that its pair has."""
    times = crowd.each([phone.ask for both in phones for phone in both], rate)
    print(table_line("asking what is new, ms", times), flush=True)
    missed = 0
    for follower, both in enumerate(phones):
        sent = {entry["id"] for number in range(BURSTS) for entry in burst(follower, number)}
        missed += sum(len(sent - phone.heard) for phone in both)
    print(f"  {missed} counts missed by any phone", flush=True)
    return not missed


def looks_at_the_group(crowd: Crowd, leader: str, pairs: Sequence[str]) -> bool:
    """All share, and the leader's page is opened a few times, with nothing else going on; whether it is fast enough."""

    def sharing(pair: str) -> Callable[[Client], object]:
        return lambda client: client.post_form(f"{pair}/share", {"first_name": "Ortrun", "size": "y"})

    print(table_line("sharing, ms", crowd.each([sharing(pair) for pair in pairs])), flush=True)
    times = []
    leaders = crowd.fresh_client()
    for _ in range(LOOKS):
        start = time.perf_counter()
        page = leaders.get(f"{leader}/group")
        times.append((time.perf_counter() - start) * 1000)
    assert f"{len(pairs)} of {len(pairs)}" in page
    print(table_line("the leader's page, first part, ms", times), flush=True)
    return sorted(times)[len(times) // 2] < LOOK_TARGET


def wrong_in(place: Path | str, followers: int) -> list[str]:
    """What is not as it should be in the database: nothing lost, nothing doubled, nothing damaged."""
    integrity, loose = "ok", []
    if isinstance(place, Path):
        with closing(sqlite3.connect(place)) as file:
            [integrity] = file.execute("PRAGMA integrity_check").fetchone()
            loose = file.execute("PRAGMA foreign_key_check").fetchall()
    with closing(Store(place)) as store, store._reading() as db:
        kept = sorted(db.execute("SELECT id FROM log").fetchall())
        places = db.execute("SELECT count(*), max(round) FROM log GROUP BY pair").fetchall()
        aside = db.execute("SELECT count(*) FROM set_aside").fetchone()[0]
    sent = sorted(
        (str(entry["id"]),) for one in range(followers) for number in range(BURSTS) for entry in burst(one, number)
    )
    full = BURSTS * ROUNDS_A_BURST
    found = {
        f"integrity_check says {integrity}": integrity != "ok",
        f"{len(loose)} rows belong to nothing": bool(loose),
        f"{len(sent)} entries were sent and {len(kept)} are kept": sent != kept,
        "a pair has not each of its counts once": places != [(full, full)] * followers,
        f"{aside} entries are set aside": aside != 0,
    }
    return [what for what, wrong in found.items() if wrong]


def processor_seconds(servers: Sequence[Server]) -> float:
    """Processor time that all of them have taken."""
    return sum(server.processor_seconds() for server in servers)


def measure(servers: Sequence[Server], followers: int, rate: float) -> bool:
    """Print the table; returns whether the target is met and the database sound."""
    crowd = Crowd([server.address for server in servers])
    leader = crowd.client().post_form("/design", DESIGN)
    join = f"/join/{follower_link(re.split('/', leader)[-1])}"
    pairs: list[str] = [""] * followers

    def joining(number: int, body: dict[str, str]) -> Callable[[Client], None]:
        def job(client: Client) -> None:
            pairs[number] = client.post_form(join, body)

        return job

    start = time.perf_counter()
    plans = crowd.each([joining(number, body) for number, body in enumerate(bodies(followers))])
    print(table_line("a plan by the short form, ms", plans), flush=True)
    print(f"  {followers / (time.perf_counter() - start):.0f} plans a second, {CLIENTS} at once")
    worked = processor_seconds(servers)
    phones = [[Phone(pair, burst(one, number)) for number in range(BURSTS)] for one, pair in enumerate(pairs)]
    times = crowd.each(syncs(phones), rate)
    print(table_line(f"a sync at {rate:g} a second, ms", times), flush=True)
    print(f"  {(processor_seconds(servers) - worked) / len(times) * 1000:.1f} ms of the servers' processor time each")
    heard = all_heard(crowd, phones, rate)
    seen_soon = looks_at_the_group(crowd, leader, pairs)
    wrong = wrong_in(servers[0].place, followers)
    print("the database: " + ("; ".join(wrong) or "every entry once, nothing damaged"))
    return heard and seen_soon and not wrong and sorted(times)[math.ceil(0.99 * len(times)) - 1] < TARGET


def main() -> int:
    """Measure; returns the exit code."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--followers", type=int, default=5000)
    parser.add_argument("--rate", type=float, default=50.0, help="syncs a second")
    parser.add_argument("--processes", type=int, default=1)
    parser.add_argument("--postgresql", action="store_true", help="in a database of its own server's")
    asked = parser.parse_args()
    print(f"{'':<38}{'count':>8}{'median':>10}{'99 %':>10}{'worst':>10}")
    with ExitStack() as open_now:
        folder = Path(open_now.enter_context(tempfile.TemporaryDirectory()))
        database = open_now.enter_context(running(durable=True)).make("followers") if asked.postgresql else None
        servers = [open_now.enter_context(serving(folder, database)) for _ in range(asked.processes)]
        met = measure(servers, asked.followers, asked.rate)
    soon = f"99 % of the syncs are to stay under {TARGET:g} ms, the leader's page under {LOOK_TARGET:g} ms"
    print("" if met else f"NOT MET: {soon}, no phone is to miss a count, and the database is to be sound.")
    return 0 if met else 1


if __name__ == "__main__":
    sys.exit(main())
