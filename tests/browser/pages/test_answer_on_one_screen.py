"""What a gauge check means, on the first screen of a small phone: read at a glance, and answered with one thumb."""

from __future__ import annotations

import re
from functools import cache

import pytest
from playwright.sync_api import Page, expect

from companion.planning import Plan, make_plan
from companion.planning.units import Unit
from companion.resources import SAMPLE_PROJECTS
from companion.web.samples import read_samples

from ...conftest import made
from ..server import Server

pytestmark = pytest.mark.usefixtures("without_worker")

WIDTH, HEIGHT = 360, 740
MOST_WORDS = 60
PLACES = (20, 60, 110, 150, 190, 9999)
"""Rounds done of a sock: in its first part, in leg, heel or foot, near its end, and finished."""
SAMPLES = ("ismene", "linnet", "urn", "ilex")
OFF = (0.89, 0.97, 1.0, 1.1)
"""The gauge that is counted, as a part of the planned one."""

SEEN = """() => {
    const main = document.querySelector("main");
    const button = [...main.querySelectorAll(".button")].find((each) => each.offsetParent);
    const before = document.createRange();
    before.setStart(main, 0);
    before.setEndBefore(button);
    const seen = before.cloneContents();
    seen.querySelectorAll("details:not([open]) > :not(summary)").forEach((folded) => folded.remove());
    return [seen.textContent, button.getBoundingClientRect().bottom, document.documentElement.scrollWidth];
}"""
"""What stands before the first button in sight, where that ends, and how wide the page is."""


@cache
def planned(sample: str) -> Plan:
    """The plan of a sample project."""
    return make_plan(read_samples(SAMPLE_PROJECTS)[sample].request)


def checked(server: Server, sample: str, unit: Unit, place: int, off: float) -> str:
    """A pair with a check of four spots at a place; returns the address of its answer."""
    link = server.add_pair(sample, unit)
    plan = planned(sample)
    done = min(place, plan.count)
    gauge = plan.request.gauge
    spots = {"stitches": gauge.stitches_per_10cm * off}
    if off != OFF[0]:  # somebody who counts no rounds gets an answer, too
        spots["rounds"] = (gauge.rounds_per_10cm or gauge.stitches_per_10cm * 1.35) * off
    counted = {what: [{"count": round(count, 1), "over_cm": 10}] * 4 for what, count in spots.items()}
    log = [made(1, kind="go", round=done), made(2, kind="check", round=done, data=counted)]
    server.write(link, *log)
    return f"/pair/{link}/check/result?sock=1&round={done}"


def words(text: str) -> int:
    """Words of a text; a sign alone is none, and "8 3/8" is one."""
    joined = re.sub(r"(?<=\d)\s(?=\d/\d)", "", text)
    return sum(any(sign.isalnum() for sign in word) for word in joined.split())


@pytest.mark.parametrize("first", range(len(SAMPLES)))
def test_the_answer_fits_on_the_first_screen(first: int, server: Server, page: Page) -> None:
    """Every two of sample, place, gauge and unit meet: with one gauge, each place is that of the next sample."""
    page.set_viewport_size({"width": WIDTH, "height": HEIGHT})
    units: tuple[Unit, ...] = ("cm", "in")
    for number, place in enumerate(PLACES):
        sample, off = SAMPLES[(first + number) % len(SAMPLES)], OFF[first]
        unit = units[(first + number // 2) % 2]
        page.goto(checked(server, sample, unit, place, off))
        text, bottom, wide = page.evaluate(SEEN)
        assert words(text) <= MOST_WORDS, text
        assert bottom < HEIGHT, text
        assert wide <= WIDTH, text
        assert len(re.findall(r"\bbetween\b|\d to \d", text)) <= 1, text
        assert not re.search(r"\d\s(cm)\b" if unit == "in" else r"\d\s(in)\b", text), text
        assert "(recommended)" not in text
        _one_thing_to_do(page)


def _one_thing_to_do(page: Page) -> None:
    """One button is the answer's own, beside at most one that leaves all as it is."""
    assert page.locator("main .button.primary:visible").count() == 1
    assert page.locator("main .button:visible").count() <= 2


def test_with_text_twice_as_large_nothing_is_cut(server: Server, page: Page) -> None:
    page.set_viewport_size({"width": WIDTH, "height": HEIGHT})
    page.goto(checked(server, "ismene", "cm", 60, 0.89))
    page.evaluate("() => document.documentElement.style.setProperty('font-size', '200%')")
    _, _, wide = page.evaluate(SEEN)
    assert wide <= WIDTH
    page.get_by_role("button", name="Accept").scroll_into_view_if_needed()
    assert page.get_by_role("button", name="Accept").is_visible()


@pytest.mark.parametrize("sample", ["ismene", "sorrel"])
def test_the_yarn_page_begins_with_its_verdict(sample: str, server: Server, page: Page) -> None:
    page.set_viewport_size({"width": WIDTH, "height": HEIGHT})
    page.goto(f"/pair/{server.add_pair(sample)}/yarn")
    _is_one_screen(page)


def test_sock_two_is_chosen_on_one_screen(server: Server, page: Page) -> None:
    page.set_viewport_size({"width": WIDTH, "height": HEIGHT})
    page.goto(checked(server, "ismene", "cm", 60, 0.89))
    page.get_by_role("button", name="Accept").tap()
    expect(page.locator("#done")).to_be_enabled()
    page.goto(page.url.replace("/knit", "/second"))
    _is_one_screen(page)


def _is_one_screen(page: Page) -> None:
    text, bottom, wide = page.evaluate(SEEN)
    assert words(text) <= MOST_WORDS, text
    assert bottom < HEIGHT
    assert wide <= WIDTH
