"""One phone without a worker for one test after another: a new one would fetch and compile everything again."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from playwright.sync_api import Browser, Page, ViewportSize

from .chromium import PATIENCE, Watch, phone
from .given import NO_WORKERS

USUAL: ViewportSize = {"width": 412, "height": 915}
"""CSS px."""

PLAIN = "/manifest.webmanifest"
"""Without a script. On a page of the same origin the engine keeps its process and what it has compiled."""

FORGET = "() => { localStorage.clear(); sessionStorage.clear(); }"

LASTING = {
    "page": ("add_init_script", "expose_function", "expose_binding"),
    "context": ("add_init_script", "expose_function", "expose_binding", "add_cookies", "set_geolocation"),
    "clock": ("install", "set_fixed_time", "set_system_time"),
}
"""What no later test could be rid of."""


def refuse(*given: Any, **_options: Any) -> None:
    """Keep a test from a change that lasts, unless it is as good as made."""
    assert given == (NO_WORKERS,), "This outlasts the test: have it use `own_phone`."


class UsedPhone:
    """A page that has forgotten everything whenever it is handed out, and what was seen of it since."""

    def __init__(self, page: Page, origin: str) -> None:
        self._page = page
        self._origin = origin
        self.watch = Watch()
        self.watch.follow(page.context)

    def emptied(self, size: ViewportSize = USUAL) -> Page:
        """Have the phone forget everything of the origin and what a test has set, and look at it as at first."""
        page, context = self._page, self._page.context
        page.unroute_all()
        context.unroute_all()
        context.set_offline(False)
        context.clear_permissions()
        for other in context.pages:
            if other is not page:
                other.close()
        page.goto(PLAIN)
        page.evaluate(FORGET)
        session = context.new_cdp_session(page)
        session.send("Storage.clearDataForOrigin", {"origin": self._origin, "storageTypes": "all"})
        session.detach()
        page.set_viewport_size(size)
        page.emulate_media(media="null", color_scheme="light", reduced_motion="no-preference", forced_colors="none")
        self.watch.problems.clear()
        self.watch.refusals.clear()
        return page


@contextmanager
def used_phone(chromium: Browser, origin: str) -> Iterator[UsedPhone]:
    """A phone for many tests, none of which can change what lasts."""
    with chromium.new_context(base_url=origin, **phone(**USUAL)) as context:
        context.set_default_timeout(PATIENCE)
        context.add_init_script(NO_WORKERS)
        page = context.new_page()
        changed = {"page": page, "context": context, "clock": page.clock}
        for name, jobs in LASTING.items():
            for job in jobs:
                setattr(changed[name], job, refuse)
        yield UsedPhone(page, origin)
