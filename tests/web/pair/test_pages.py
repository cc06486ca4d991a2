"""The first page, the plan page and the knit page."""

from __future__ import annotations

import json
import re
from html import unescape
from pathlib import Path

import pytest

from companion.web import create_app
from tests.pair.test_packed import unpacked

from ...conftest import Browser, entry
from ...storing import damaged, rows


def test_the_plan_page_has_the_whole_sock(browser: Browser, link: str) -> None:
    page = browser.get(f"/pair/{link}").text
    for words in ("Thursday socks", "heel flap", "<svg", "Over the heel: <b>", "g of 100 g, enough"):
        assert words in page, words
    assert f"http://localhost/pair/{link}" in page


def test_the_plan_page_tells_which_parts_are_in_another_yarn(browser: Browser) -> None:
    link = browser.make_pair(yarn_count="2", yarn_name="moss", yarn_name_b="chalk", heel_yarn="B", toe_yarn="B")
    page = browser.get(f"/pair/{link}").text
    assert page.count("Knitted in it") == 1
    told = " ".join(re.sub(r"<[^>]+>", " ", page.partition("Yarn B: chalk")[2]).split())
    assert re.search(r"Knitted in it heel, toe One sock takes \d+ m", told)


def test_the_plan_page_shows_the_unit_asked_for(browser: Browser, link: str) -> None:
    assert re.search(r"\d cm\b", browser.get(f"/pair/{link}").text)
    inches = browser.get(f"/pair/{link}?unit=in").text
    assert re.search(r"\d in\b", inches)
    assert browser.get(f"/pair/{link}?unit=furlong").text.count(" cm") == browser.get(f"/pair/{link}").text.count(" cm")


def test_links_to_copy_begin_with_the_public_address(store_path: Path) -> None:
    app = create_app({"DATABASE": store_path, "PUBLIC_URL": "https://socks.example"})
    browser = Browser(app.test_client())
    browser.client.get("/", base_url="https://localhost")
    token = browser.client.get("/csrf", base_url="https://localhost").get_json()["token"]
    form = {"ball_circumference": "23", "foot_length": "25", "stitches": "30", "csrf_token": token}
    made = browser.client.post("/plan", data=form, base_url="https://localhost")
    assert made.status_code == 303
    page = browser.client.get(made.headers["Location"], base_url="https://localhost").text
    assert f"https://socks.example{made.headers['Location']}/knit" in page
    app.extensions["store"].close()


def test_the_knit_page_carries_the_pair_and_the_shell_does_not(browser: Browser) -> None:
    link = browser.make_pair(title="</script><script>alert(1)")
    page = browser.get(f"/pair/{link}/knit").text
    found = re.search(r'<script type="application/json" id="pair">(.*?)</script>', page, re.DOTALL)
    assert found
    assert unpacked(json.loads(found[1])) == browser.get(f"/pair/{link}/pair.json").get_json()
    assert 'id="pair"' not in browser.get("/knit").text


@pytest.mark.parametrize("damage", ["not json", '{"schema": 1}', '{"schema": 2}', "[" * 9000])
def test_a_plan_that_no_longer_reads_is_reported_and_kept(
    browser: Browser, link: str, store_path: Path, damage: str
) -> None:
    damaged(store_path, "UPDATE revisions SET plan = ?", damage)
    for url in ("", "/knit", "/check"):
        answer = browser.get(f"/pair/{link}{url}")
        assert answer.status_code == 409
        assert "kept as it is" in answer.text
    assert browser.get(f"/pair/{link}/pair.json").get_json()["error"] == "conflict"
    assert rows(store_path, "SELECT what, raw FROM set_aside") == [("plan of revision 1", damage)]


@pytest.mark.parametrize("damage", ["pairs SET title = x'00ff'", "revisions SET done = 'many'"])
def test_a_pair_that_no_longer_reads_is_reported(browser: Browser, link: str, store_path: Path, damage: str) -> None:
    damaged(store_path, f"UPDATE {damage}")
    for url in ("", "/knit", "/check", "/pair.json"):
        answer = browser.get(f"/pair/{link}{url}")
        assert answer.status_code == 409
        assert "kept as it is" in answer.text


