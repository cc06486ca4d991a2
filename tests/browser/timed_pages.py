"""How fast the pages are in Chromium, slowed down to a quarter as an old phone would be."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from playwright.sync_api import Browser, BrowserContext, Page, Request

from tests.browser.chromium import phone
from tests.browser.knitting import APART, Knitting
from tests.browser.server import Server
from tests.measuring.measured import Line

FIRST_VIEW_TARGET = 28.0
TAP_OVER_FLOOR_TARGET = 8.0
OPENING_TARGET = 300.0
LONG_LOGBOOK = 20_000
OPENINGS = 10

WARM_UP_TAPS = 10
TAPS = 100
SLOWED_DOWN = 4

FLOORS = {"Event Timing": "bare page", "until the number is painted": "one record"}
"""How a tap is timed, and the page that it is compared with: Event Timing does not wait for the disk, paint does."""

PROBE = """(shown) => {
    // Event Timing (W3C): an interaction lasts until the next frame after its handlers; nothing under 16 ms is told.
    const interactions = new Map();
    new PerformanceObserver((list) => {
        for (const { interactionId: id, duration } of list.getEntries()) {
            if (id) interactions.set(id, Math.max(duration, interactions.get(id) ?? 0));
        }
    }).observe({ type: "event", durationThreshold: 16 });
    // A handler that waits for the disk goes on after that frame. So also: until the frame with the changed number has
    // been handed over, which the task tells that goes before all others that wait for its end.
    const painted = [];
    let lifted = 0;
    addEventListener("pointerup", ({ timeStamp }) => (lifted = timeStamp), true);
    const handedOver = () => {
        painted.push(performance.now() - lifted);
        console.debug("painted");
    };
    new MutationObserver(() =>
        requestAnimationFrame(() => scheduler.postTask(handedOver, { priority: "user-blocking" })))
        .observe(document.querySelector(shown), { childList: true, characterData: true, subtree: true });
    window.probe = { interactions, painted };
}"""

SEED = """async (many) => {
    const open = indexedDB.open("tapeline");
    await new Promise((done) => (open.onsuccess = done));
    const log = open.result.transaction("log", "readwrite").objectStore("log");
    const link = location.pathname.split("/")[2];
    const start = Date.now() - many * 60000;
    for (let number = 0; number < many; number += 1) {
        const id = crypto.randomUUID();
        const at = new Date(start + number * 60000).toISOString();
        const round = 1 + (number % 150);
        const kind = number % 2 ? "undo" : "count";
        log.add({ link, id, device: id, clock: 1, at, sock: 1, kind, round, sent: 1, after: [] });
    }
    await new Promise((done) => (log.transaction.oncomplete = done));
    open.result.close();
}"""

OPENED = """new MutationObserver((_, watch) => {
    const shown = document.getElementById("progress");
    if (!/^\\d/.test(shown?.textContent)) return;
    watch.disconnect();
    requestAnimationFrame(() => setTimeout(() => {
        window.opened = performance.now();
        console.debug("opened");
    }));
}).observe(document, { childList: true, subtree: true });"""

RESTED = """(apart) => new Promise((rested) =>
    setTimeout(() => requestIdleCallback(() => requestIdleCallback(rested)), apart))"""

EMPTY = """<meta name="viewport" content="width=device-width"><button>Tap</button> <output>0</output>"""
COUNT_ONLY = """() => {
    const shown = document.querySelector("output");
    document.querySelector("button").addEventListener("pointerup", () => (shown.textContent = Number(shown.value) + 1));
}"""

ONE_RECORD = """async () => {
    const open = indexedDB.open("floor", 1);
    open.onupgradeneeded = () => open.result.createObjectStore("counts");
    await new Promise((done) => (open.onsuccess = done));
    const shown = document.querySelector("output");
    document.querySelector("button").addEventListener("pointerup", () => {
        const count = Number(shown.value) + 1;
        const writing = open.result.transaction("counts", "readwrite", { durability: "strict" });
        writing.objectStore("counts").put(count, "count");
        writing.oncomplete = () => (shown.textContent = count);
    });
}"""


def first_view_lines(browser: Browser, server: Server) -> Iterator[Line]:
    """What an empty browser fetches because the knit page names it, by kind, in kB of 1,000 bytes as they travel."""
    kinds: dict[str, float] = defaultdict(float)
    finished: list[Request] = []
    with browser.new_context(base_url=server.address, service_workers="block", **phone()) as context:
        page = context.new_page()

        def note(request: Request) -> None:
            finished.append(request)

        page.on("requestfinished", note)
        knitting = Knitting(page, server.add_pair()).open()
        document = page.request.get(page.url).text()
        knitting.everything_is_sent()
        for request in finished:
            if request.url == page.url or request.url.removeprefix(server.address) in document:
                kinds[request.resource_type] += request.sizes()["responseBodySize"] / 1000
    names = {"document": "page", "stylesheet": "styles", "script": "scripts"}
    for kind, name in names.items():
        yield Line(f"first view, {name}, kB", [kinds[kind]])
    yield Line("first view, together, kB", [sum(kinds[kind] for kind in names)], FIRST_VIEW_TARGET)


def tap(page: Page, button: str, ends: Callable[[], None]) -> tuple[list[float], list[float]]:
    """Milliseconds of each tap as Event Timing has it, and until the changed number is painted.

    What a tap sets going `ends` before the next: a round takes a knitter far longer.
    """
    box = page.locator(button).bounding_box()
    assert box
    for _ in range(WARM_UP_TAPS + TAPS):
        # Asking the page would take up its time just then, so it tells.
        with page.expect_console_message(lambda message: message.text == "painted"):
            page.touchscreen.tap(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
        ends()
        page.evaluate(RESTED, APART)
    interactions: list[float] = page.evaluate("[...probe.interactions.values()]")
    painted: list[float] = page.evaluate("probe.painted")
    return interactions[WARM_UP_TAPS:], painted[WARM_UP_TAPS:]


@contextmanager
def long_logbook(browser: Browser, server: Server) -> Iterator[tuple[BrowserContext, Knitting]]:
    """The knit page of a pair that has been counted for long, with the worker in charge."""
    with browser.new_context(base_url=server.address, **phone()) as context:
        knit = Knitting(context.new_page(), server.add_pair()).open()
        knit.works_without_network()
        knit.page.evaluate(SEED, LONG_LOGBOOK)
        yield context, knit


def slow_down(page: Page) -> None:
    """Give the page a quarter of the processor."""
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWED_DOWN})


def opening_lines(browser: Browser, server: Server) -> Iterator[Line]:
    """How long it takes from the start of a navigation to a long logbook's pair until its round is painted."""
    found = []
    with long_logbook(browser, server) as (_, knit):
        slow_down(knit.page)
        knit.page.add_init_script(OPENED)
        for _ in range(OPENINGS):
            # As a knitter does, from the list of her pairs: what the last opening has set going is over by then.
            knit.page.goto("/")
            knit.page.evaluate(RESTED, APART)
            # Asking the page would take up its time just then, so it tells.
            with knit.page.expect_console_message(lambda message: message.text == "opened"):
                knit.page.goto(f"/pair/{knit.link}/knit", wait_until="commit")
            knit.is_complete()
            found.append(float(knit.page.evaluate("opened")))
    yield Line(f"opening, {LONG_LOGBOOK:,} entries, CPU 1/{SLOWED_DOWN}, ms", found, OPENING_TARGET)


