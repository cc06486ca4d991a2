"""Accepting what a gauge check asks for, and taking it back."""

from __future__ import annotations

import re

import pytest

from ....conftest import Browser, entry
from ...checking import LOOSE, accept, counted, data, instructions_of, result_of, take


def test_accepting_changes_the_rest_and_never_what_is_knitted(browser: Browser, link: str) -> None:
    counted(browser, link, 40)
    before = data(browser, link)
    assert accept(browser, link, "rest") == 303
    after = data(browser, link)
    assert after["scripts"][0]["revision"] == 2
    assert instructions_of(after, 1)[:40] == instructions_of(before, 1)[:40]
    assert instructions_of(after, 1) != instructions_of(before, 1)
    assert after["socks"] == before["socks"]
    page = browser.get(f"/pair/{link}").text
    assert re.search(r"<b>Sock 1, leg, after round \d+: [^<]+</b></p>\s*<ul><li>[^<]+ → [^<]+</li>", page)


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
    assert instructions_of(after, 1) == instructions_of(before, 1)
    assert after["socks"] == before["socks"]


@pytest.mark.parametrize("option", ["", "dance"])
def test_an_option_that_is_not_offered_is_asked_for_again(browser: Browser, link: str, option: str) -> None:
    assert accept(browser, link, option) == 422
    assert data(browser, link)["scripts"][0]["revision"] == 1


def test_a_change_is_not_accepted_twice(browser: Browser, link: str) -> None:
    counted(browser, link, 40)
    basis = re.findall(r'name="basis" value="(\w+)"', result_of(browser, link, LOOSE).text)[0]
    sent = {"sock": "1", "round": "40", "basis": basis, "option": "rest"}
    assert browser.post(f"/pair/{link}/check/accept", sent).status_code == 303
    assert browser.post(f"/pair/{link}/check/accept", sent).status_code == 409
    assert data(browser, link)["scripts"][0]["revision"] == 2


def test_an_option_is_not_taken_when_more_was_counted_since(browser: Browser, link: str) -> None:
    counted(browser, link, 40)
    basis = re.findall(r'name="basis" value="(\w+)"', result_of(browser, link, LOOSE).text)[0]
    result_of(browser, link, {**LOOSE, "stitches_1": "30"})
    sent = {"sock": "1", "round": "40", "basis": basis, "option": "rest"}
    assert browser.post(f"/pair/{link}/check/accept", sent).status_code == 409


def test_a_sock_counted_on_since_the_check_is_not_changed_under_the_needles(browser: Browser, link: str) -> None:
    counted(browser, link, 50)
    answer = take(browser, link, "rest", LOOSE)
    assert answer.status_code == 409
    assert "counted on to round 50" in answer.text
    assert data(browser, link)["scripts"][0]["revision"] == 1


def test_a_change_can_be_taken_back(browser: Browser, link: str) -> None:
    counted(browser, link, 40)
    before = data(browser, link)
    accept(browser, link, "rest")
    assert data(browser, link)["scripts"][0]["can_undo"] is True
    answer = browser.post(f"/pair/{link}/check/undo", {"sock": "1"})
    assert (answer.status_code, answer.headers["Location"]) == (303, f"/pair/{link}/knit?did=taken-back")
    assert data(browser, link) == before
    again = browser.post(f"/pair/{link}/check/undo", {"sock": "1"})
    assert again.status_code == 409
    assert "first plan" in again.text


def test_a_change_that_is_still_ahead_is_taken_back_with_nothing_ripped(browser: Browser, link: str) -> None:
    """The leg keeps its stitches, and only what follows it becomes another."""
    counted(browser, link, 40)
    before = instructions_of(data(browser, link), 1)
    accept(browser, link, "rest")
    counted(browser, link, 45)
    changed = data(browser, link)["scripts"][0]["changed"]
    assert changed["at"] == 40
    assert changed["free"] > 45
    assert browser.post(f"/pair/{link}/check/undo", {"sock": "1"}).status_code == 303
    assert data(browser, link)["socks"][0]["round"] == 45
    assert instructions_of(data(browser, link), 1) == before


def test_for_ten_rounds_a_change_is_taken_back_with_what_was_knitted_since(browser: Browser, link: str) -> None:
    counted(browser, link, 40)
    before = instructions_of(data(browser, link), 1)
    accept(browser, link, "here")
    counted(browser, link, 43)
    found = data(browser, link)["scripts"][0]["changed"]
    assert (found["at"], found["free"]) == (40, 40)
    assert re.match(r"Change the leg here: Leg stitches 64 → \d\d, Foot stitches 64 → \d\d$", found["words"])
    undo = f"/pair/{link}/check/undo"
    assert browser.post(undo, {"sock": "1", "round": "42"}).status_code == 409, "another phone counted on"
    assert browser.post(undo, {"sock": "1", "round": "43"}).status_code == 303
    assert data(browser, link)["socks"][0]["round"] == 40
    assert instructions_of(data(browser, link), 1) == before


def test_after_ten_rounds_it_is_not_offered_any_more(browser: Browser, link: str) -> None:
    counted(browser, link, 40)
    accept(browser, link, "here")
    counted(browser, link, 51)
    assert data(browser, link)["scripts"][0]["changed"] is None
    assert browser.post(f"/pair/{link}/check/undo", {"sock": "1", "round": "51"}).status_code == 409


def test_a_change_that_is_knitted_is_not_taken_back(browser: Browser, link: str) -> None:
    counted(browser, link, 40)
    accept(browser, link, "here")
    counted(browser, link, 41)
    assert data(browser, link)["scripts"][0]["can_undo"] is False
    answer = browser.post(f"/pair/{link}/check/undo", {"sock": "1"})
    assert answer.status_code == 409
    assert "after round 40 are already knitted" in answer.text


def test_the_later_change_of_the_other_sock_is_taken_back_first(browser: Browser, link: str) -> None:
    counted(browser, link, 40)
    accept(browser, link, "rest")
    counted(browser, link, 42, id=entry(2)["id"], sock=2, round=20)
    assert accept(browser, link, "rest", sock="2", round="20", stitches_1="26") == 303
    answer = browser.post(f"/pair/{link}/check/undo", {"sock": "1"})
    assert answer.status_code == 409
    assert "other sock" in answer.text
    assert browser.post(f"/pair/{link}/check/undo", {"sock": "2"}).status_code == 303
    assert browser.post(f"/pair/{link}/check/undo", {"sock": "1"}).status_code == 303


def test_taking_back_from_a_stale_page_asks_to_send_it_again(browser: Browser, link: str) -> None:
    browser.get("/")
    undo = browser.client.post(f"/pair/{link}/check/undo", data={"sock": "1"})
    assert undo.status_code == 400
    assert "send it again" in undo.text
