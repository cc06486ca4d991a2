"""A pair for two feet: sock two has a plan of its own from the beginning, on every page that needs it."""

from __future__ import annotations

from html import unescape

from ...conftest import FORM, Browser, entry
from .changing.test_change import change, count, plans
from .changing.test_second_sock import changed, choose

OTHER = {"other_ball": "25", "other_length": "26"}


def test_each_sock_is_knitted_by_its_own_plan_and_the_plan_page_says_what_differs(browser: Browser) -> None:
    link = browser.make_pair(**OTHER)
    one, two = plans(browser, link)
    assert (two.request.foot.ball_circumference_cm, two.request.foot.length_cm) == (25, 26)
    data = browser.get(f"/pair/{link}/pair.json").get_json()
    assert [script["total"] for script in data["scripts"]] == [one.count, two.count]
    assert not any(script["can_undo"] for script in data["scripts"])
    assert data["asks_for_second_sock"] is False
    page = unescape(browser.get(f"/pair/{link}").text)
    assert "Sock two is for the other foot" in page
    assert "Both socks from the side, to one scale" in page
    assert f"{one.sizes.foot_stitches}, <b>{two.sizes.foot_stitches}</b>" in page
    assert "Changed since the first plan" not in page
    assert "sock 1 (sock 2)" in browser.get(f"/pair/{link}/pattern.txt").text
    assert "The plan was changed" not in browser.get(f"/pair/{link}/logbook").text


def test_a_changed_plan_changes_both_socks_each_for_its_foot(browser: Browser) -> None:
    link = browser.make_pair(**OTHER)
    assert change(browser, link, rib="k1 p1").status_code == 303
    count(browser, link, 5)
    assert change(browser, link, leg_length="9").status_code == 303
    one, two = plans(browser, link)
    assert [plan.request.cuff.rib for plan in (one, two)] == ["k1 p1"] * 2
    assert [plan.request.leg.length_cm for plan in (one, two)] == [9, 9]
    assert two.request.foot.length_cm == 26
    assert change(browser, link, other_ball="", other_length="").status_code == 303
    one, two = plans(browser, link)
    assert two.request.foot == one.request.foot


def test_after_a_change_while_knitting_sock_two_is_offered_for_its_own_foot(browser: Browser) -> None:
    link = browser.make_pair(**OTHER)
    changed(browser, link)
    text = browser.get(f"/pair/{link}/second").text
    assert "As sock one was knitted" not in text
    assert "it goes by its own plan" in text
    assert choose(browser, link, "measured") == 303
    _, two = plans(browser, link)
    assert two.request.foot.ball_circumference_cm == 25
    assert two.request.gauge.stitches_per_10cm < 30


def test_another_foot_for_which_there_is_no_sock_is_refused_before_there_is_a_pair(browser: Browser) -> None:
    answer = browser.post("/plan", {**FORM, "other_ball": "3"})
    assert answer.status_code == 422
    assert "Ball of the other foot</a>: You typed “3”. Allowed: 9 to 35" in answer.text
    wide = {"yarn_count": "2", "colour_pattern": "chart", "chart": "AB" * 30}
    answer = browser.post("/plan", {**FORM, **wide, "other_ball": "9"})
    assert answer.status_code == 422
    assert "The other foot: " in answer.text


def test_a_change_of_both_plans_is_taken_back_at_once_until_one_of_them_is_knitted(browser: Browser) -> None:
    link = browser.make_pair(**OTHER)
    before = plans(browser, link)
    count(browser, link, 5)
    count(browser, link, 3, sock=2)
    assert change(browser, link, leg_length="9").status_code == 303
    assert 'action="/pair/' in browser.get(f"/pair/{link}?did=changed").text
    data = browser.get(f"/pair/{link}/pair.json").get_json()
    assert [script["can_undo"] for script in data["scripts"]] == [True, False]
    count(browser, link, 4, sock=2)
    refused = browser.post(f"/pair/{link}/check/undo", {"sock": "1", "round": "5"})
    assert refused.status_code == 409
    assert "one of them is already knitted by it" in unescape(refused.text)
    back = entry(2005, round=3, sock=2, kind="go")
    assert browser.post_json(f"/pair/{link}/log", {"entries": [back]}).status_code == 200
    assert browser.post(f"/pair/{link}/check/undo", {"sock": "1", "round": "5"}).status_code == 303
    assert plans(browser, link) == before
    assert browser.post(f"/pair/{link}/check/undo", {"sock": "1", "round": "5"}).status_code == 409
