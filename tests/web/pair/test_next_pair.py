"""The next pair, planned from what this one has taught of the knitter's own gauge."""

from __future__ import annotations

import re
from html import unescape
from typing import Any

from ...conftest import Browser, entry


def check(browser: Browser, link: str, number: int, stitches: float | None, rounds: float | None = None) -> None:
    data: dict[str, Any] = {}
    for what, count in (("stitches", stitches), ("rounds", rounds)):
        if count is not None:
            data[what] = [{"count": count, "over_cm": 10}, {"count": count, "over_cm": 9.9}]
    kept = entry(number, kind="check", round=40, data=data)
    answer = browser.post_json(f"/pair/{link}/log", {"entries": [kept]})
    assert answer.get_json()["kept"], answer.get_json()


def learned(browser: Browser, link: str) -> dict[str, Any] | None:
    found: dict[str, Any] | None = browser.get(f"/pair/{link}/pair.json").get_json()["learned"]
    return found


def typed(browser: Browser, link: str, field: str) -> str:
    page = browser.get(f"/pair/{link}/next").text
    found = re.search(rf'<input[^>]* name="{field}"[^>]* value="([^"]*)"', page)
    assert found
    return unescape(found[1])


def test_the_next_pair_begins_with_this_ones_foot_yarn_and_learned_gauge(browser: Browser) -> None:
    link = browser.make_pair(yarn_name="fog", needle_mm="2.25", heel_diagonal="33")
    check(browser, link, 1, 28, 40)
    found = learned(browser, link)
    assert found
    assert typed(browser, link, "stitches") == f"{found['stitches']['per_10cm']:.1f}"
    assert typed(browser, link, "rounds") == f"{found['rounds']['per_10cm']:.1f}"
    assert typed(browser, link, "heel_diagonal") == "33"
    assert (typed(browser, link, "yarn_name"), typed(browser, link, "needle_mm")) == ("fog", "2.25")
    page = browser.get(f"/pair/{link}/next").text
    assert '<option selected value="measured">' in page
    assert "the gauge that its check found" in page
    assert f'href="/pair/{link}/next"' in browser.get(f"/pair/{link}").text


def test_the_next_pair_has_this_ones_gauge_where_nothing_was_checked(browser: Browser, link: str) -> None:
    assert (typed(browser, link, "stitches"), typed(browser, link, "rounds")) == ("30", "42")
    assert "and its gauge." in browser.get(f"/pair/{link}/next").text


def test_an_unknown_link_has_no_next_pair(browser: Browser) -> None:
    assert browser.get(f"/pair/{'A' * 22}/next").status_code == 404
