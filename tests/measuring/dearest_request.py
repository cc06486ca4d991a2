"""Look for the requests that cost the server most, at every endpoint, and tell whether one of them costs too much.

    .venv/bin/python -m tests.measuring.dearest_request --seconds 20 [--only import] [--seed 1]

A request may take 0.3 s of processor and 50 MB of memory, whether it is accepted or refused. Pages of a pair, to which
nothing is sent, are shown for the largest plan there can be, and told of without that limit. From sound requests the
search goes on by changing and growing the dearest ones known, as long as the endpoint takes bodies of their size. It
prints the dearest of each endpoint, writes the one that costs too much beside it, and ends with 1 where there is one.
"""

from __future__ import annotations

import argparse
import gc
import heapq
import json
import sys
import tempfile
import time
import tracemalloc
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from random import Random
from typing import Any, NamedTuple

from flask import Flask
from werkzeug.test import EnvironBuilder, run_wsgi_app

from companion.forms.design_form import DesignForm
from companion.pair.state import read_kept
from companion.planning.request.size_range import MOST_SIZES
from companion.web import create_app
from companion.web.group.ranges import MOST_CELLS
from companion.web.links import follower_link, new_link
from companion.web.server.security import BODY_LIMITS, USUAL_BODY
from tests.conftest import FORM, Browser, entry
from tests.measuring.grown_bodies import Asking
from tests.measuring.grown_bodies import changed as grown
from tests.photographs import photograph
from tests.web.checking import LOOSE
from tests.web.designing import BODY, DESIGN, join, lead

MOST_SECONDS, MOST_BYTES = 0.3, 50_000_000
LONGEST_ADDRESS = 16_000
KEPT = 12
"""The dearest requests of an endpoint that the search goes on from."""

QUERY_NAMES = ["unit", "sock", "round", "zone", "sample", "paper", "circumferences", "lengths", "gauges", "part"]
OTHER_NAMES = ["basis", "option", "entry", "revision", "rounds", "first_name", "choice", "stitches_1", "spot", "size"]

TALLEST = {
    **FORM, "ball_circumference": "33", "foot_length": "36", "heel_diagonal": "50", "leg_circumference": "60",
    "stitches": "60", "rounds": "100", "cuff_length": "40", "leg_length": "60", "ease_percent": "-5",
}  # fmt: skip
CHART = "\n".join("".join(Random(row).choices("ABCD", k=31)) for row in range(120))
CHARTED = {"colour_pattern": "chart", "yarn_count": "4", "chart": CHART}


