"""What it costs a phone to calculate by itself, in processor time: no browser slows down a worker.

On a phone with a quarter of this processor it takes four times as long.
"""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from playwright.sync_api import Browser, Page

from companion.on_phone.runtime import FOLDER, installed
from tests.browser.chromium import phone
from tests.browser.knitting import Knitting
from tests.browser.server import Server, serving
from tests.browser.timed_pages import SLOWED_DOWN
from tests.measuring.measured import Line
from tests.on_phone import RUNTIME
from tests.on_phone.test_same_answer import checks

STARTS = 3
ANSWERS = 3
LONGEST = 600_000
"""Milliseconds for all starts."""

KEEP = """async (modules) => {
    const { offered, keepRuntime } = await import(modules + "runtime.js");
    await keepRuntime(await offered());
}"""

BEGIN = """async (modules) => {
    const { ask, prepare } = await import(modules + "planning.js?" + Math.random());
    Object.assign(window, { ask, prepare });
}"""
ASK = """(question) => ask("page", question)"""
END = """() => prepare()"""


def _used() -> float:
    """Milliseconds of processor time that all programs begun from here have used (proc(5): fields 4, 14 and 15)."""
    stats = {}
    for path in Path("/proc").glob("[0-9]*/stat"):
        with suppress(OSError):  # it has ended
            stats[int(path.parent.name)] = path.read_text().rpartition(")")[2].split()
    ours = {os.getpid()}
    while more := {pid for pid, stat in stats.items() if int(stat[1]) in ours} - ours:
        ours |= more
    ticks = sum(int(stats[pid][11]) + int(stats[pid][12]) for pid in ours - {os.getpid()})
    return ticks * 1000 / os.sysconf("SC_CLK_TCK")


def _times(page: Page, modules: str, question: object) -> list[float]:
    """What each answer of a worker that begins now costs, the start with the first."""
    page.evaluate(BEGIN, modules)
    found = []
    for _ in range(ANSWERS):
        before = _used()
        page.evaluate(ASK, question)
        found.append((_used() - before) * SLOWED_DOWN)
    page.evaluate(END)
    return found


def planner_lines(browser: Browser, _: Server) -> Iterator[Line]:
    """The first answer of a worker that has nothing kept and of one that has, and the next answers of the same."""
    if not installed(RUNTIME):
        return
    [question] = checks(1)
    first, begun, next_ones = [], [], []
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / FOLDER).symlink_to(RUNTIME)
        with serving(Path(folder)) as server:
            for _start in range(STARTS):
                with browser.new_context(base_url=server.address, **phone()) as context:
                    page = context.new_page()
                    Knitting(page, server.add_pair()).open().works_without_network()
                    page.set_default_timeout(LONGEST)
                    script = str(page.locator("script[src*='/js/knit/']").first.get_attribute("src"))
                    modules = script.split("/js/", maxsplit=1)[0] + "/js/phone/"
                    page.evaluate(KEEP, modules)
                    first += _times(page, modules, question)[:1]
                    later, *more = _times(page, modules, question)
                    begun.append(later)
                    next_ones += more
    slow = f"ms of CPU times {SLOWED_DOWN}"
    yield Line(f"check on the phone, first time, {slow}", first)
    yield Line(f"check on the phone, later starts, {slow}", begun)
    yield Line(f"check on the phone, begun, {slow}", next_ones)
