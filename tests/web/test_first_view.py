"""What a phone loads before it shows the first round stays small."""

from __future__ import annotations

import gzip
import re

from companion.resources import STATIC

from ..conftest import Browser

LIMIT = 28_000
"""Bytes, compressed as they go out: page, styles, scripts and icon."""

GZIP = {"Accept-Encoding": "gzip"}


def first_view(browser: Browser, link: str) -> dict[str, str]:
    """By its path, each file that the knit page asks for at once, with its address. Phones fetch PNGs to install."""
    page = browser.get(f"/pair/{link}/knit").text
    found = re.findall(r'(?:href|src)="(/static/[^/]+/([^"]+\.(?:css|js|svg)))"', page)
    return {path: address for address, path in found}


def test_the_first_view_of_the_knit_page_is_small(browser: Browser, link: str) -> None:
    addresses = [f"/pair/{link}/knit", *first_view(browser, link).values()]
    answers = {address: browser.get(address, headers=GZIP) for address in addresses}
    assert {answer.headers["Content-Encoding"] for answer in answers.values()} == {"gzip"}
    sizes = {address: len(answer.data) for address, answer in answers.items()}
    assert sum(sizes.values()) < LIMIT, sizes
    # What is measured is what gzip makes of it, not an empty answer.
    assert all(gzip.decompress(answer.data) for answer in answers.values())


def test_the_first_view_names_all_modules_that_its_modules_need(browser: Browser, link: str) -> None:
    """A module that the page does not name would only be found when the one that needs it has been read."""
    named = {path.removeprefix("js/") for path in first_view(browser, link) if path.startswith("js/")}
    needed = set()
    found = {"knit.js", "worker.js"}  # what the page itself begins
    while found:
        needed |= found
        code = "".join((STATIC / "js" / name).read_text(encoding="utf-8") for name in found)
        found = set(re.findall(r'^(?:import|export) (?:[^"]*? from )?"\./([\w-]+\.js)"', code, re.MULTILINE)) - needed
    assert named == needed
