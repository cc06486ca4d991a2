"""What a phone loads before it shows the first round stays small."""

from __future__ import annotations

import gzip
import posixpath
import re

import pytest

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


@pytest.mark.parametrize(
    "pattern", [{}, {"colour_pattern": "stitches", "stitch_pattern": "lace rib"}], ids=["plain", "lace"]
)
def test_the_first_view_of_the_knit_page_is_small(browser: Browser, pattern: dict[str, str]) -> None:
    link = browser.make_pair(**pattern)
    addresses = [f"/pair/{link}/knit", *first_view(browser, link).values()]
    answers = {address: browser.get(address, headers=GZIP) for address in addresses}
    assert {answer.headers["Content-Encoding"] for answer in answers.values()} == {"gzip"}
    sizes = {address: len(answer.data) for address, answer in answers.items()}
    assert sum(sizes.values()) < LIMIT, sizes
    # What is measured is what gzip makes of it, not an empty answer.
    assert all(gzip.decompress(answer.data) for answer in answers.values())


def imported(path: str) -> list[str]:
    """The modules that a module imports at once, by their paths below `static`."""
    code = (STATIC / path).read_text(encoding="utf-8")
    names = re.findall(r'^(?:import|export) (?:[^"]*? from )?"(\.[^"]+\.js)"', code, re.MULTILINE)
    return [posixpath.normpath(posixpath.join(posixpath.dirname(path), name)) for name in names]


def test_the_first_view_names_all_modules_that_its_modules_need(browser: Browser, link: str) -> None:
    """A module that the page does not name would only be found when the one that needs it has been read."""
    named = {path for path in first_view(browser, link) if path.startswith("js/")}
    needed = set()
    found = {"js/knit/apply-settings.js", "js/knit/knit.js"}  # what the page itself begins
    while found:
        needed |= found
        found = {other for path in found for other in imported(path)} - needed
    assert named == needed