def emptied(context: BrowserContext, server: Server, handler: str) -> Page:
    """A page of the server's address with nothing but a button, and what counts its taps."""
    page = context.new_page()
    page.goto(f"{server.address}/nowhere")  # only what has an address has a database
    page.set_content(EMPTY)
    page.evaluate(handler)
    return page


def tap_lines(browser: Browser, server: Server) -> Iterator[Line]:
    """How long a tap takes on the knit page with a long logbook.

    Beside it stand a page that does nothing but count, and one that writes the count down before it shows it.
    """
    with long_logbook(browser, server) as (context, knit):
        bare, one_record = (emptied(context, server, handler) for handler in (COUNT_ONLY, ONE_RECORD))
        knit.open().is_complete()
        knit.page.evaluate(RESTED, APART)
        highs: dict[tuple[str, str], float] = {}
        for name, page, button, shown, ends in (
            ("bare page", bare, "button", "output", lambda: None),
            ("one record", one_record, "button", "output", lambda: None),
            ("tap", knit.page, "#done", "#progress", knit.everything_is_sent),
        ):
            page.bring_to_front()
            page.evaluate(PROBE, shown)
            slow_down(page)
            for (what, floor), found in zip(FLOORS.items(), tap(page, button, ends), strict=True):
                limit = highs[floor, what] + TAP_OVER_FLOOR_TARGET if page is knit.page else None
                line = Line(f"{name}, CPU 1/{SLOWED_DOWN}, {what}, ms", found, limit)
                highs[name, what] = line.high
                yield line
