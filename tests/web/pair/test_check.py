"""A gauge check: what is counted, and what it says."""

from __future__ import annotations

import re
from typing import Any

import pytest

from ...conftest import Browser, entry
from ..checking import LOOSE, accept, counted, data, instructions_of, result_of, sure_result_of

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


def kept(browser: Browser, link: str) -> list[dict[str, Any]]:
    """The checks in the logbook."""
    log = browser.get(f"/pair/{link}/export").get_json()["log"]
    return [one for one in log if one["kind"] == "check"]


def test_the_form_knows_the_place(browser: Browser, link: str) -> None:
    counted(browser, link, 40)
    by_address = browser.get(f"/pair/{link}/check?sock=1&round=30").text
    assert "Sock 1, leg, round 13 of 59" in by_address
    assert "Sock 1, leg, round 23 of 59" in browser.get(f"/pair/{link}/check").text
    assert "Sock 2, cuff, round 1 of 18" in browser.get(f"/pair/{link}/check?sock=2").text
    total = data(browser, link)["scripts"][0]["total"]
    assert "Sock 2, finished" in browser.get(f"/pair/{link}/check?sock=2&round={total}").text


def test_a_check_changes_nothing_by_itself(browser: Browser, link: str) -> None:
    before = data(browser, link)
    answer = result_of(browser, link, LOOSE)
    assert answer.status_code == 200
    assert "27 stitches over 10 cm" in answer.text
    assert data(browser, link) == before


def test_a_count_that_agrees_says_so_and_how_sure_it_is(browser: Browser, link: str) -> None:
    answer = result_of(browser, link, {**LOOSE, "stitches_1": "30"})
    assert "As planned. Knit on; check again at round 59 of the leg." in answer.text
    assert "You can be fairly sure of it: stitches lie between" in answer.text
    assert "Accept" not in answer.text


def test_before_a_change_three_more_spots_are_asked_for_and_then_no_more(browser: Browser, link: str) -> None:
    answer = result_of(browser, link, LOOSE)
    assert "three more places, then we know." in answer.text
    answer = sure_result_of(browser, link, LOOSE)
    assert "Looser than planned: the foot would be" in answer.text
    assert "three more places" not in answer.text


def test_the_short_form_has_three_places_over_what_fits_on_the_needles(browser: Browser, link: str) -> None:
    """64 stitches at 30 lie 10.7 cm wide; 22 rounds of leg at 42 are 5.2 cm high. In inches halves fit."""
    found = {}
    for unit in ("cm", "in"):
        result_of(browser, link, LOOSE)
        page = browser.get(f"/pair/{link}/check/result?sock=1&round=40&unit={unit}").text
        assert len(re.findall(r'aria-label="(?:Stitches|Rounds), place \d"', page)) == 6
        found[unit] = set(re.findall(r'name="(stitches|rounds)_over_\d" value="([^"]+)"', page))
    assert found == {"cm": {("stitches", "9"), ("rounds", "5")}, "in": {("stitches", "3 1/2"), ("rounds", "2")}}


def test_the_short_form_posts_to_the_same_check(browser: Browser, link: str) -> None:
    result_of(browser, link, LOOSE)
    again = {f"stitches_{n}": "24.3" for n in (1, 2, 3)} | {f"stitches_over_{n}": "9" for n in (1, 2, 3)}
    form = {**again, "unit": "cm", "typed_unit": "cm", "sock": "1", "round": "40"}
    assert "Looser than planned: the foot would be" in result_of(browser, link, form).text


def test_a_tape_that_was_tried_is_allowed_for(browser: Browser, link: str) -> None:
    """One that says 29.3 cm along A4 paper, 29.7 cm by ISO 216: 10 cm on it are 10.137."""
    result_of(browser, link, {**LOOSE, "ruler": f"{29.7 / 29.3:.4f}"})
    [check] = kept(browser, link)
    assert check["data"]["stitches"] == [{"count": 27, "over_cm": 10.137}]
    refused = browser.post(f"/pair/{link}/check", {**LOOSE, "ruler": "2"})
    assert refused.status_code == 422
    assert "Allowed: 0.9 to 1.1" in refused.text


