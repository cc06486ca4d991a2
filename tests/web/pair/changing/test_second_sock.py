"""How sock two is knitted once sock one was changed."""

from __future__ import annotations

from typing import Any

from ....conftest import Browser, entry
from ...checking import take

LOOSE = {"unit": "cm", "stitches_1": "27", "stitches_over_1": "10", "stitches_2": "54", "stitches_over_2": "20"}
"""A gauge looser than the plan's 30 stitches by a tenth."""


def counted(browser: Browser, link: str, place: int, sock: int = 1) -> None:
    browser.post_json(f"/pair/{link}/log", {"entries": [entry(place, kind="go", sock=sock)]})


def changed(browser: Browser, link: str) -> None:
    """Sock one is changed in its leg."""
    counted(browser, link, 40)
    assert take(browser, link, "here", {**LOOSE, "sock": "1", "round": "40"}).status_code == 303


def scripts(browser: Browser, link: str) -> list[list[Any]]:
    """The rounds of each sock."""
    data = browser.get(f"/pair/{link}/pair.json").get_json()
    each = [data["scripts"][sock["script"]] for sock in data["socks"]]
    return [[script["instructions"][number] for number in script["rounds"]] for script in each]


def choose(browser: Browser, link: str, choice: str, **fields: str) -> int:
    newest = str(browser.get(f"/pair/{link}/export").get_json()["revisions"][-1]["number"])
    return browser.post(f"/pair/{link}/second", {"newest": newest, "choice": choice, **fields}).status_code


def test_without_a_change_there_is_nothing_to_choose(browser: Browser, link: str) -> None:
    assert "Sock two is knitted by the same plan." in browser.get(f"/pair/{link}/second").text
    assert browser.get(f"/pair/{link}/pair.json").get_json()["asks_for_second_sock"] is False
    assert choose(browser, link, "planned") == 422


def test_the_three_ways_are_shown_with_what_was_changed(browser: Browser, link: str) -> None:
    changed(browser, link)
    assert browser.get(f"/pair/{link}/pair.json").get_json()["asks_for_second_sock"] is True
    text = browser.get(f"/pair/{link}/second").text
    for words in (
        "As sock one was knitted",
        "As it should have been",
        "As first planned",
        "Leg, after round 22: Change the",
    ):
        assert words in text


def test_sock_two_is_its_twin_until_something_else_is_chosen(browser: Browser, link: str) -> None:
    before = scripts(browser, link)[1]
    changed(browser, link)
    one, two = scripts(browser, link)
    assert one == two != before
    assert choose(browser, link, "planned") == 303
    assert scripts(browser, link) == [one, before]
    assert choose(browser, link, "measured") == 303
    measured = scripts(browser, link)[1]
    assert measured not in (one, before)
    assert not any("Evenly spread" in (item["note"] or "") for item in measured)
    assert choose(browser, link, "knitted") == 303
    assert scripts(browser, link) == [one, one]


def test_after_a_choice_it_is_no_longer_asked_until_sock_one_is_changed_again(browser: Browser, link: str) -> None:
    changed(browser, link)
    assert choose(browser, link, "knitted") == 303
    assert browser.get(f"/pair/{link}/pair.json").get_json()["asks_for_second_sock"] is False
    assert "Sock two is knitted as you chose." in browser.get(f"/pair/{link}/second").text
    tighter = {**LOOSE, "stitches_1": "33", "stitches_2": "66", "sock": "1", "round": "40"}
    assert take(browser, link, "here", tighter).status_code == 303
    assert browser.get(f"/pair/{link}/pair.json").get_json()["asks_for_second_sock"] is True


def test_a_choice_is_taken_back_before_the_cast_on(browser: Browser, link: str) -> None:
    changed(browser, link)
    both = scripts(browser, link)
    assert choose(browser, link, "planned") == 303
    data = browser.get(f"/pair/{link}/pair.json").get_json()
    assert [script["can_undo"] for script in data["scripts"]] == [False, True]
    assert browser.post(f"/pair/{link}/check/undo", {"sock": "2"}).status_code == 303
    assert scripts(browser, link) == both


def test_a_sock_that_is_begun_stays_as_it_is(browser: Browser, link: str) -> None:
    changed(browser, link)
    assert choose(browser, link, "planned", round_2="3") == 409
    counted(browser, link, 1, sock=2)
    assert "Sock two is begun" in browser.get(f"/pair/{link}/second").text
    assert choose(browser, link, "planned") == 409


def test_a_choice_from_an_old_page_is_asked_for_again(browser: Browser, link: str) -> None:
    changed(browser, link)
    assert choose(browser, link, "planned", newest="1") == 409
    assert choose(browser, link, "twins") == 422
