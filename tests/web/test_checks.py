"""A gauge check: what it says, accepting it, and taking it back."""

from __future__ import annotations

import re
from typing import Any

import pytest

from ..conftest import Browser, entry

LOOSE = {"unit": "cm", "stitches_1": "27", "stitches_over_1": "10", "sock": "1", "round": "40"}
"""A count that is looser than the plan's 30 stitches by more than counting can be off by, in the leg."""


def counted(browser: Browser, link: str, place: int, **changes: Any) -> None:
    answer = browser.post_json(f"/pair/{link}/log", {"entries": [entry(place, kind="go", **changes)]})
    assert len(answer.get_json()["kept"]) == 1


def data(browser: Browser, link: str) -> dict[str, Any]:
    found: dict[str, Any] = browser.get(f"/pair/{link}/pair.json").get_json()
    return found


def accept(browser: Browser, link: str, option: str, **changes: str) -> int:
    return browser.post(f"/pair/{link}/check/accept", {**LOOSE, **changes, "option": option}).status_code


def told(found: dict[str, Any], sock: int) -> list[Any]:
    script = found["scripts"][found["socks"][sock - 1]["script"]]
    return [script["instructions"][number] for number in script["rounds"]]


def test_the_form_knows_the_place(browser: Browser, link: str) -> None:
    counted(browser, link, 40)
    by_address = browser.get(f"/pair/{link}/check?sock=1&round=30").text
    assert "Sock 1, Leg, 12 of 59 rounds" in by_address
    assert "Sock 1, Leg, 22 of 59 rounds" in browser.get(f"/pair/{link}/check").text
    assert "Sock 2, Cuff, 0 of 18 rounds" in browser.get(f"/pair/{link}/check?sock=2").text
    total = data(browser, link)["scripts"][0]["total"]
    assert "Sock 2, finished" in browser.get(f"/pair/{link}/check?sock=2&round={total}").text


def test_a_check_changes_nothing_by_itself(browser: Browser, link: str) -> None:
    before = data(browser, link)
    answer = browser.post(f"/pair/{link}/check", LOOSE)
    assert answer.status_code == 200
    assert "27.0 stitches" in answer.text
    assert data(browser, link) == before


def test_a_count_that_agrees_says_so(browser: Browser, link: str) -> None:
    answer = browser.post(f"/pair/{link}/check", {**LOOSE, "stitches_1": "30"})
    assert "Nothing to change." in answer.text


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"stitches_1": "lots"}, "a number is needed here"),
        ({"stitches_over_1": ""}, "a number is needed here"),
        ({"stitches_over_1": "1"}, "allowed: 2 to 60 cm"),
        ({"stitches_over_1": "60", "unit": "in"}, "allowed: 7/8 to 23 1/2 in"),
        ({"stitches_1": "12"}, "count again"),
        ({"stitches_1": ""}, "count stitches over a width"),
    ],
)
def test_a_count_that_cannot_be_is_told(browser: Browser, link: str, typed: dict[str, str], says: str) -> None:
    for url in (f"/pair/{link}/check", f"/pair/{link}/check/accept"):
        answer = browser.post(url, {**LOOSE, **typed, "option": "rest"})
        assert answer.status_code == 422
        assert says in answer.text
        assert data(browser, link)["scripts"][0]["revision"] == 1


def test_all_three_spots_count(browser: Browser, link: str) -> None:
    """27 + 28 + 26 stitches over 10 cm each are 27.0 over 10 cm."""
    spots = {f"stitches_{n}": count for n, count in ((1, "27"), (2, "28"), (3, "26"))}
    overs = {f"stitches_over_{n}": "10" for n in (1, 2, 3)}
    answer = browser.post(f"/pair/{link}/check", {**LOOSE, **spots, **overs})
    assert re.search(r"27\.0 stitches</b> over 10 cm, give or take \d", answer.text)


def test_inches_are_taken_as_inches(browser: Browser, link: str) -> None:
    """27 stitches over 10 cm are 27.4 over 4 in (10.16 cm)."""
    answer = browser.post(f"/pair/{link}/check", {**LOOSE, "unit": "in", "stitches_1": "27.4", "stitches_over_1": "4"})
    assert "27.4 stitches" in answer.text
    assert "over 4 in" in answer.text


def test_accepting_changes_the_rest_and_never_what_is_knitted(browser: Browser, link: str) -> None:
    counted(browser, link, 40)
    before = data(browser, link)
    assert accept(browser, link, "rest") == 303
    after = data(browser, link)
    assert after["scripts"][0]["revision"] == 2
    assert told(after, 1)[:40] == told(before, 1)[:40]
    assert told(after, 1) != told(before, 1)
    assert after["socks"] == before["socks"]
    page = browser.get(f"/pair/{link}").text
    assert re.search(r"<summary>Sock 1, after round 40: [^<]+</summary>\s*<ul><li>[^<]+ → [^<]+</li>", page)


