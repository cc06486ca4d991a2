"""The way of a pair through Firefox and WebKit: opened by its link, counted, cut off from the server, and back."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from pathlib import Path

import pytest

from ..knitting import APART
from ..other_browsers import FIREFOX, MINI_BROWSER, SCREEN, WEBKIT_DRIVER, OtherBrowser, firefox, webkit
from ..server import Server

BROWSERS: dict[str, tuple[Callable[[Path], AbstractContextManager[OtherBrowser]], bool]] = {
    "Firefox": (firefox, bool(FIREFOX)),
    "WebKit": (webkit, all((WEBKIT_DRIVER, SCREEN, MINI_BROWSER))),
}

KNIT_TIME = "(apart) => new Promise((go) => setTimeout(go, apart))"

KEPT = """() => navigator.serviceWorker.ready.then(({ active }) => new Promise((kept) => {
    const look = () => active.state === "activated" && kept(true);
    active.addEventListener("statechange", look);
    look();
}))"""
"""The worker is active, and so has all that the page needs without network. It is "ready" a little before that."""
CONTROLLED = "() => Boolean(navigator.serviceWorker.controller)"


@pytest.fixture(params=BROWSERS)
def other(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[OtherBrowser]:
    """A window of a browser that knows nothing yet."""
    start, here = BROWSERS[request.param]
    if not here:
        pytest.skip(f"{request.param} is not installed; tests/run says which packages have it")
    folder = tmp_path / "browser"
    folder.mkdir()
    with start(folder) as window:
        yield window


def count(window: OtherBrowser, times: int = 1) -> None:
    """Tap that many rounds away."""
    for _ in range(times):
        window.call(KNIT_TIME, APART)
        window.tap("#done")


def test_the_whole_way(other: OtherBrowser, own_server: Server) -> None:
    """What the tests in Chromium show one by one, in one go."""
    link = own_server.add_pair()
    other.goto(f"{own_server.address}/pair/{link}")
    other.goto(other.call("() => document.querySelector('a.primary').href"))
    other.shows("#progress", r"^0 of \d+$")
    count(other, 3)
    other.shows("#progress", r"^3 of ")
    other.tap("#undo")
    other.shows("#progress", r"^2 of ")
    other.shows("#kept", r"^Kept and sent\.$")
    assert own_server.counted(link) == [1, 2, 3, 2]
    # WebKit's worker never takes over a page that was on its way when it became active, but one that is opened then.
    assert other.call(KEPT)
    other.reload()
    other.shows("#progress", r"^2 of ")
    assert other.call(CONTROLLED)

    own_server.kill()
    other.reload()
    other.shows("#progress", r"^2 of ")
    count(other)
    other.shows("#progress", r"^3 of ")
    other.shows("#menu", "Weigh the yarn")  # brought once the round is painted, with the sheets
    other.tap("#note-it")
    other.call("() => { document.querySelector('dialog textarea').value = 'Between two stations.' }")
    other.call("() => document.querySelector('dialog form').requestSubmit()")
    other.shows("#remark", "Between two stations")
    other.shows("#kept", "2 not yet sent. No network now")
    other.reload()
    other.shows("#progress", r"^3 of ")
    other.shows("#kept", "2 not yet sent")

    own_server.start()
    other.call("() => { dispatchEvent(new Event('online')) }")
    other.shows("#kept", r"^Kept and sent\.$", within=30)
    assert own_server.counted(link) == [1, 2, 3, 2, 3, 3]
    assert {entry.kind for entry in own_server.entries(link)} == {"count", "undo", "note"}
