"""A phone whose browser is killed right after a count was painted has lost nothing."""

from __future__ import annotations

from ...chromium import PhoneOnDisk
from ...knitting import Knitting
from ...server import Server


def test_a_painted_count_outlives_the_browser(own_server: Server, on_disk: PhoneOnDisk) -> None:
    """The first one alone, and several in a row, without a server: only what the phone kept can come back."""
    link = own_server.add_pair()
    knitting = Knitting(on_disk.start().pages[0], link).open()
    knitting.works_without_network()
    own_server.kill()
    knitting.count()
    on_disk.kill()

    knitting = Knitting(on_disk.start().pages[0], link).open()
    assert knitting.place() == 1
    knitting.count(5)
    on_disk.kill()

    own_server.start()
    context = on_disk.start()
    knitting = Knitting(context.pages[0], link).open()
    assert knitting.place() == 6
    knitting.everything_is_sent()
    assert own_server.counted(link) == [1, 2, 3, 4, 5, 6]
    context.close()


def test_a_browser_killed_while_it_sends_loses_nothing(own_server: Server, on_disk: PhoneOnDisk) -> None:
    link = own_server.add_pair()
    knitting = Knitting(on_disk.start().pages[0], link).open()
    knitting.count(30)
    on_disk.kill()

    context = on_disk.start()
    knitting = Knitting(context.pages[0], link).open()
    assert knitting.place() == 30
    knitting.everything_is_sent()
    assert own_server.counted(link) == list(range(1, 31))
    context.close()


def test_taps_faster_than_the_disk_are_never_painted_too_early(own_server: Server, on_disk: PhoneOnDisk) -> None:
    """Killed amid a flurry of taps: at least as many rounds come back as were painted, in unbroken order."""
    link = own_server.add_pair()
    page = on_disk.start().pages[0]
    knitting = Knitting(page, link).open()
    own_server.freeze()
    painted = page.evaluate(
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
    on_disk.kill()
    own_server.kill()
    own_server.start()

    context = on_disk.start()
    knitting = Knitting(context.pages[0], link).open()
    assert painted <= knitting.place() <= 60
    knitting.everything_is_sent()
    assert own_server.counted(link) == list(range(1, knitting.place() + 1))
    context.close()
