"""A pair that was planned in inches is told in inches everywhere, with ounces, yards and US needle sizes."""

from __future__ import annotations

import json
import re
from html import unescape

import pytest

from ..conftest import FORM, Browser, entry
from .checking import LOOSE, result_of, take

METRIC = re.compile(r".{0,40}[\d.,]+\s(?:cm|mm|m|g)\b")
IN_INCHES = {
    "unit": "in",
    "ball_circumference": "9",
    "foot_length": "9 7/8",
    "cuff_length": "1 1/2",
    "leg_length": "5 1/2",
    "needle_mm": "2.5",
    "grams": "1.4",
    "title": "Inches",
}


def shown(page: str) -> str:
    """What is read on a page: its text and the names of its parts."""
    body = page.partition("<main")[2]
    named = re.findall(r'(?:aria-label|title|alt)="([^"]*)"', body)
    return unescape(" ".join([re.sub(r"<[^>]+>", " ", body), *named]))


@pytest.fixture
def inch_pair(browser: Browser) -> str:
    """Weighed, tried on, checked and changed, so that every page has something to say."""
    answer = browser.post("/plan", {**FORM, **IN_INCHES})
    assert answer.status_code == 303, shown(answer.text)
    link = answer.headers["Location"].split("/")[2]
    remarks = [
        entry(1, kind="go", round=40),
        entry(2, kind="weighing", round=40, data={"grams": 30, "yarn": "A"}),
        entry(3, kind="length", round=40, data={"cm": 9, "from": "cast-on"}),
    ]
    kept = browser.post_json(f"/pair/{link}/log", {"entries": remarks}).get_json()["kept"]
    assert len(kept) == len(remarks)
    return link


@pytest.mark.parametrize("page", ["", "/pattern", "/yarn", "/logbook", "/fit?sock=1", "/check?sock=1&round=40"])
def test_a_page_is_in_one_unit(browser: Browser, inch_pair: str, page: str) -> None:
    answer = browser.get(f"/pair/{inch_pair}{page}")
    assert answer.status_code == 200
    assert METRIC.findall(re.sub(r'<span class="when-cm">.*?</span>', "", shown(answer.text))) == []


def test_the_answer_to_a_check_and_what_it_changes_are_in_one_unit(browser: Browser, inch_pair: str) -> None:
    loose = {**LOOSE, "unit": "in", "stitches_1": "27", "stitches_over_1": "4"}
    for asked in (
        loose,
        {**loose, "stitches_2": "27", "stitches_over_2": "4", "stitches_3": "27", "stitches_over_3": "4"},
    ):
        assert METRIC.findall(shown(result_of(browser, inch_pair, asked).text)) == []
    assert take(browser, inch_pair, "here", loose).status_code == 303
    for page in ("", "/second", "/pattern", "/logbook"):
        answer = browser.get(f"/pair/{inch_pair}{page}", follow_redirects=True)
        assert (answer.status_code, METRIC.findall(shown(answer.text))) == (200, [])


def test_the_rounds_on_the_knit_page_are_in_one_unit(browser: Browser, inch_pair: str) -> None:
    scripts = browser.get(f"/pair/{inch_pair}/pair.json").get_json()["scripts"]
    notes = [instruction["note"] for script in scripts for instruction in script["instructions"] if instruction["note"]]
    assert any(" in" in note for note in notes)
    assert METRIC.findall(json.dumps(scripts)) == []
