"""Phones for one test after another: a new one would fetch and compile everything again, and install the worker."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Browser, Page, ViewportSize

from .chromium import PATIENCE, Watch, phone
from .given import NO_WORKERS

USUAL: ViewportSize = {"width": 412, "height": 915}
"""CSS px."""

PLAIN = "/manifest.webmanifest"
"""Without a script. On a page of the same origin the engine keeps its process and what it has compiled."""

FORGET = """async () => {
    localStorage.clear();
    sessionStorage.clear();
    for (const cookie of document.cookie.split("; ")) document.cookie = `${cookie.split("=")[0]}=; path=/; max-age=0`;
    for (const name of await caches.keys()) {
        const cache = await caches.open(name);
        const pages = (await cache.keys()).filter(({ url }) => new URL(url).pathname.startsWith("/pair/"));
        await Promise.all(pages.map((page) => cache.delete(page)));
    }
    return Boolean(await navigator.serviceWorker?.getRegistration());
}"""
"""The worker stays, with the files that it has for everybody; what it kept of pairs goes. Whether it is there."""

CLEARED = "file_systems,indexeddb,local_storage"
"""What else is cleared where the worker is to stay (Chrome DevTools Protocol, Storage.StorageType).

The session's cookie stays as well: pages that the worker keeps for all pairs have its token.
"""

LASTING = {
    "page": ("add_init_script", "expose_function", "expose_binding", "close"),
    "context": ("add_init_script", "expose_function", "expose_binding", "add_cookies", "set_geolocation", "close"),
    "clock": ("install", "set_fixed_time", "set_system_time"),
}
"""What no later test could be rid of."""


def refuse(*_given: Any, **_options: Any) -> None:
    """Keep a test from a change that lasts."""
    raise AssertionError("This outlasts the test: have it use `own_phone`.")


def refuse_more(*given: Any, **_options: Any) -> None:
    """The same, where what is as good as made need not be made."""
    if given != (NO_WORKERS,):
        refuse()


class UsedPhone:
    """A page that has forgotten everything whenever it is handed out, and what was seen of it since."""

    def __init__(self, page: Page, origin: str, *, worker: bool) -> None:
        self._page = page
        self._origin = origin
        self._worker = worker
        self.watch = Watch()
        self.watch.follow(page.context)
        self._listening: list[tuple[Any, Any]] = []
        self._listen = page.on
        changed = {"page": page, "context": page.context, "clock": page.clock}
        for name, jobs in LASTING.items():
            for job in jobs:
                setattr(changed[name], job, refuse if worker else refuse_more)
        vars(page)["on"] = self._on

    def _on(self, event: Any, listener: Any) -> None:
        """Tell a test what happens on the page, and no later one: each request that is told of costs time."""
        self._listening.append((event, listener))
        self._listen(event, listener)

    def emptied(self, size: ViewportSize = USUAL) -> Page:
        """Take up the phone, which forgets everything of the origin, and look at it as at first."""
        page, context = self._page, self._page.context
        assert page.evaluate(FORGET) == self._worker, "a worker that comes or goes lasts"
        session = context.new_cdp_session(page)
        types = CLEARED if self._worker else "all"
        session.send("Storage.clearDataForOrigin", {"origin": self._origin, "storageTypes": types})
        session.detach()
        page.set_viewport_size(size)
        page.emulate_media(media="null", color_scheme="light", reduced_motion="no-preference", forced_colors="none")
        self.watch.problems.clear()
        self.watch.refusals.clear()
        return page

    def put_down(self) -> None:
        """Have it do nothing, with nothing in its way: a knit page would go on asking for news."""
        page, context = self._page, self._page.context
        while self._listening:
            page.remove_listener(*self._listening.pop())
        page.unroute_all()
        context.unroute_all()
        context.set_offline(False)
        context.clear_permissions()
        for other in context.pages:
            if other is not page:
                other.close()
        page.goto(PLAIN)


class UsedPhones:
    """As many as a test needs at a time, made when they are first needed."""

    def __init__(self, chromium: Browser, origin: str) -> None:
        self.origin = origin
        self._chromium = chromium
        self._made: dict[bool, list[UsedPhone]] = {True: [], False: []}

    def phone(self, number: int, *, worker: bool) -> UsedPhone:
        """The phone of this number, from 0, of those with a worker or of those without."""
        made = self._made[worker]
        if number == len(made):
            made.append(self._new(worker=worker))
        return made[number]

    def _new(self, *, worker: bool) -> UsedPhone:
        context = self._chromium.new_context(base_url=self.origin, **phone(**USUAL))
        context.set_default_timeout(PATIENCE)
        page = context.new_page()
        if worker:
            page.goto("/")
            page.evaluate("navigator.serviceWorker.ready.then(() => true)")
        else:
            context.add_init_script(NO_WORKERS)
        page.goto(PLAIN)
        return UsedPhone(page, self.origin, worker=worker)