def test_the_lengths_of_the_form_fit_what_is_on_the_needles(browser: Browser, link: str) -> None:
    """Before there is fabric enough they are short: 5 cm, or 2 in."""
    for place, over in (("40", "5"), ("5", "5"), ("70", "10")):
        page = browser.get(f"/pair/{link}/check?sock=1&round={place}").text
        assert re.search(rf'name="rounds_over_1"[^>]*value="{over}"', page), place
    assert re.search(r'data-cm="5" data-in="2"[^>]*name="rounds_over_1"', browser.get("/check").text)


def test_a_check_is_kept_in_the_logbook_with_its_place_and_needle(browser: Browser, link: str) -> None:
    result_of(browser, link, LOOSE)
    [check] = kept(browser, link)
    assert (check["sock"], check["round"]) == (1, 40)
    assert check["data"] == {"stitches": [{"count": 27, "over_cm": 10}], "needle_mm": 2.5}


def test_a_check_that_is_sent_twice_is_kept_once(browser: Browser, link: str) -> None:
    named = {**LOOSE, "entry": entry(7)["id"]}
    for _ in range(2):
        result_of(browser, link, named)
    assert len(kept(browser, link)) == 1
    assert browser.post(f"/pair/{link}/check", {**LOOSE, "entry": "the same"}).status_code == 400


def test_every_check_of_both_socks_counts(browser: Browser, link: str) -> None:
    alone = result_of(browser, link, {**LOOSE, "stitches_1": "28"}).text
    both = result_of(browser, link, {**LOOSE, "stitches_1": "28", "sock": "2", "round": "30"}).text
    give = [float(re.findall(r"stitches</b> over 10 cm, give or take ([\d.]+)", page)[0]) for page in (alone, both)]
    assert give[1] < give[0]
    assert "Sock 2, leg, after round 12" in both
    assert "Sock 1, leg, after round 22" in both


def test_a_check_counts_also_when_its_change_is_taken_back_and_its_rounds_are_ripped(
    browser: Browser, link: str
) -> None:
    counted(browser, link, 40)
    assert accept(browser, link, "rip") == 303
    browser.post(f"/pair/{link}/check/undo", {"sock": "1"})
    assert "27 stitches over 10 cm" in browser.get(f"/pair/{link}/check/result").text


def test_a_slip_of_the_pen_is_left_out(browser: Browser, link: str) -> None:
    assert "three more places, then we know." in result_of(browser, link, LOOSE).text
    [check] = kept(browser, link)
    answer = browser.post(f"/pair/{link}/check/leave-out", {"sock": "1", "round": "40", "entry": check["id"]})
    assert answer.status_code == 303
    page = browser.get(answer.headers["Location"]).text
    assert "How sure is this?" not in page
    assert "Nothing yet." in page
    again = browser.post(f"/pair/{link}/check/leave-out", {"sock": "1", "round": "40", "entry": check["id"]})
    assert again.status_code == 409


def test_a_length_by_tape_counts_until_it_is_left_out(browser: Browser, link: str) -> None:
    taped = entry(1, kind="length", round=40, data={"cm": 9.0, "from": "cast-on"})
    browser.post_json(f"/pair/{link}/log", {"entries": [taped]})
    page = browser.get(f"/pair/{link}/check/result?sock=1&round=40").text
    assert "How sure is this?" in page
    assert "9 cm long from the cast-on" in page
    slip = {"sock": "1", "round": "40", "entry": taped["id"]}
    answer = browser.post(f"/pair/{link}/check/leave-out", slip)
    assert answer.status_code == 303
    page = browser.get(answer.headers["Location"]).text
    assert "How sure is this?" not in page
    assert "Nothing yet." in page


