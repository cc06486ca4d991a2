"""A phone that calculates by itself, as soon as it has what it needs for that."""

from __future__ import annotations

import re
from pathlib import Path

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

KEEP_CHECK = """async ([link, round]) => {
    const scripts = document.querySelector("script[src*='/static/']").src.split("/js/")[0];
    const { keepCheck } = await import(`${scripts}/js/pair/kept-check.js`);
    const data = { stitches: [{ count: 27, over_cm: 10 }], rounds: [] };
    await keepCheck(link, { id: "cccccccc-0000-4000-8000-000000000001", sock: 1, round, data });
}"""
"""A check of sock one at a place, kept as its form does without network."""

IMAGE = "memory.image"
"""How the address ends at which that is kept."""

GIVE_IMAGE = """async (name) => {
    const cache = await caches.open("runtime");
    const { url } = (await cache.keys()).find(({ url }) => url.endsWith(name));
    const saving = document.createElement("a");
    saving.href = URL.createObjectURL(await (await cache.match(url)).blob());
    saving.download = name;
    saving.click();
    return new URL(url).pathname;
}"""

TAKE_IMAGE = """async (input, address) => {
    await (await caches.open("runtime")).put(address, new Response(input.files[0]));
}"""


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


def save_image(page: Page, folder: Path) -> None:
    """Have another phone begin Python by what this one has made for that: in the folder it lies at its address."""
    with page.expect_download() as download:
        address = page.evaluate(GIVE_IMAGE, IMAGE)
    download.value.save_as(folder / address.lstrip("/"))


def take_image(page: Page, folder: Path) -> bool:
    """Have this phone, which has a worker, keep that and all else it calculates with; whether there is something."""
    image = next(folder.rglob(IMAGE), None)
    if image:
        page.goto("/")
        page.evaluate(FETCH)
        chosen = page.evaluate_handle("Object.assign(document.createElement('input'), { type: 'file' })").as_element()
        assert chosen
        chosen.set_input_files(image)
        chosen.evaluate(TAKE_IMAGE, f"/{image.relative_to(folder).as_posix()}")
    return bool(image)
