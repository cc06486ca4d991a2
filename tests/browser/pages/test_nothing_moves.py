"""What a page shows stays where it is while the rest of it comes."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page

from ..chromium import PATIENCE, phone
from ..given import NO_WORKERS
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
        if (!hadRecentInput) moved.push([value, ...sources.map(({ node }) => node?.outerHTML ?? node?.textContent)]);
    })).observe({ type: "layout-shift", buffered: true });
"""
"""What moves without being asked to, from the start of each page on (W3C, Layout Instability)."""

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
    assert watched.evaluate(PAINTED) == []
