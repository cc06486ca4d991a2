"""What a page shows stays where it is while the rest of it comes."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, Route, expect

from ..chromium import PATIENCE, phone
from ..given import NO_WORKERS
from ..knitting import Knitting
from ..server import Server
from ..tour import TOUR

SCREENS = {"phone": phone(360, 740), "desk": {"viewport": {"width": 1280, "height": 800}, "has_touch": True}}

OPENED = (
    "first page",
    "first page with pairs",
    "form",
    "plan",
    "pattern",
    "check",
    "yarn left",
    "logbook",
    "logbook with a photo",
    "knit",
    "knit large",
    "knit not on the server",
    "unknown link to knit",
    "design form",
    "design",
    "changed design",
    "graded pattern",
)

WATCHED = """
    window.moved = [];
    new PerformanceObserver((list) => list.getEntries().forEach(({ hadRecentInput, value, sources }) => {
        const what = sources.map(({ node }) => node?.outerHTML ?? node?.textContent);
        moved.push({ touched: hadRecentInput, moved: [value, ...what] });
    })).observe({ type: "layout-shift", buffered: true });
"""
"""What moves from the start of each page on, and whether a hand had done something (W3C, Layout Instability)."""

PAINTED = "() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(moved))))"


@pytest.fixture(params=SCREENS)
def watched(request: pytest.FixtureRequest, chromium: Browser, server: Server) -> Iterator[Page]:
    with chromium.new_context(base_url=server.address, **SCREENS[request.param]) as context:
        context.set_default_timeout(PATIENCE)
        context.add_init_script(NO_WORKERS + ";" + WATCHED)
        yield context.new_page()


@pytest.mark.parametrize("name", OPENED)
def test_nothing_moves_while_a_page_opens(watched: Page, link: str, name: str) -> None:
    TOUR[name](watched, link)
    assert [one for one in watched.evaluate(PAINTED) if not one["touched"]] == []


COMES_LATER = {
    "knit counted apart": "[role=alert]",
    "knit sock two": ".panel",
    "knit not on the server": "#put-back",
    "knit note": "#remark",
    "knit reminder": "#reminders p",
    "knit yarn short": "#yarn-warning",
    "knit with a leader": "#pace",
    "knit chart": "#chart",
    "knit steps": "#step",
    "knit finished": "#finish dl",
    "knit pair finished": "#finish dl",
    "knit large": ".beside button:enabled",
    "knit": ".beside button:enabled",
}
"""States of the knit page that open with more than a round, and what comes after the round is painted."""

KNIT_SCREENS = ((360, 740), (320, 568), (800, 360))
MAGNIFIED = (320, 256)
"""1280 x 1024 px at four times the size (WCAG 2.2, 1.4.10). What comes later is below, to be scrolled to."""

STANDS = """() => Object.fromEntries(
    ["reading", "ahead", "section", "number", "words", "stitches", "note", "how-far", "undo", "done"]
        .map((id) => [id, document.getElementById(id)]).filter(([, part]) => part.checkVisibility())
        .map(([id, part]) => [id, [part.getBoundingClientRect().top, part.getBoundingClientRect().left]]))"""


@pytest.mark.parametrize("name", COMES_LATER)
def test_nothing_moves_for_what_comes_after_the_round(chromium: Browser, server: Server, link: str, name: str) -> None:
    """By the browser's account, which leaves words in a line out, and by where everything stands before and after."""
    before: list[dict[str, list[float]]] = []

    def after_paint(route: Route) -> None:
        route.request.frame.evaluate(PAINTED)
        before.append(route.request.frame.evaluate(STANDS))
        route.continue_()

    with chromium.new_context(base_url=server.address, **SCREENS["phone"]) as context:
        context.set_default_timeout(PATIENCE)
        context.add_init_script(NO_WORKERS + ";" + WATCHED)
        page = context.new_page()
        TOUR[name](page, link)
        page.route("**/js/knit/deferred.js", after_paint)
        for width, height in (*KNIT_SCREENS, *([MAGNIFIED] if name == "knit" else ())):
            page.set_viewport_size({"width": width, "height": height})
            page.reload()
            Knitting(page, link).is_complete()
            expect(page.locator(COMES_LATER[name]).first).to_be_visible()
            assert page.evaluate(PAINTED) == [], (width, height)
            assert page.evaluate(STANDS) == before[-1], (width, height)
