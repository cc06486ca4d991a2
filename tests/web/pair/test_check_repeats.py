"""Whole repeats of a chart, counted in a gauge check."""

from __future__ import annotations

import pytest

from ...conftest import Browser
from ..checking import counted, result_of

CHARTED = {
    "colour_pattern": "chart",
    "chart": "AAABBAAA\nAABBBBAA\nABBAABBA\nAABBBBAA\nAAABBAAA\nAAAAAAAA",
    "yarn_count": "2",
    "yarn_name": "moss",
    "yarn_name_b": "sand",
}
"""Eight stitches wide and six rounds high."""

REPEATS = {
    "unit": "cm",
    "sock": "1",
    "round": "60",
    "counted_in": "repeats",
    "stitches_1": "4",
    "stitches_over_1": "10.3",
    "rounds_1": "3.5",
    "rounds_over_1": "5",
}


@pytest.fixture
def charted(browser: Browser) -> str:
    """A pair with a chart, in the leg of sock one."""
    link = browser.make_pair(**CHARTED)
    counted(browser, link, 60)
    return link


def test_repeats_are_kept_as_the_stitches_and_rounds_that_they_are(browser: Browser, charted: str) -> None:
    """4 repeats of 8 stitches are 32, and over 10.3 cm that is 31.1 over 10; 3 1/2 of 6 rounds are 21."""
    page = result_of(browser, charted, REPEATS).text
    assert "32 stitches over 10.3 cm" in page
    assert "is 31.1 over" in page
    log = browser.get(f"/pair/{charted}/export").get_json()["log"]
    [check] = [one["data"] for one in log if one["kind"] == "check"]
    assert check["stitches"] == [{"count": 32, "over_cm": 10.3}]
    assert check["rounds"] == [{"count": 21, "over_cm": 5}]


def test_stitches_are_counted_as_ever(browser: Browser, charted: str) -> None:
    form = {**REPEATS, "counted_in": "stitches", "stitches_1": "32", "rounds_1": "21"}
    assert "32 stitches over 10.3 cm" in result_of(browser, charted, form).text


@pytest.mark.parametrize(
    ("field", "typed", "allowed"), [("stitches", "51", "0.5 to 50"), ("rounds", "0.5", "0.7 to 66.6")]
)
def test_what_is_allowed_is_said_in_repeats(
    browser: Browser, charted: str, field: str, typed: str, allowed: str
) -> None:
    """4 to 400 stitches or rounds make 0.5 to 50 repeats of 8, and 2/3 to 66 2/3 of 6."""
    answer = browser.post(f"/pair/{charted}/check", {**REPEATS, f"{field}_1": typed})
    assert answer.status_code == 422
    assert f"You typed “{typed}”. Allowed: {allowed}." in answer.text
    assert 'data-least="4" data-most="400"' in answer.text  # the page's script takes them in stitches and rounds
    assert {"stitches": "Repeats across", "rounds": "Repeats up"}[field] in answer.text


def test_repeats_are_offered_where_the_sock_has_one_only(browser: Browser, charted: str, link: str) -> None:
    offer = 'data-repeat-stitches="8" data-repeat-rounds="6"'
    assert offer in browser.get(f"/pair/{charted}/check").text
    assert offer not in browser.get(f"/pair/{charted}/check?sock=1&round=5").text
    assert "A repeat is 8 stitches wide and 6 rounds high." in browser.get(f"/pair/{charted}/check").text
    plain = browser.get(f"/pair/{link}/check").text
    assert "data-repeat" not in plain
    assert 'id="counted-in" hidden' in plain
    form = {**REPEATS, "stitches_1": "27", "stitches_over_1": "10", "rounds_1": ""}
    assert "27 stitches over 10 cm" in result_of(browser, link, form).text