FEET = " ".join(f"{23 + number / 2:g}" for number in range(MOST_CELLS // 5))
GAUGES = " ".join(f"{60 - number}x{100 - number}" for number in range(5))
SIZES = " ".join(f"{30 - number}" for number in range(MOST_SIZES))


class Cost(NamedTuple):
    """Seconds of processor and bytes of memory at the peak, with the answer's status and the size of the body."""

    seconds: float
    memory: int
    status: int
    size: int

    @property
    def weight(self) -> float:
        """As a part of what is allowed; above 1 it is too much."""
        return max(self.seconds / MOST_SECONDS, self.memory / MOST_BYTES)


@dataclass(frozen=True)
class World:
    """A server with a pair, one with a leader, and a design."""

    app: Flask
    browser: Browser
    pair: str
    following: str
    leader: str

    def cost(self, rule: Endpoint, asking: Asking) -> Cost | None:
        """What a request costs; None where it is longer than the endpoint takes, which is refused unread."""
        path = rule.path(self)
        body, media = asking.body(self.browser.token()) if rule.method == "POST" else (b"", "")
        if len(body) > rule.most or len(asking.address(path)) > LONGEST_ADDRESS:
            return None
        found = [self._asked(rule, asking.address(path), body, media, traced=traced) for traced in (False, True)]
        return Cost(found[0].seconds, found[1].memory, found[0].status, len(body))

    def _asked(self, rule: Endpoint, address: str, body: bytes, media: str, *, traced: bool) -> Cost:
        cookie = self.browser.client.get_cookie("tapeline")
        headers = [("Cookie", f"tapeline={cookie.value}" if cookie else ""), ("X-CSRFToken", self.browser.token())]
        path, _, query = address.partition("?")
        environ = EnvironBuilder(
            path=path, query_string=query, method=rule.method, data=body, content_type=media, headers=headers
        ).get_environ()
        read_kept.cache_clear()  # as for the first page of a pair
        if traced:
            tracemalloc.start()
        begun = time.process_time()
        _, status, _ = run_wsgi_app(self.app.wsgi_app, environ, buffered=True)
        seconds = time.process_time() - begun
        memory = tracemalloc.get_traced_memory()[1] if traced else 0
        tracemalloc.stop()
        return Cost(seconds, memory, int(status[:3]), len(body))


@dataclass(frozen=True)
class Endpoint:
    """A method and an address, made for each request, and the sound requests to begin with."""

    name: str
    method: str
    path: Callable[[World], str]
    seeds: list[Asking]
    most: int


@contextmanager
def world() -> Iterator[World]:
    """A server in this process on a store of its own."""
    with tempfile.TemporaryDirectory() as folder:
        app = create_app({"DATABASE": Path(folder) / "pairs.sqlite3", "QUOTAS": False})
        browser = Browser(app.test_client())
        leader = lead(browser, **CHARTED, leg_length="60", cuff_length="40")
        pair = browser.make_pair(**{**TALLEST, **CHARTED})
        yield World(app, browser, pair, join(browser, leader), leader)
        app.extensions["store"].close()


def _seeds(found: World) -> dict[str, list[Asking]]:
    """Sound requests to the endpoints that take more than a token."""
    exported = json.loads(found.browser.get(f"/pair/{found.pair}/export").data)
    counts = [entry(number, after=[entry(number - 1)["id"]]) for number in range(1, 8_001)]
    plans = [Asking(fields=list(form.items())) for form in (FORM, {**FORM, **CHARTED}, {**TALLEST, **CHARTED})]
    designs = [Asking(fields=list({**DESIGN, **more}.items())) for more in ({}, CHARTED)]
    return {
        "plans.make": plans,
        "plans.choices": plans,
        "plans.shoe_size": [Asking(fields=[*FORM.items(), ("shoe_system", "EU"), ("shoe_size", "38")])],
        "designs.make": designs,
        "designs.change": [Asking(fields=[*one.fields, ("version", "1")]) for one in designs],
        "joining.join": [Asking(fields=list(BODY.items()))],
        "checks.keep": [Asking(fields=list(LOOSE.items()))],
        "pair_files.import_pair": [
            Asking(file="pair", document={**exported, "log": log}) for log in ([], counts[:50], counts)
        ],
        "photos.keep": [Asking(file="photo", fields=[("part", "heel")], raw=photograph())],
        "sync.log": [Asking(document={"after": 0, "entries": entries}) for entries in (counts[:50], counts[:500])],
        "sync.put_back": [Asking(document={**exported, "log": log}) for log in ([], counts)],
        "sync.begin": [Asking(document={**exported, "log": [], "revisions": exported["revisions"][:1]})],
        "size_grids.grid": [Asking(query=[("circumferences", FEET), ("gauges", GAUGES)])],
        "size_grids.grid_in_csv": [Asking(query=[("circumferences", FEET), ("gauges", GAUGES)])],
        "patterns.of_design": [Asking(query=[("circumferences", SIZES), ("gauges", "60x100")])],
        "patterns.of_design_in_text": [Asking(query=[("circumferences", SIZES), ("gauges", "60x100")])],
    }


def endpoints(found: World) -> Iterator[Endpoint]:
    """Every endpoint but those of the files, with what it may be sent."""
    seeds = _seeds(found)
    adapter = found.app.url_map.bind("localhost")
    for rule in sorted(found.app.url_map.iter_rules(), key=lambda rule: rule.endpoint):
        if rule.endpoint.startswith("assets."):
            continue
        method = "POST" if "POST" in (rule.methods or ()) else "GET"

        def path(here: World, name: str = rule.endpoint, arguments: set[str] = rule.arguments) -> str:
            links = {"/pair/": here.pair, "/design/": here.leader, "/join/": follower_link(here.leader)}
            pattern = next(each.rule for each in here.app.url_map.iter_rules(name))
            link = next((one for begin, one in links.items() if pattern.startswith(begin)), here.pair)
            if name == "sync.log":
                link = here.browser.make_pair()  # a logbook that grows would be what costs
            if name in ("sync.put_back", "sync.begin"):
                link = new_link()
            if name.startswith("following."):
                link = here.following
            return adapter.build(name, {key: {"link": link, "part": "heel", "key": "ismene"}[key] for key in arguments})

        given = seeds.get(rule.endpoint, [Asking(fields=[("sock", "1")]) if method == "POST" else Asking()])
        yield Endpoint(rule.endpoint, method, path, given, BODY_LIMITS.get(rule.endpoint, USUAL_BODY))


def names_of(app: Flask) -> list[str]:
    """The names of all fields that a form may have."""
    with app.test_request_context():
        return [*(field.name for field in DesignForm().every_field()), *FORM, *LOOSE, *OTHER_NAMES]


def dearest(found: World, endpoint: Endpoint, random: Random, seconds: float) -> tuple[Cost, Cost, Asking, int]:
    """The dearest in time, the dearest in memory, the heavier request, and how many were tried."""
    names = names_of(found.app) if endpoint.method == "POST" else QUERY_NAMES
    known: list[tuple[float, int, Cost, Asking]] = []
    ends = time.monotonic() + seconds
    tried = 0
    while time.monotonic() < ends:
        if tried < len(endpoint.seeds):
            asking = endpoint.seeds[tried]
        else:
            asking = random.choice(known)[3] if known and random.random() < 0.9 else random.choice(endpoint.seeds)
            for _ in range(random.randrange(1, 4)):
                asking = grown(asking, random, names, endpoint.most)
        tried += 1
        cost = found.cost(endpoint, asking)
        if cost is None:
            continue
        if cost.weight > 1:  # once more, as others may have kept the computer busy
            cost = min(cost, found.cost(endpoint, asking) or cost)
        (heapq.heappushpop if len(known) >= KEPT else _push)(known, (cost.weight, tried, cost, asking))
    heaviest = max(known)
    return (
        max((one[2] for one in known), key=lambda cost: cost.seconds),
        max((one[2] for one in known), key=lambda cost: cost.memory),
        heaviest[3],
        tried,
    )


def _push(known: list[Any], one: Any) -> None:
    heapq.heappush(known, one)


def main() -> int:
    """Search, and print what was found."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, default=20, help="for each endpoint")
    parser.add_argument("--only", default="", help="endpoints with this in their name")
    parser.add_argument("--seed", type=int, default=1)
    arguments = parser.parse_args()
    too_dear = []
    with world() as found:
        gc.collect()
        gc.freeze()  # as the server does
        print(f"{'endpoint':28}{'tried':>7}{'ms':>8}{'of bytes':>10}{'':>5}{'MB':>7}{'of bytes':>10}")
        for endpoint in endpoints(found):
            if arguments.only not in endpoint.name:
                continue
            random = Random(f"{arguments.seed} {endpoint.name}")
            slow, large, worst, tried = dearest(found, endpoint, random, arguments.seconds)
            mark = "" if max(slow.weight, large.weight) <= 1 else " <- too much"
            print(
                f"{endpoint.name:28}{tried:>7}{slow.seconds * 1000:>8.0f}{slow.size:>10}{slow.status:>5}"
                f"{large.memory / 1e6:>7.1f}{large.size:>10}{large.status:>5}{mark}",
                flush=True,
            )
            if mark and not (endpoint.method == "GET" and endpoint.path(found).startswith("/pair/")):
                too_dear.append(endpoint.name)
                kept = Path(tempfile.gettempdir()) / f"dearest-{endpoint.name}"
                kept.write_bytes(f"{worst.address('')}\n".encode() + worst.body("token")[0])
                print(f"  written to {kept}")
    print(f"More than {MOST_SECONDS} s or {MOST_BYTES / 1e6:.0f} MB: {', '.join(too_dear) or 'none'}.")
    return 1 if too_dear else 0


if __name__ == "__main__":
    sys.exit(main())