def test_without_a_check_the_result_says_so(browser: Browser, link: str) -> None:
    page = browser.get(f"/pair/{link}/check/result").text
    assert "Nothing yet." in page


def test_a_miscount_that_came_from_a_phone_is_reported_and_does_not_count(browser: Browser, link: str) -> None:
    slip = entry(1, kind="check", round=40, data={"stitches": [{"count": 12, "over_cm": 10}]})
    browser.post_json(f"/pair/{link}/log", {"entries": [slip]})
    page = sure_result_of(browser, link, LOOSE).text
    assert "(cannot be, and does not count)" in page
    assert "Looser than planned" in page


def test_ripping_back_has_its_price_in_rounds_stitches_and_time(browser: Browser, link: str) -> None:
    """A round counted every two minutes is half its stitches a minute."""
    rounds = [entry(n, at=f"2025-11-03T{18 + 2 * n // 60:02d}:{2 * n % 60:02d}:00Z") for n in range(1, 41)]
    browser.post_json(f"/pair/{link}/log", {"entries": rounds})
    page = result_of(browser, link, LOOSE).text
    price = re.search(r"40 rounds ripped: ([\d,]+) stitches, about (.*?)\.", page)
    assert price
    assert price[2] == "1¼ h"
    assert f"At your recent pace, {instructions_of(data(browser, link), 1)[30]['after'] // 2} stitches a minute" in page


def test_no_words_of_statistics_are_on_the_page(browser: Browser, link: str) -> None:
    page = result_of(browser, link, LOOSE).text
    words = re.sub(r"<[^>]+>", " ", page.partition("<main")[2]).lower()
    found = re.findall(
        r"\b(deviation|variance|confidence|interval|estimate|mean|average|sigma|probab\w*|signific\w*)\b", words
    )
    assert not found


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"stitches_1": "lots"}, "A number is needed here"),
        ({"stitches_over_1": ""}, "A number is needed here"),
        ({"stitches_over_1": "1"}, "Allowed: 2 to 60 cm"),
        ({"stitches_over_1": "60", "unit": "in"}, "Allowed: 7/8 to 23 1/2 in"),
        ({"stitches_1": "12"}, "count again"),
        ({"stitches_1": ""}, "count stitches over a width"),
    ],
)
def test_a_count_that_cannot_be_is_reported(browser: Browser, link: str, typed: dict[str, str], says: str) -> None:
    answer = browser.post(f"/pair/{link}/check", {**LOOSE, **typed})
    assert answer.status_code == 422
    assert says in answer.text.replace("\u00a0", " ")
    assert not kept(browser, link)


def test_all_three_spots_count(browser: Browser, link: str) -> None:
    """27 + 28 + 26 stitches over 10 cm each are 27 over 10 cm."""
    spots = {f"stitches_{n}": count for n, count in ((1, "27"), (2, "28"), (3, "26"))}
    overs = {f"stitches_over_{n}": "10" for n in (1, 2, 3)}
    answer = result_of(browser, link, {**LOOSE, **spots, **overs})
    assert "27 stitches over 10 cm, 28 over 10 cm and 26 over 10 cm are 27 over 10 cm" in answer.text.replace(
        "\u00a0", " "
    )
    assert re.search(r"are 27 over 10.cm", answer.text)


def test_inches_are_taken_as_inches(browser: Browser, link: str) -> None:
    """27 stitches over 10 cm are 27.4 over 4 in (10.16 cm)."""
    answer = result_of(browser, link, {**LOOSE, "unit": "in", "stitches_1": "27.4", "stitches_over_1": "4"})
    assert "27.4 stitches over 4 in" in answer.text
    assert re.search(r"\d stitches</b> over 4 in", answer.text)


def test_a_stale_check_comes_back_as_it_was_filled_in(browser: Browser, link: str) -> None:
    browser.get("/")
    answer = browser.client.post(f"/pair/{link}/check", data=LOOSE)
    assert answer.status_code == 400
    assert re.search(r'name="stitches_1"[^>]*value="27"', answer.text)


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
