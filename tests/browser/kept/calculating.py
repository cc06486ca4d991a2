"""A phone that calculates by itself, as soon as it has what it needs for that."""

from __future__ import annotations

from playwright.sync_api import Page

CALCULATED = 120_000
"""Milliseconds that a busy computer may take to begin a Python in its browser."""

FETCH = """async () => {
    const { pathname } = new URL(document.querySelector("script[src*='/static/']").src);
    const { keepRuntime, offered } = await import(`${pathname.split("/js/")[0]}/js/phone/runtime.js`);
    await keepRuntime(await offered());
    while (!(await caches.match("/plan"))) await new Promise((later) => setTimeout(later, 50));
}"""


def fetch_runtime(page: Page) -> None:
    """Have this phone keep what it calculates with, and the form of a new pair, as the menu's offer does."""
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    page.reload()  # under the worker from now on
    page.evaluate(FETCH)
