"""What moves under the thumb: `python -m tests.measuring.thumb` taps through every round of every construction.

In each direction with each heel and each toe a sock of thick yarn is knitted on two small phones. Each move of the
button that counts, of Undo and of the row beside the count is reported, with the round that it led to. It ends with
1 where there is one.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator
from itertools import product
from pathlib import Path
from typing import Any

from playwright.sync_api import Page, sync_playwright

from tests.browser.chromium import engine, phone
from tests.browser.given import NO_WORKERS
from tests.browser.knit.test_one_screen import UNDER_THE_THUMB
from tests.browser.knit.test_thumb import TAP
from tests.browser.knitting import Knitting
from tests.browser.server import serving
from tests.planning.asking import planned
from tests.planning.requests import EVERY_CONSTRUCTION, names

SCREENS = ((360, 740), (320, 568))
"""CSS px."""

THICK = {"stitches_per_10cm": 20, "rounds_per_10cm": 28}
"""Has every kind of round in two thirds of the taps."""

SETTLED = f"""() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => {{
    const text = (id) => document.getElementById(id)?.textContent ?? "";
    done({{
        place: text("progress"),
        step: text("step-count"),
        round: `${{text("section")}}, ${{text("number")}} ${{text("step-count")}}`.trim(),
        edges: [...({UNDER_THE_THUMB})(), scrollX, scrollY],
    }});
}})))"""
"""What is shown and where the edges are. What stands round the number comes a frame after it."""

NEXT = f"""async ({{ place, step }}) => {{
    const settled = {SETTLED};
    ({TAP})();
    for (;;) {{
        const now = await settled();
        if (now.place !== place || now.step !== step) return now;
    }}
}}"""
"""Taps once, and looks when that is shown."""


def rounds(page: Page, link: str) -> Iterator[dict[str, Any]]:
    """What is seen before the first round, and after each tap until the sock is finished."""
    knitting = Knitting(page, link).open()
    knitting.is_complete()
    total = knitting.total()
    seen = page.evaluate(SETTLED)
    yield seen
    while seen["place"] != f"{total} of {total}":
        knitting.let_time_pass()
        seen = page.evaluate(NEXT, seen)
        yield seen


def moves(page: Page, link: str) -> Iterator[str]:
    """Each tap that moved an edge, by the round that it led to."""
    seen = rounds(page, link)
    before = next(seen)
    for now in seen:
        if now["edges"] != before["edges"]:
            yield f"{now['round']}: {before['edges']} -> {now['edges']}"
        before = now


def main() -> int:
    """Knit them all; report as it goes."""
    found = 0
    with (
        tempfile.TemporaryDirectory() as folder,
        serving(Path(folder)) as server,
        sync_playwright() as playwright,
        engine(playwright) as browser,
    ):
        for construction, (width, height) in product(EVERY_CONSTRUCTION, SCREENS):
            print(f"{names(construction)} at {width} x {height}", flush=True)
            link = server.add_plan(planned(construction=construction, gauge=THICK))
            with browser.new_context(base_url=server.address, **phone(width, height)) as context:
                context.add_init_script(NO_WORKERS)
                for move in moves(context.new_page(), link):
                    found += 1
                    print(f"  {move}", flush=True)
    print(f"{len(EVERY_CONSTRUCTION)} constructions, {len(SCREENS)} screens, {found} moves")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
