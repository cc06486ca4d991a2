"""Counting on a sock whose leg is in a stitch pattern and whose sole is plain."""

from __future__ import annotations

from html import unescape

import pytest

from tests.conftest import Browser

PATTERN = {
    "colour_pattern": "stitches",
    "foot_pattern": "instep follows the leg",
    "pattern_stitches": "36.2",
    "pattern_rounds": "50",
}


def sections(browser: Browser, link: str) -> dict[str, dict[str, float]]:
    script = browser.get(f"/pair/{link}/pair.json").get_json()["scripts"][0]
    return {section["key"]: section for section in script["sections"]}


def test_the_tape_of_the_leg_is_in_the_rounds_of_its_pattern(browser: Browser) -> None:
    found = sections(browser, browser.make_pair(**PATTERN, stitch_pattern="cable rib"))
    assert found["leg"]["rounds_per_10cm"] == pytest.approx(50)
    assert not any("rounds_per_10cm" in section for key, section in found.items() if key != "leg")


def test_the_page_says_which_fabric_to_count_on_and_holds_the_count_against_it(browser: Browser) -> None:
    link = browser.make_pair(**PATTERN, stitch_pattern="cable rib")
    found = sections(browser, link)
    leg, foot = (int(found[key]["first"]) + 40 for key in ("leg", "foot"))
    on_leg, on_foot = (unescape(browser.get(f"/pair/{link}/check?sock=1&round={at}").text) for at in (leg, foot))
    assert 'Count <span id="count-where">in the pattern, on the leg</span>' in on_leg
    assert "A repeat is 6 stitches wide and 6 rounds high" in on_leg
    assert 'Count <span id="count-where">on the plain sole</span>' in on_foot
    assert "A repeat is" not in on_foot
    hidden = '<fieldset class="units" id="counted-on" hidden>'
    assert hidden in on_leg
    assert hidden not in on_foot
    counted = {"stitches_1": "36", "stitches_over_1": "10", "rounds_1": "50", "rounds_over_1": "10"}
    answer = browser.post(f"/pair/{link}/check", {"sock": "1", "round": str(leg), "unit": "cm", **counted})
    assert answer.status_code == 303, answer.text
    result = unescape(browser.get(answer.headers["Location"]).text)
    assert "in pattern, planned" in result
    assert "As planned" in result


def test_the_plan_and_the_written_pattern_give_the_gauge_in_pattern(browser: Browser) -> None:
    link = browser.make_pair(**PATTERN, stitch_pattern="cable rib")
    assert "36.2 stitches and 50 rounds" in unescape(browser.get(f"/pair/{link}").text)
    assert "36.2 stitches and 50 rounds over 10 cm, in pattern" in browser.get(f"/pair/{link}/pattern.txt").text
    estimated = {**PATTERN, "pattern_stitches": "", "pattern_rounds": "", "stitch_pattern": "cable rib"}
    link = browser.make_pair(**estimated)
    assert "in pattern, estimated" in browser.get(f"/pair/{link}/pattern.txt").text


def test_a_count_on_the_patterned_instep_is_kept_as_one(browser: Browser) -> None:
    link = browser.make_pair(**PATTERN, stitch_pattern="cable rib")
    at = int(sections(browser, link)["foot"]["first"]) + 40
    place = {"sock": "1", "round": str(at), "unit": "cm"}
    counted = {"stitches_1": "36", "stitches_over_1": "10", "rounds_1": "42", "rounds_over_1": "10"}
    answer = browser.post(f"/pair/{link}/check", {**place, **counted, "fabric": "pattern"})
    assert answer.status_code == 303, answer.text
    assert "As planned" in unescape(browser.get(answer.headers["Location"]).text)
    lines = browser.get(f"/pair/{link}/export").get_json()["log"]
    assert [line["data"].get("in_pattern") for line in lines if line["kind"] == "check"] == [True]
