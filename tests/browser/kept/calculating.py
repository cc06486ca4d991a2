"""A phone that calculates by itself, as soon as it has what it needs for that."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect

from ..knitting import Knitting

CALCULATED = 120_000
"""Milliseconds that a busy computer may take to begin a Python in its browser."""

OFFER = re.compile(r"^Check and plan without network: \d+ MB$")
"""The button in the menu of the knit page."""

FETCH = """async () => {
    const { pathname } = new URL(document.querySelector("script[src*='/static/']").src);
    const { keepRuntime, offered } = await import(`${pathname.split("/js/")[0]}/js/phone/runtime.js`);
    await keepRuntime(await offered());
    while (!(await caches.match("/plan"))) await new Promise((later) => setTimeout(later, 50));
}"""

ALL_KEPT = """async () => {
    const kept = async (name) => (await (await caches.open("runtime")).keys()).some(({ url }) => url.endsWith(name));
    const all = async () => (await kept("memory.image")) && caches.match("/plan");
    while (!(await all())) await new Promise(requestAnimationFrame);
}"""
"""What makes the next start of Python quick is kept too, and the form of a new pair."""


def fetch_runtime(page: Page) -> None:
    """Have this phone keep what it calculates with, and the form of a new pair, as the menu's offer does."""
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    page.reload()  # under the worker from now on
    page.evaluate(FETCH)


def take_the_offer(knitting: Knitting) -> None:
    """Have this phone keep by the menu what it calculates with."""
    knitting.open()
    knitting.is_complete()
    knitting.open_menu()
    knitting.page.get_by_role("button", name=OFFER).tap()
    expect(knitting.page.get_by_text("This phone calculates checks and plans pairs without network")).to_be_visible()
    knitting.page.evaluate(ALL_KEPT)
