"""The leader's size grid: one table in four forms."""

from __future__ import annotations

import re
from html import unescape

import pytest

from companion.web.links import follower_link
from tests.planning.pattern.test_tables import read_html, rows_of_csv, rows_of_markdown

from ...conftest import Browser
from ..designing import lead

QUERY = "circumferences=20,+22.5&gauges=30,+32x44"


def test_every_form_has_the_same_table(browser: Browser) -> None:
    leader = lead(browser)
    page = browser.get(f"/design/{leader}/sizes?{QUERY}").text
    csv = browser.get(f"/design/{leader}/sizes.csv?{QUERY}")
    markdown = browser.get(f"/design/{leader}/sizes.md?{QUERY}")
    assert csv.content_type == "text/csv; charset=utf-8"
    assert markdown.content_type == "text/markdown; charset=utf-8"
    rows = rows_of_csv(csv.text)
    assert len(rows) > 10
    assert rows[0] == ["what", "Round the ball, cm", "Foot length, cm", "30 × 40.5", "32 × 44"]
    assert rows_of_markdown(markdown.text) == rows
    table = re.search(r"<table.*?</table>", page, re.DOTALL)
    assert table
    assert read_html(table[0]).rows == rows
    copied = [unescape(text) for text in re.findall(r'data-link="(.*?)"', page, re.DOTALL)]
    assert rows in [rows_of_markdown(text) for text in copied if text.startswith("**")]
    assert csv.text.replace("\r\n", "\n") in [text.replace("\r\n", "\n") for text in copied]
    assert table[0] in [text[: len(table[0])] for text in copied]


def test_without_a_question_there_are_the_usual_sizes(browser: Browser) -> None:
    leader = lead(browser)
    for unit, first, count in (("cm", "18", 11), ("in", "7", 9)):
        rows = rows_of_csv(browser.get(f"/design/{leader}/sizes.csv?unit={unit}").text)
        feet = [row[1] for row in rows if row[0] == rows[1][0]]
        assert (feet[0], len(feet)) == (first, count)


@pytest.mark.parametrize(
    ("query", "says"),
    [
        ("circumferences=3", "Round the ball: You typed “3”. Needed is the way round the ball of a foot"),
        ("gauges=9", "Gauge: You typed “9”. Allowed: 14 to 60 over 10 cm"),
        ("circumferences=" + "20,+" * 21, "At most 20 are allowed"),
    ],
)
def test_an_impossible_size_is_reported_beside_the_usual_ones(browser: Browser, query: str, says: str) -> None:
    leader = lead(browser)
    answer = browser.get(f"/design/{leader}/sizes?{query}")
    assert answer.status_code == 422
    assert says in unescape(answer.text).replace("\u00a0", " ")
    assert "<table" in answer.text
    refused = browser.get(f"/design/{leader}/sizes.csv?{query}")
    assert refused.status_code == 400
    assert says in unescape(refused.text).replace("\u00a0", " ")


def test_a_grid_of_more_sizes_than_others_can_wait_for_is_refused(browser: Browser) -> None:
    leader = lead(browser)
    feet, gauges = "+".join(f"{20 + number / 2:g}" for number in range(16)), "28+30+32+34"
    page = browser.get(f"/design/{leader}/sizes?circumferences={feet}&gauges={gauges}")
    assert page.status_code == 422
    assert "16 feet by 4 gauges. At most 60 sizes are allowed in one grid." in page.text
    assert browser.get(f"/design/{leader}/sizes.csv?circumferences={feet}&gauges={gauges}").status_code == 400
    assert browser.get(f"/design/{leader}/sizes.csv?circumferences={feet}&gauges=28+30+32").status_code == 200


def test_each_construction_allowed_has_a_grid_a_pattern_and_a_frame_that_say_which(browser: Browser) -> None:
    leader = lead(browser, also_heel="short-row", rib="k1 p1")
    pages = (f"/design/{leader}/sizes", f"/design/{leader}/pattern", f"/join/{follower_link(leader)}/grid")
    words = {"1": "Cuff-down, heel flap, wedge toe.", "2": "Cuff-down, short-row heel, wedge toe."}
    for page in pages:
        texts = {number: browser.get(f"{page}?construction={number}").text for number in words}
        for number, text in texts.items():
            assert f">{words[number]}</p>" in text
            assert f">{words[str(3 - int(number))]}</p>" not in text
        tables = [re.findall(r"<td>(.*?)</td>", text) for text in texts.values()]
        assert tables[0] != tables[1], page
        for other in ("", "?construction=0", "?construction=3", "?construction=heel"):
            assert words["1"] in browser.get(page + other).text, "the one proposed"
    inches = re.search(r'href="(\?unit=in[^"]*)"', browser.get(f"{pages[2]}?construction=2").text)
    assert inches
    assert words["2"] in browser.get(pages[2] + unescape(inches[1])).text
    written = [browser.get(f"/design/{leader}/pattern.txt?construction={number}").text for number in words]
    assert ["Heel flap" in text for text in written] == [True, False]
