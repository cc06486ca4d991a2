"""How fast it is: `python tests/benchmark.py` prints a table and exits with 1 if a target is missed.

Named parts run alone, as in `python tests/benchmark.py opening tap`; `--help` has their names.

Planning and recalculating are timed in milliseconds of processor time, which other programs on the computer
disturb least; the worst of them fall together with a full garbage collection, so the targets are for 95 %.
The taps are real ones in Chromium, slowed down to a quarter as an old phone would be.
"""

from __future__ import annotations

import argparse
import gc
import math
import statistics
import sys
import tempfile
import time
from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from itertools import product
from pathlib import Path

from playwright.sync_api import Browser, BrowserContext, Page, Request, sync_playwright

from companion.planning.check import Check, Spot
from companion.planning.check_places import check_places
from companion.planning.colours import in_yarns
from companion.planning.document import Plan
from companion.planning.observed import Evidence, assumed
from companion.planning.planner import make_plan
from companion.planning.recalculation import recalculate
from companion.planning.request import read_request
from companion.planning.work import known_row
from companion.resources import SAMPLE_PROJECTS
from companion.strict_json import read_json
from tests.browser.chromium import launched, phone
from tests.browser.knitting import APART, Knitting
from tests.browser.server import Server, serving
from tests.planning.asking import planned as planned_for
from tests.planning.requests import CONSTRUCTIONS

PLAN_TARGET = 20.0
RECALCULATION_TARGET = 30.0
FIRST_VIEW_TARGET = 28.0
TAP_OVER_BARE_TARGET = 8.0
OPENING_TARGET = 300.0
LONG_LOGBOOK = 20_000
OPENINGS = 10

REPEATS = 40
WIDTH = 52
WARM_UP_TAPS = 10
TAPS = 100
SLOWED_DOWN = 4

WAYS = ("Event Timing", "until the number is painted")

LOOSER = 0.94
"""Part of the planned gauge that is counted: 6 % looser, so that there is something to work out everywhere."""

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


@dataclass(frozen=True)
class Line:
    """A line of the table. 95 % of the values stay under the target, where there is one."""

    what: str
    values: Sequence[float]
    target: float | None = None

    @property
    def high(self) -> float:
        """The value that 95 % of the values do not exceed."""
        return sorted(self.values)[max(0, math.ceil(0.95 * len(self.values)) - 1)]

    @property
    def missed(self) -> bool:
        """Whether the target is missed."""
        return self.target is not None and self.high >= self.target

    def __str__(self) -> str:
        figures = (statistics.median(self.values), self.high, max(self.values))
        target = "" if self.target is None else f"{self.target:8.0f}{'  MISSED' if self.missed else ''}"
        return f"{self.what:<{WIDTH}}{''.join(f'{figure:8.1f}' for figure in figures)}{target}"


def timed(job: Callable[[], object]) -> list[float]:
    """Milliseconds of processor time that the job takes, over and over."""
    job()
    gc.collect()
    found = []
    for _ in range(REPEATS):
        start = time.process_time()
        job()
        found.append((time.process_time() - start) * 1000)
    return found


def planned(text: bytes) -> tuple[Plan, str]:
    """From the text of a plan request to the plan and the text of its document."""
    request, faults = read_request(read_json(text))
    assert request, faults
    plan = make_plan(request)
    return plan, plan.model_dump_json()


def looser(plan: Plan) -> Check:
    """A check that finds the fabric looser than planned, counted at two spots."""
    gauge = plan.request.gauge
    stitches = Spot(count=round(gauge.stitches_per_10cm * LOOSER * 2) / 2, over_cm=10)
    rounds = Spot(count=round((gauge.rounds_per_10cm or gauge.stitches_per_10cm * 1.35) * LOOSER * 2) / 2, over_cm=10)
    return Check(stitches=(stitches, stitches), rounds=(rounds, rounds))


def places(plan: Plan) -> Iterator[tuple[str, int]]:
    """Before the first round, and the middle of each section."""
    yield "nothing knitted", 0
    start = 0
    for section in plan.sections:
        count = len(section.rounds())
        yield section.title.lower(), start + count // 2
        start += count


def planning_lines() -> Iterator[Line]:
    """How long plans take, and recalculations at each place over all samples."""
    by_place: dict[str, list[float]] = defaultdict(list)
    for path in sorted(SAMPLE_PROJECTS.glob("*.json")):
        text = path.read_bytes()
        found = timed(partial(planned, text))
        yield Line(f"plan of {path.stem}, ms", found, PLAN_TARGET)
        plan, _ = planned(text)
        check = looser(plan)
        for place, done in places(plan):
            by_place[place] += timed(partial(recalculate, plan, done, [check]))
    for place, found in by_place.items():
        yield Line(f"recalculation, {place}, ms", found, RECALCULATION_TARGET)


