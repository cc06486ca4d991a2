"""The pages of a pair that a phone makes of what it keeps are those of the server."""

from __future__ import annotations

import json
import re
import time
from collections.abc import Iterator

import pytest

from companion.on_phone.pages import page_answer

from ..conftest import Browser, entry
from ..web.checking import LOOSE, accept, counted, sure_result_of
from .test_new_plan import TWO_FEET, main_of

PLACE = 40
FORMS: dict[str, dict[str, str]] = {
    "plain": {},
    "in inches": {"unit": "in", "typed_unit": "in", "ball_circumference": "9", "foot_length": "9 3/4"},
    "two feet, toe-up": {**TWO_FEET, "direction": "toe-up", "heel": "short-row"},
    "stripes": {"yarn_count": "2", "colour_pattern": "stripes", "stripes": "A 4, B 2"},
}
PAGES = {"plan": "", "pattern": "/pattern", "yarn": "/yarn", "logbook": "/logbook?zone=Europe/Oslo"}
LEFT_OUT = (
    r'data-cursor="\d+"',
    r'<p class="hint" id="zone">.*?</p>',
    r'<a href="[^"]*pattern\.(txt|md)[^"]*"[^>]*>[^<]*</a>',
    r'<input type="hidden" name="csrf_token" value="[^"]*">',
)
"""What is the server's alone: its number of the newest entry, its words on time zones, files, and tokens."""


@pytest.fixture(autouse=True)
def a_phone_in_oslo(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setenv("TZ", "Europe/Oslo")
    time.tzset()
    yield
    monkeypatch.undo()
    time.tzset()


def bare(html: str) -> str:
    for left_out in LEFT_OUT:
        html = re.sub(left_out, "", html, flags=re.DOTALL)
    return main_of(html)


def same(browser: Browser, link: str, page: str, unit: str | None = None) -> None:
    address = f"/pair/{link}{PAGES[page]}"
    there = browser.get(f"{address}?unit={unit}" if unit else address).text
    text = browser.get(f"/pair/{link}/export").text
    here = page_answer(page, text, {"path": address.partition("?")[0], "version": "v1", "unit": unit})
    assert bare(here) == bare(there)


@pytest.mark.parametrize("changes", FORMS.values(), ids=FORMS)
def test_they_are_the_same_before_the_cast_on_and_in_the_leg(browser: Browser, changes: dict[str, str]) -> None:
    link = browser.make_pair(**changes)
    for page in PAGES:
        same(browser, link, page)
    weighing = entry(80, kind="weighing", round=PLACE, clock=60, data={"grams": 80, "yarn": "A"})
    note = entry(81, kind="note", round=PLACE, clock=61, at="2025-11-03T23:30:00Z", data={"text": "a blue thread"})
    counted(browser, link, PLACE)
    browser.post_json(f"/pair/{link}/log", {"entries": [weighing, note]})
    for page in PAGES:
        same(browser, link, page)


def test_they_are_the_same_after_a_change_and_in_the_other_unit(browser: Browser, link: str) -> None:
    counted(browser, link, PLACE)
    sure_result_of(browser, link, LOOSE)
    assert accept(browser, link, "rest") == 303
    for page in PAGES:
        same(browser, link, page)
    same(browser, link, "pattern", "in")


def test_a_page_is_whole_with_the_files_of_its_version(browser: Browser, link: str) -> None:
    text = browser.get(f"/pair/{link}/export").text
    for page in PAGES:
        html = page_answer(page, text, {"path": f"/pair/{link}", "version": "v7"})
        assert html.startswith("<!DOCTYPE html>")
        assert set(re.findall(r"/static/(\w+)/", html)) == {"v7"}


def test_a_broken_file_is_told_in_words() -> None:
    with pytest.raises(ValueError, match="this is no exported pair"):
        page_answer("plan", json.dumps({}), {"path": "/pair/x", "version": "v1"})
