"""The written pattern's pages and files, of a pair and of a design."""

from __future__ import annotations

import re
from html import unescape

import pytest

from ...conftest import Browser
from ..designing import join, lead

CAST_ON = re.compile(r"cast on (\d+)(?: \((\d+(?:, \d+)*)\))?")


def words(page: str) -> str:
    """The text of a page as it is read: without its head, tags and line breaks."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", page.split("<main")[1])).replace("\u00a0", " ").split())


def test_the_page_of_a_pair_has_the_parts_of_a_pattern(browser: Browser, link: str) -> None:
    page = browser.get(f"/pair/{link}/pattern").text
    for heading in ("What you need", "Notes", "Schematic", "Abbreviations", "Directions", "To finish"):
        assert f">{heading}</h" in page
    assert "<svg" in page
    assert "Sizes" not in re.findall(r"<dt>(.*?)</dt>", page)
    assert CAST_ON.search(page)


@pytest.mark.parametrize("unit", ["cm", "in"])
def test_page_markdown_and_text_say_the_same(browser: Browser, link: str, unit: str) -> None:
    text = browser.get(f"/pair/{link}/pattern.txt?unit={unit}")
    markdown = browser.get(f"/pair/{link}/pattern.md?unit={unit}")
    page = words(browser.get(f"/pair/{link}/pattern?unit={unit}").text)
    assert text.content_type == "text/plain; charset=utf-8"
    assert markdown.content_type == "text/markdown; charset=utf-8"
    unmarked = re.sub(r"\\(.)", r"\1", markdown.text).replace("**", "")
    lines = [line for line in text.text.splitlines() if re.match(r"(RS |WS )?(round|row)s? \d", line, re.IGNORECASE)]
    assert len(lines) > 20
    for line in lines:
        assert line in unmarked
        label, _, worked = line.partition(": ")
        assert label in page
        assert worked in page


def test_plan_and_design_lead_to_their_patterns(browser: Browser, link: str) -> None:
    assert f'href="/pair/{link}/pattern?unit=cm"' in browser.get(f"/pair/{link}").text
    leader = lead(browser)
    page = browser.get(f"/design/{leader}").text
    assert f'href="/design/{leader}/pattern"' in page
    assert f'href="/design/{leader}/sizes"' in page


def test_a_design_is_graded_for_the_feet_that_are_asked_for(browser: Browser) -> None:
    leader = lead(browser)
    query = "circumferences=20,+22.5,+25&gauges=32x44"
    page = words(browser.get(f"/design/{leader}/pattern?{query}").text)
    assert "20 (22.5, 25) cm" in page
    assert "32 stitches and 44 rounds over 10 cm" in page
    found = CAST_ON.search(page)
    assert found
    assert found[2].count(",") == 1
    for form in ("md", "txt"):
        assert found[0] in browser.get(f"/design/{leader}/pattern.{form}?{query}").text


def test_the_size_of_a_follower_has_her_own_plans_numbers(browser: Browser) -> None:
    leader = lead(browser)
    query = "circumferences=20,+23,+26&lengths=22,+25,+28&gauges=30x42"
    graded = CAST_ON.search(browser.get(f"/design/{leader}/pattern.txt?{query}").text)
    pair = join(browser, leader, ball_circumference="23", foot_length="25")
    own = CAST_ON.search(browser.get(f"/pair/{pair}/pattern.txt").text)
    assert graded
    assert own
    assert graded[2].split(", ")[0] == own[1]


def test_inches_are_typed_as_knitters_write_them(browser: Browser) -> None:
    leader = lead(browser)
    page = words(browser.get(f"/design/{leader}/pattern?unit=in&circumferences=8+1/2,+9&gauges=30").text)
    assert "8 1/2 (9) in" in page
    assert "over 4 in" in page


@pytest.mark.parametrize(
    ("query", "says"),
    [
        ("circumferences=round", "Round the ball: You typed “round”. A number is needed here"),
        ("circumferences=20,+22&lengths=24", "Foot length: You typed “1”. One for each of the 2"),
        ("gauges=fine", "Gauge: You typed “fine”. Needed are stitches"),
        ("circumferences=9,+22&gauges=15", "9 cm round: The leg would have"),
        ("circumferences=9&gauges=15", "a sock needs 16 or more"),
    ],
)
def test_what_cannot_be_is_reported_and_can_be_changed(browser: Browser, query: str, says: str) -> None:
    leader = lead(browser, rib="k1 p1")
    answer = browser.get(f"/design/{leader}/pattern?{query}")
    assert answer.status_code == 422
    assert says in words(answer.text)
    typed = query.split("=")[1].split("&", maxsplit=1)[0].replace("+", " ")
    assert f'value="{typed}"' in answer.text
    for form in ("md", "txt"):
        refused = browser.get(f"/design/{leader}/pattern.{form}?{query}")
        assert refused.status_code == 400
        assert says in words(refused.text)


def test_the_leaders_notes_stand_once_at_their_part(browser: Browser) -> None:
    leader = lead(browser)
    for address in (f"/design/{leader}/pattern", f"/pair/{join(browser, leader)}/pattern"):
        for ending in ("", ".txt", ".md"):
            before, after = browser.get(f"{address}{ending}").text.split("Slip the first stitch of every row.")
            assert "Heel flap" in before
            assert "Heel turn" not in before.split("Abbreviations")[-1]
            assert "Heel turn" in after