def construction_lines() -> Iterator[Line]:
    """Recalculations of every construction, plain and stranded with a pattern that goes on down the instep.

    They are made wherever a check is asked for, each as if it were the first.
    """
    by_heel: dict[str, list[float]] = defaultdict(list)
    sorrel = read_json((SAMPLE_PROJECTS / "sorrel.json").read_bytes())
    stranded = {key: sorrel[key] for key in ("leg", "yarns", "foot_pattern")}
    gc.collect()
    gc.freeze()  # as the server does
    for construction, (fabric, colours) in product(CONSTRUCTIONS, {"plain": {}, "stranded": stranded}.items()):
        plan = planned_for(construction=construction, **colours)
        evidence: list[Evidence] = [assumed(plan.request), looser(plan)]
        for place in check_places(plan):
            known_row.cache_clear()
            in_yarns.cache_clear()
            start = time.process_time()
            recalculate(plan, place.round, evidence)
            taken = (time.process_time() - start) * 1000
            by_heel[f"{construction['direction']}, {construction['heel']}, {fabric}"].append(taken)
    for heel, found in by_heel.items():
        yield Line(f"recalculation, {heel}, ms", found, RECALCULATION_TARGET)


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


def tap(page: Page, button: str) -> tuple[list[float], list[float]]:
    """Milliseconds of each tap as Event Timing has it, and until the changed number is painted.

    What a tap sets going comes to its end before the next: a round takes a knitter far longer.
    """
    box = page.locator(button).bounding_box()
    assert box
    for _ in range(WARM_UP_TAPS + TAPS):
        # Asking the page would take up its time just then, so it tells.
        with page.expect_console_message(lambda message: message.text == "painted"):
            page.touchscreen.tap(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
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


def tap_lines(browser: Browser, server: Server) -> Iterator[Line]:
    """How long a tap takes on a page that does nothing but count, and on the knit page with a long logbook."""
    with long_logbook(browser, server) as (context, knit):
        floor = context.new_page()
        floor.set_content(EMPTY)
        floor.evaluate(COUNT_ONLY)
        knit.open().is_complete()
        knit.page.evaluate(RESTED, APART)
        bare: list[float | None] = [None, None]
        for name, page, button, shown in (
            ("bare page", floor, "button", "output"),
            ("tap", knit.page, "#done", "#progress"),
        ):
            page.bring_to_front()
            page.evaluate(PROBE, shown)
            slow_down(page)
            for number, (what, found) in enumerate(zip(WAYS, tap(page, button), strict=True)):
                over = bare[number]
                line = Line(f"{name}, CPU 1/{SLOWED_DOWN}, {what}, ms", found, over and over + TAP_OVER_BARE_TARGET)
                bare[number] = line.high
                yield line


PARTS: dict[str, Callable[[], Iterator[Line]]] = {"plan": planning_lines, "construction": construction_lines}
IN_BROWSER = {"first-view": first_view_lines, "opening": opening_lines, "tap": tap_lines}


def asked() -> list[str]:
    """The parts that the command line names; all where it names none."""
    parser = argparse.ArgumentParser(description="Measure how fast it is.")
    parser.add_argument("part", nargs="*", help=f"one or more of: {', '.join([*PARTS, *IN_BROWSER])}")
    parts: list[str] = parser.parse_args().part
    if unknown := set(parts) - {*PARTS, *IN_BROWSER}:
        parser.error(f"there is no part {', '.join(sorted(unknown))}")
    return parts or [*PARTS, *IN_BROWSER]


def main() -> int:
    """Measure and print; returns the exit code."""
    parts = asked()
    print(f"{'':<{WIDTH}}{'median':>8}{'95 %':>8}{'worst':>8}{'target':>8}")
    missed = False

    def show(lines: Iterator[Line]) -> None:
        nonlocal missed
        for line in lines:
            print(line, flush=True)
            missed = missed or line.missed

    for name in parts:
        if name in PARTS:
            show(PARTS[name]())
    with tempfile.TemporaryDirectory() as folder, serving(Path(folder)) as server, sync_playwright() as playwright:
        browser = launched(playwright)
        for name in parts:
            if name in IN_BROWSER:
                show(IN_BROWSER[name](browser, server))
        browser.close()
    if missed:
        print("A target is missed. Where the bare page is slow as well, the computer is too busy to tell.")
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