def test_counts_are_taken_in_for_a_plan_that_no_longer_reads(browser: Browser, link: str, store_path: Path) -> None:
    damaged(store_path, "UPDATE revisions SET done = 'many'")
    counted = entry(1)
    answer = browser.post_json(f"/pair/{link}/log", {"entries": [counted]})
    assert answer.get_json()["kept"] == [counted["id"]]


def test_the_written_pattern_explains_every_abbreviation(browser: Browser, link: str) -> None:
    page = browser.get(f"/pair/{link}/pattern").text
    meanings = page[page.index("abbreviations-title") :]
    for short in ("k2tog", "ssk", "p2tog", "sl", "wyif", "RS", "WS"):
        assert f"<dt>{short}</dt>" in meanings


def test_without_scripts_the_knit_page_leads_to_the_written_pattern(browser: Browser, link: str) -> None:
    page = browser.get(f"/pair/{link}/knit").text
    assert f'href="/pair/{link}/pattern"' in page[page.index("<noscript>") : page.index("</noscript>")]


def test_each_part_of_the_pattern_begins_with_how_the_stitches_lie_on_the_needles(browser: Browser, link: str) -> None:
    page = browser.get(f"/pair/{link}/pattern").text.replace("\N{NO-BREAK SPACE}", " ")
    parts = re.findall(r'<section class="pattern-section".*?</section>', page, re.DOTALL)
    told = [re.search(r'<p class="on-needles">([^<]+)</p>', part) for part in parts]
    assert told[0]
    assert sum(map(bool, told)) >= len(told) - 1, "a leg may lie as its cuff does"
    assert "needle 2 onto needle 1" in page


IN_COLOUR = {
    "yarn_count": "2",
    "yarn_name": "moss",
    "yarn_name_b": "sand",
    "grams_b": "3",
    "colour_pattern": "chart",
    "chart": "ABBA\nBAAB",
}


def test_a_plan_in_colour_shows_chart_key_and_what_each_yarn_takes(browser: Browser) -> None:
    page = unescape(browser.get(f"/pair/{browser.make_pair(**IN_COLOUR)}").text).replace("\N{NO-BREAK SPACE}", " ")
    assert 'aria-label="The chart, 4 stitches wide and 2 rounds high"' in page
    assert page.count('class="yarn-square"') == 2, "two beside the chart"
    assert "<b>B</b> sand" in page
    takes = [float(grams) for grams in re.findall(r"<b>(\d+) g</b>, \d+ m, a tenth in hand", page)]
    [short] = re.findall(r"Short by (\d+) g", page)
    assert takes[1] - 3 == float(short)
    assert f"3 g are at hand; {short} g are missing" in page, "the warning misses as much as the yarn's own line does"
    assert "exchanges A and B" not in page
    assert "exchanges A and B" in browser.get(f"/pair/{browser.make_pair(**IN_COLOUR, swap='y')}").text


def test_the_plan_page_says_that_the_stretch_of_stranded_fabric_is_assumed(browser: Browser, link: str) -> None:
    stranded = unescape(browser.get(f"/pair/{browser.make_pair(**IN_COLOUR, heel='short-row')}").text)
    assert "how much less is assumed" in stranded
    assert "that stranded knitting does is assumed" in stranded.replace("\N{NO-BREAK SPACE}", " ")
    assert "assumed" not in browser.get(f"/pair/{link}").text


def test_stripes_are_listed_in_the_order_in_which_they_are_knitted(browser: Browser) -> None:
    striped = IN_COLOUR | {"colour_pattern": "stripes", "stripes": "A 4, B 1"}
    page = browser.get(f"/pair/{browser.make_pair(**striped)}").text
    assert page.index("moss: 4 rounds") < page.index("sand: 1 round<")


def test_a_plain_plan_says_nothing_of_charts(browser: Browser, link: str) -> None:
    page = browser.get(f"/pair/{link}").text
    assert "chart-title" not in page
    assert "sock-yarn" not in page