def test_the_second_sock_goes_along_while_it_can(browser: Browser, link: str) -> None:
    counted(browser, link, 40)
    counted(browser, link, 41, id=entry(2)["id"], sock=2)
    accept(browser, link, "rest")
    after = data(browser, link)
    assert [after["scripts"][sock["script"]]["revision"] for sock in after["socks"]] == [2, 1]
    other = browser.make_pair()
    counted(browser, other, 40)
    accept(browser, other, "rest")
    assert [sock["script"] for sock in data(browser, other)["socks"]] == [0, 0]


def test_ripping_back_moves_the_place_even_before_unsent_counts(browser: Browser, link: str) -> None:
    counted(browser, link, 40)
    assert accept(browser, link, "rip") == 303
    assert data(browser, link)["socks"][0]["round"] < 40
    browser.post_json(f"/pair/{link}/log", {"entries": [entry(41, clock=41, round=41)]})
    assert data(browser, link)["socks"][0]["round"] < 40


def test_counts_not_yet_sent_hold_over_a_change_that_rips_nothing(browser: Browser, link: str) -> None:
    assert accept(browser, link, "rest") == 303
    assert data(browser, link)["socks"][0]["round"] == 40
    browser.post_json(f"/pair/{link}/log", {"entries": [entry(n) for n in range(1, 43)]})
    assert data(browser, link)["socks"][0]["round"] == 42


def test_leaving_it_leaves_the_plan(browser: Browser, link: str) -> None:
    counted(browser, link, 40)
    before = data(browser, link)
    assert accept(browser, link, "leave") == 303
    after = data(browser, link)
    assert told(after, 1) == told(before, 1)
    assert after["socks"] == before["socks"]


@pytest.mark.parametrize("option", ["", "dance"])
def test_an_option_that_is_not_offered_is_asked_for_again(browser: Browser, link: str, option: str) -> None:
    assert accept(browser, link, option) == 422
    assert data(browser, link)["scripts"][0]["revision"] == 1


def test_a_change_is_not_accepted_twice(browser: Browser, link: str) -> None:
    counted(browser, link, 40)
    page = browser.post(f"/pair/{link}/check", LOOSE).text
    assert 'name="revision" value="1"' in page
    assert accept(browser, link, "rest", revision="1") == 303
    assert accept(browser, link, "rest", revision="1") == 409
    assert data(browser, link)["scripts"][0]["revision"] == 2


def test_a_sock_counted_on_since_the_check_is_not_changed_under_the_needles(browser: Browser, link: str) -> None:
    counted(browser, link, 50)
    answer = browser.post(f"/pair/{link}/check/accept", {**LOOSE, "option": "rest"})
    assert answer.status_code == 409
    assert "counted on to round 50" in answer.text
    assert data(browser, link)["scripts"][0]["revision"] == 1


def test_a_change_can_be_taken_back(browser: Browser, link: str) -> None:
    counted(browser, link, 40)
    before = data(browser, link)
    accept(browser, link, "rest")
    assert data(browser, link)["scripts"][0]["can_undo"] is True
    answer = browser.post(f"/pair/{link}/check/undo", {"sock": "1"})
    assert (answer.status_code, answer.headers["Location"]) == (303, f"/pair/{link}/knit")
    assert data(browser, link) == before
    again = browser.post(f"/pair/{link}/check/undo", {"sock": "1"})
    assert again.status_code == 409
    assert "first plan" in again.text


def test_a_change_that_is_knitted_is_not_taken_back(browser: Browser, link: str) -> None:
    counted(browser, link, 40)
    accept(browser, link, "rest")
    counted(browser, link, 41)
    assert data(browser, link)["scripts"][0]["can_undo"] is False
    answer = browser.post(f"/pair/{link}/check/undo", {"sock": "1"})
    assert answer.status_code == 409
    assert "after round 40 are already knitted" in answer.text


def test_the_later_change_of_the_other_sock_is_taken_back_first(browser: Browser, link: str) -> None:
    counted(browser, link, 40)
    accept(browser, link, "rest")
    counted(browser, link, 42, id=entry(2)["id"], sock=2, round=20)
    assert accept(browser, link, "rest", sock="2", round="20", stitches_1="24") == 303
    answer = browser.post(f"/pair/{link}/check/undo", {"sock": "1"})
    assert answer.status_code == 409
    assert "other sock" in answer.text
    assert browser.post(f"/pair/{link}/check/undo", {"sock": "2"}).status_code == 303
    assert browser.post(f"/pair/{link}/check/undo", {"sock": "1"}).status_code == 303


def test_a_stale_check_comes_back_as_it_was_filled_in(browser: Browser, link: str) -> None:
    browser.get("/")
    answer = browser.client.post(f"/pair/{link}/check", data=LOOSE)
    assert answer.status_code == 400
    assert re.search(r'name="stitches_1"[^>]*value="27"', answer.text)
    undo = browser.client.post(f"/pair/{link}/check/undo", data={"sock": "1"})
    assert undo.status_code == 400
    assert "send it again" in undo.text
