"""A phone whose browser is killed right after a count was painted has lost nothing."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Playwright

from ...chromium import PhoneOnDisk
from ...knitting import Knitting
from ...server import Server


class Phone:
    """A phone whose battery is flat again and again, with a page of a pair."""

    def __init__(self, on_disk: PhoneOnDisk) -> None:
        self._on_disk = on_disk
        self.context = on_disk.start()

    def open(self, link: str) -> Knitting:
        """Open a pair, on whatever the phone has kept."""
        return Knitting(self.context.pages[0], link).open()

    def killed(self) -> None:
        """It is started again."""
        self._on_disk.kill()
        self.context = self._on_disk.start()


@pytest.fixture(scope="module")
def phone(playwright: Playwright, tmp_path_factory: pytest.TempPathFactory, killed_often: Server) -> Iterator[Phone]:
    phone = Phone(PhoneOnDisk(playwright, tmp_path_factory.mktemp("phone"), killed_often.address))
    yield phone
    phone.context.close()


def test_a_painted_count_outlives_the_browser(phone: Phone, server: Server, link: str) -> None:
    """The first one alone, and several in a row, without a server: only what the phone kept can come back."""
    knitting = phone.open(link)
    knitting.works_without_network()
    server.kill()
    knitting.count()
    phone.killed()

    knitting = phone.open(link)
    assert knitting.place() == 1
    knitting.count(5)
    phone.killed()

    server.start()
    knitting = phone.open(link)
    assert knitting.place() == 6
    knitting.everything_is_sent()
    assert server.counted(link) == [1, 2, 3, 4, 5, 6]


def test_a_browser_killed_while_it_sends_loses_nothing(phone: Phone, server: Server, link: str) -> None:
    knitting = phone.open(link)
    knitting.count(9)
    phone.killed()

    knitting = phone.open(link)
    assert knitting.place() == 9
    knitting.everything_is_sent()
    assert server.counted(link) == list(range(1, 10))


def test_taps_faster_than_the_disk_are_never_painted_too_early(phone: Phone, server: Server, link: str) -> None:
    """Killed amid a flurry of taps: at least as many rounds come back as were painted, in unbroken order."""
    knitting = phone.open(link)
    server.freeze()
    painted = knitting.page.evaluate(
        """async () => {
            const done = document.getElementById("done");
            for (let round = 1; round <= 60; round += 1) {
                const tap = new MouseEvent("click", { bubbles: true });
                // Two taps within a fifth of a second count once; by their own clock these are a second apart.
                Object.defineProperty(tap, "timeStamp", { value: performance.now() + 1000 * round });
                done.dispatchEvent(tap);
            }
            const shown = () => parseInt(document.getElementById("progress").textContent, 10);
            while (shown() < 20) await new Promise(requestAnimationFrame);
            return shown();
        }"""
    )
    phone.killed()
    server.kill()
    server.start()

    knitting = phone.open(link)
    assert painted <= knitting.place() <= 60
    knitting.everything_is_sent()
    assert server.counted(link) == list(range(1, knitting.place() + 1))
