"""What a phone accepted by itself becomes a revision once, or a question where anything else is known by now."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest

from companion.on_phone.answer import acceptance, taking_back
from companion.on_phone.pages import page_answer

from ....conftest import NOON, Browser, entry
from ...checking import LOOSE, accept, counted, sure_result_of

PLACE = 40
CHOSEN = {"choice": "check", "sock": 1, "done": PLACE}


@pytest.fixture
def checked(browser: Browser, link: str) -> str:
    """A pair in its leg, with a check that asks for a change."""
    counted(browser, link, PLACE)
    sure_result_of(browser, link, LOOSE)
    return link


def file_of(browser: Browser, link: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(browser.get(f"/pair/{link}/export").data)
    return found


def on_phone(file: dict[str, Any], key: str = "rest") -> Any:
    made: Any = json.loads(json.dumps(acceptance(CHOSEN | {"key": key}, json.dumps(file), NOON.isoformat())))
    return made


def send(browser: Browser, link: str, made: dict[str, Any], *, anyway: bool = False) -> tuple[int, Any]:
    answer = browser.post_json(f"/pair/{link}/proposal", {"proposal": made["proposal"], "anyway": anyway})
    return answer.status_code, answer.get_json()


def numbers(browser: Browser, link: str) -> list[tuple[int, str]]:
    return [(one["number"], one["state"]) for one in file_of(browser, link)["revisions"]]


@pytest.mark.parametrize("key", ["rest", "rip"])
def test_the_server_makes_the_same_of_it_once(browser: Browser, checked: str, key: str) -> None:
    made = on_phone(file_of(browser, checked), key)
    counted(browser, checked, PLACE + 3, id=entry(77)["id"], clock=50)  # counted on by the changed plan
    assert send(browser, checked, made) == (200, {"revision": 2})
    assert send(browser, checked, made) == (200, {"revision": 2})
    file = file_of(browser, checked)
    [_, kept] = file["revisions"]
    same = ("sock", "done", "other_done", "option", "summary", "plan", "state")
    assert {name: kept[name] for name in same} == {name: made["revision"][name] for name in same}
    data = browser.get(f"/pair/{checked}/pair.json").get_json()
    assert data["scripts"][0]["instructions"] == made["data"]["scripts"][0]["instructions"]
    assert data["socks"][0]["round"] == PLACE + 3


def test_taken_back_in_the_meantime_it_does_not_come_again(browser: Browser, checked: str) -> None:
    made = on_phone(file_of(browser, checked))
    send(browser, checked, made)
    assert browser.post(f"/pair/{checked}/check/undo", {"sock": "1"}).status_code == 303
    assert send(browser, checked, made) == (200, {"revision": 1})
    assert numbers(browser, checked) == [(1, "accepted"), (2, "withdrawn")]


def test_where_another_plan_follows_by_now_the_knitter_is_asked(browser: Browser, checked: str) -> None:
    made = on_phone(file_of(browser, checked))
    assert accept(browser, checked, "rip") == 303
    status, answer = send(browser, checked, made)
    assert (status, answer["error"]) == (409, "conflict")
    assert numbers(browser, checked) == [(1, "accepted"), (2, "accepted")]
    assert send(browser, checked, made, anyway=True) == (200, {"revision": 3})
    assert file_of(browser, checked)["revisions"][2]["plan"] == made["revision"]["plan"]


def test_another_count_that_the_phone_did_not_know_is_a_question_too(browser: Browser, checked: str) -> None:
    made = on_phone(file_of(browser, checked))
    spots = {"stitches": [{"count": 35, "over_cm": 10}], "rounds": [{"count": 50, "over_cm": 10}]}
    browser.post_json(f"/pair/{checked}/log", {"entries": [entry(78, kind="check", round=PLACE, clock=1, data=spots)]})
    for anyway in (False, True):
        assert send(browser, checked, made, anyway=anyway)[0] == 409
    assert numbers(browser, checked) == [(1, "accepted")]


def test_a_plan_that_does_not_follow_is_refused(browser: Browser, checked: str) -> None:
    made = on_phone(file_of(browser, checked))
    for changed in ({"plan": "0" * 64}, {"key": "leave"}, {"done": 500}, {"basis": 7}):
        other = {"proposal": {**made["proposal"], **changed}}
        assert send(browser, checked, other, anyway=True)[0] == 409, changed
    for broken in ({"plan": "x"}, {"sock": 3}, {"clock": -1}, {"more": 1}):
        other = {"proposal": {**made["proposal"], **broken}}
        assert send(browser, checked, other)[0] == 400, broken


def test_two_changes_one_after_the_other_are_taken_in_their_order(browser: Browser, checked: str) -> None:
    file = file_of(browser, checked)
    first = on_phone(file)
    spots = {"stitches": [{"count": 24, "over_cm": 10}] * 4, "rounds": [{"count": 33, "over_cm": 10}] * 4}
    later = [entry(80 + one, kind="check", round=PLACE, clock=80 + one, data=spots) for one in range(3)]
    after = {**file, "revisions": [*file["revisions"], first["revision"]], "log": [*file["log"], *later]}
    second = on_phone(after)
    assert second["proposal"]["basis"] == 2
    browser.post_json(f"/pair/{checked}/log", {"entries": later})
    assert send(browser, checked, second)[0] == 409
    assert send(browser, checked, first) == (200, {"revision": 2})
    assert send(browser, checked, second) == (200, {"revision": 3})


def test_how_sock_two_is_knitted_is_chosen_by_the_place_that_sock_one_had_then(browser: Browser, checked: str) -> None:
    assert accept(browser, checked, "rest") == 303
    file = file_of(browser, checked)
    chosen = {"choice": "second", "key": "knitted", "sock": 2, "done": 0}
    made = json.loads(json.dumps(acceptance(chosen, json.dumps(file), NOON.isoformat())))
    counted(browser, checked, PLACE + 20, id=entry(79)["id"], clock=90)
    assert send(browser, checked, made) == (200, {"revision": 3})
    assert file_of(browser, checked)["revisions"][2]["option"].startswith("sock two")


def test_a_way_to_go_on_after_a_try_on_is_a_change_as_well(browser: Browser, checked: str) -> None:
    felt = entry(80, kind="try-on", round=PLACE, clock=60, data={"where": "leg", "feels": "tight"})
    browser.post_json(f"/pair/{checked}/log", {"entries": [felt]})
    at = {"path": f"/pair/{checked}/fit", "version": "v1", "done": PLACE}
    page = page_answer("fit", json.dumps(file_of(browser, checked)), at)
    key = re.findall(r'name="choice" value="(leg (?!leave)\w+)"', page)[0]
    chosen = {"choice": "fit", "key": key, "sock": 1, "done": PLACE}
    made = acceptance(chosen, json.dumps(file_of(browser, checked)), NOON.isoformat())
    assert made
    assert send(browser, checked, made) == (200, {"revision": 2})


def test_a_leg_for_the_yarn_that_is_left_is_a_change_as_well(browser: Browser) -> None:
    link = browser.make_pair(grams="50")
    counted(browser, link, PLACE)
    weighed = entry(80, kind="weighing", round=PLACE, clock=60, data={"grams": 38, "yarn": "A"})
    browser.post_json(f"/pair/{link}/log", {"entries": [weighed]})
    file = file_of(browser, link)
    chosen = {"choice": "yarn", "key": "45", "sock": 1, "done": PLACE}
    made = json.loads(json.dumps(acceptance(chosen, json.dumps(file), NOON.isoformat())))
    another = entry(81, kind="weighing", round=PLACE, clock=70, data={"grams": 30, "yarn": "A"})
    browser.post_json(f"/pair/{link}/log", {"entries": [another]})  # weighed since: the length was hers to choose
    assert send(browser, link, made) == (200, {"revision": 2})
    [_, kept] = file_of(browser, link)["revisions"]
    assert kept["plan"] == made["revision"]["plan"]
    assert "Leg of 45 rounds, for the yarn" in kept["summary"]
    for refused in ("4", "9999", "long", "٤٥"):
        with pytest.raises(ValueError, match="no such way"):
            acceptance({**chosen, "key": refused}, json.dumps(file), NOON.isoformat())
    now = json.dumps(file_of(browser, link))
    assert acceptance(chosen, now, NOON.isoformat()) is None, "it is as long already"


def test_what_was_sent_is_taken_back_by_the_phone_once(browser: Browser, checked: str) -> None:
    send(browser, checked, on_phone(file_of(browser, checked)))
    back = taking_back(json.dumps(file_of(browser, checked)), 1)
    assert back["place"] == PLACE
    first = browser.get(f"/pair/{checked}/pair.json").get_json()["scripts"][0]["total"]
    assert back["data"]["scripts"][0]["revision"] == 1
    assert back["data"]["scripts"][0]["total"] != first
    for _ in range(2):
        assert send(browser, checked, back) == (200, {"revision": 1})
    assert numbers(browser, checked) == [(1, "accepted"), (2, "withdrawn")]
    with pytest.raises(ValueError, match="no change of this sock"):
        taking_back(json.dumps(file_of(browser, checked)), 1)


def test_what_was_knitted_past_elsewhere_is_not_taken_back(browser: Browser, checked: str) -> None:
    send(browser, checked, on_phone(file_of(browser, checked)))
    back = taking_back(json.dumps(file_of(browser, checked)), 1)
    end = browser.get(f"/pair/{checked}/pair.json").get_json()["scripts"][0]["total"]
    counted(browser, checked, end, id=entry(81)["id"], clock=90)
    assert send(browser, checked, back)[0] == 409
    assert numbers(browser, checked) == [(1, "accepted"), (2, "accepted")]


def test_a_way_that_leaves_the_plan_is_no_proposal(browser: Browser, checked: str) -> None:
    assert on_phone(file_of(browser, checked), "leave") is None
    with pytest.raises(ValueError, match="no such way"):
        on_phone(file_of(browser, checked), "dance")
