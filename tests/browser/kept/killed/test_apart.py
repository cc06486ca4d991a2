"""Two phones and the server, each killed while they count and send: afterwards all three hold the same logbook."""

from __future__ import annotations

from pathlib import Path
from random import Random
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Playwright, Route

from ....conftest import fully
from ...chromium import PhoneOnDisk
from ...given import NO_WORKERS
from ...knitting import Knitting
from ...modules import Modules
from ...server import Server

KEPT = """() => new Promise((resolve, reject) => {
    const opening = indexedDB.open("tapeline");
    opening.onerror = () => reject(opening.error);
    opening.onsuccess = () => {
        const transaction = opening.result.transaction(["log", "meta"]);
        const device = transaction.objectStore("meta").get("device");
        const entries = transaction.objectStore("log").getAll();
        transaction.oncomplete = () => {
            opening.result.close();
            resolve([device.result, entries.result]);
        };
    };
})"""


class Knitter:
    """Somebody with a phone whose browser is killed again and again. `painted`: counts that it has shown.

    It has no worker, which knows nothing of counts: to install it takes as long as to start the browser twice.
    """

    def __init__(self, playwright: Playwright, folder: Path, server: Server, link: str) -> None:
        self._phone = PhoneOnDisk(playwright, folder, server.address)
        self._link = link
        self.painted = 0
        self.start()

    def start(self) -> None:
        """Open the pair, on whatever the phone has kept."""
        self.context: BrowserContext = self._phone.start()
        self.context.add_init_script(NO_WORKERS)
        self.knitting = Knitting(self.context.pages[0], self._link).open()

    def count(self, times: int) -> None:
        """Count, until the last one is painted."""
        self.knitting.count(times)
        self.painted += times

    def killed(self) -> None:
        """The battery is flat and is charged again. What was painted is there."""
        self._phone.kill()
        self.start()
        device, entries = self.kept()
        assert sum(entry["device"] == device for entry in entries) == self.painted

    def exchanges(self) -> None:
        """Send what waits and hear what is new, now that there is a network."""
        self.context.set_offline(False)
        Modules(self.knitting.page).call("pair/sync", "exchange", self._link)

    def kept(self) -> tuple[str, list[dict[str, Any]]]:
        """The phone's own name, and its logbook."""
        device, entries = self.context.pages[0].evaluate(KEPT)
        return device, sorted(entries, key=lambda entry: str(entry["id"]))


def killed_in_an_exchange(server: Server, knitter: Knitter, *, read: bool) -> None:
    """The next exchange reaches the server or not, and is not answered."""

    def kill(route: Route) -> None:
        if read:
            route.fetch()
        server.kill()
        route.abort("connectionreset")

    page = knitter.knitting.page
    page.route("**/log", kill, times=1)
    with page.expect_event("requestfailed"):
        knitter.count(1)


SEEDS, TURNS = (range(1, 9), range(4)) if fully() else ([1], (1, 3))
"""By default the turns in which the server is killed, too."""


@pytest.mark.parametrize("seed", SEEDS)
def test_every_painted_count_is_everywhere_once(
    playwright: Playwright, own_server: Server, tmp_path: Path, seed: int
) -> None:
    random = Random(seed)
    link = own_server.add_pair()
    knitters = [Knitter(playwright, tmp_path / name, own_server, link) for name in ("one", "other")]
    for turn in TURNS:
        first, second = random.sample(knitters, 2)
        first.context.set_offline(random.random() < 0.5)
        first.count(random.randint(1, 9))
        if turn % 2:
            second.context.set_offline(False)
            second.knitting.everything_is_sent()
            killed_in_an_exchange(own_server, second, read=turn == 3)
            second.count(random.randint(1, 4))
            own_server.start()
        else:
            second.count(random.randint(1, 4))
        first.killed()
    for knitter in (*knitters, *knitters):
        knitter.exchanges()
    on_server = sorted((entry.as_json() for entry in own_server.entries(link)), key=lambda entry: str(entry["id"]))
    assert len({entry["id"] for entry in on_server}) == len(on_server) == sum(one.painted for one in knitters)
    for knitter in knitters:
        _, entries = knitter.kept()
        assert {entry.pop("sent") for entry in entries} == {1}
        assert {entry.pop("link") for entry in entries} == {link}
        assert entries == on_server
        knitter.context.close()
