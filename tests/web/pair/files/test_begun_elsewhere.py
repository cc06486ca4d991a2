"""A pair that a phone has planned by itself is taken once, as the server itself would have made it."""

from __future__ import annotations

import json
from typing import Any

import pytest
from werkzeug.test import TestResponse

from companion.on_phone.form_answer import form_answer
from companion.web.links import new_link

from ....conftest import FORM, NOON, Browser, entry

OVER_BOTH_DATABASES = True


def planned_on_a_phone(**changes: str) -> tuple[str, dict[str, Any]]:
    """The link of a pair and its file, as the phone that planned it has them."""
    link = new_link()
    answer = form_answer({**FORM, **changes}.items(), link, NOON.isoformat(), "v1")
    file: dict[str, Any] = json.loads(json.dumps(answer["file"]))
    return link, file


def begin(browser: Browser, link: str, file: object) -> TestResponse:
    return browser.post_json(f"/pair/{link}/begin", file)


@pytest.mark.parametrize("changes", [{}, {"other_ball": "24.5"}], ids=["two feet alike", "two feet"])
def test_it_is_the_pair_that_the_form_makes_here(browser: Browser, changes: dict[str, str]) -> None:
    link, file = planned_on_a_phone(**changes)
    answer = begin(browser, link, file)
    assert (answer.status_code, answer.get_json()) == (201, {"alike": True})
    made_here = browser.make_pair(**changes)
    its_own = {"mark": ""}
    one, other = (browser.get(f"/pair/{each}/pair.json").get_json() | its_own for each in (link, made_here))
    assert one == other


def test_sent_again_it_is_the_same_pair_also_when_it_was_counted_on(browser: Browser) -> None:
    link, file = planned_on_a_phone()
    begin(browser, link, file)
    assert browser.post_json(f"/pair/{link}/log", {"entries": [entry(1)]}).status_code == 200
    answer = begin(browser, link, file)
    assert (answer.status_code, answer.get_json()) == (200, {"alike": True})
    assert browser.get(f"/pair/{link}/pair.json").get_json()["socks"][0]["round"] == 1


def test_another_pair_does_not_take_its_place(browser: Browser) -> None:
    link, file = planned_on_a_phone()
    begin(browser, link, file)
    _, other = planned_on_a_phone(stitches="28")
    answer = begin(browser, link, other)
    assert answer.status_code == 409
    assert "another pair under this link" in answer.get_json()["message"]
    assert begin(browser, link, file).status_code == 200


def test_a_plan_of_another_version_is_kept_as_it_was_made_and_that_is_said(browser: Browser) -> None:
    link, file = planned_on_a_phone()
    file["revisions"][0]["plan"]["warnings"] = ["The toe was made in another way then."]
    answer = begin(browser, link, file)
    assert (answer.status_code, answer.get_json()) == (201, {"alike": False})
    assert "The toe was made in another way then." in browser.get(f"/pair/{link}").text


def test_what_is_no_new_pair_is_not_taken(browser: Browser) -> None:
    link, file = planned_on_a_phone()
    [first] = file["revisions"]
    changed = {**first, "number": 2, "done": 10, "summary": "Sock 1 changed"}
    taken_back = {**first, "number": 2, "state": "withdrawn"}
    for wrong in (
        {"log": [entry(1)]},
        {"revisions": [first, changed]},
        {"revisions": [first, taken_back]},
        {"unit": "ell"},
    ):
        assert begin(browser, link, {**file, **wrong}).status_code == 422
    assert begin(browser, "short", file).status_code == 404
    assert browser.get(f"/pair/{link}").status_code == 404
