"""A plan is changed: before the cast-on it is replaced, later only what lies ahead is another."""

from __future__ import annotations

from html import unescape
from typing import Any

import pytest

from companion.pair.evidence import evidence_of
from companion.planning import Plan
from companion.planning.gauge.observations import Assumed
from companion.web.links import new_link
from companion.web.open_pair import open_pair

from ....conftest import Browser, entry
from ...fuzz.page_forms import read_page


def fields_of(page: str) -> dict[str, str]:
    """What stands in the only form of a page."""
    [form], _ = read_page("", page)
    return dict(form.fields)


def plans(browser: Browser, link: str) -> list[Plan]:
    """The plan that each sock is knitted by."""
    with browser.client.application.test_request_context():
        opened = open_pair(link)
        return [opened.plan(1), opened.plan(2)]


def change(browser: Browser, link: str, **changes: str) -> Any:
    """Send the form as it is filled in, with some fields changed."""
    return browser.post(f"/pair/{link}/change", {**fields_of(browser.get(f"/pair/{link}/change").text), **changes})


def count(browser: Browser, link: str, done: int, sock: int = 1) -> None:
    """Count so many rounds of a sock."""
    counted = entry(done, round=done, sock=sock, id=entry(1000 * sock + done)["id"])
    assert browser.post_json(f"/pair/{link}/log", {"entries": [counted]}).status_code == 200


def test_before_the_cast_on_the_plan_of_both_socks_is_another_under_the_same_link(browser: Browser, link: str) -> None:
    assert change(browser, link, rib="k1 p1", title="Friday socks", stitches="28").status_code == 303
    for plan in plans(browser, link):
        assert plan.request.cuff.rib == "k1 p1"
        assert plan.request.gauge.stitches_per_10cm == 28
    page = browser.get(f"/pair/{link}").text
    assert '<h1 id="pair-title">Friday socks</h1>' in page
    assert browser.get(f"/pair/{link}/pair.json").get_json()["title"] == "Friday socks"
    assert "Ribbing: k2 p2 → k1 p1" in page


def test_a_gauge_given_before_the_cast_on_is_the_one_that_checks_begin_from(browser: Browser, link: str) -> None:
    change(browser, link, stitches="28")
    with browser.client.application.test_request_context():
        [first] = [item for item in evidence_of(open_pair(link)) if isinstance(item, Assumed)]
    assert first.stitches_per_10cm == 28


def test_another_count_is_chosen_before_the_cast_on(browser: Browser, link: str) -> None:
    [before, _] = plans(browser, link)
    other = next(choice for choice in before.choices if not choice.chosen)
    assert change(browser, link, choice=str(other.stitches)).status_code == 303
    assert plans(browser, link)[0].sizes.leg_stitches == other.stitches


def test_later_what_is_knitted_stays_and_both_socks_follow(browser: Browser, link: str) -> None:
    count(browser, link, 30)
    [before, _] = plans(browser, link)
    assert change(browser, link, foot_length="27", leg_length="12").status_code == 303
    one, two = plans(browser, link)
    assert one == two
    assert one.rounds()[:30] == before.rounds()[:30]
    assert one.request.foot.length_cm == 27
    assert one.sizes.foot_length_cm > before.sizes.foot_length_cm + 1
    assert one.sizes.leg_stitches == before.sizes.leg_stitches


def test_rounds_that_only_this_phone_knows_of_are_knitted_too(browser: Browser, link: str) -> None:
    [before, _] = plans(browser, link)
    assert change(browser, link, leg_length="3", round_1="60").status_code == 303
    assert plans(browser, link)[0].rounds()[:60] == before.rounds()[:60]


def test_a_sock_that_is_finished_stays_when_the_other_is_changed(browser: Browser, link: str) -> None:
    [before, _] = plans(browser, link)
    count(browser, link, before.count)
    assert change(browser, link, leg_length="10").status_code == 303
    one, two = plans(browser, link)
    assert one == before
    assert two.request.leg.length_cm == 10


def test_nothing_is_kept_where_nothing_is_changed(browser: Browser, link: str) -> None:
    assert change(browser, link).status_code == 303
    assert "Changed since" not in browser.get(f"/pair/{link}").text


@pytest.mark.parametrize("unit", ["cm", "in"])
def test_the_form_changes_nothing_by_being_sent_in_another_unit(browser: Browser, link: str, unit: str) -> None:
    """23 cm are 9 1/8 in to the nearest eighth, which are 23.2 cm: what was not touched stays exactly as it was."""
    page = browser.get(f"/pair/{link}/change?unit={unit}").text
    assert browser.post(f"/pair/{link}/change", fields_of(page)).status_code == 303
    assert "Changed since" not in browser.get(f"/pair/{link}").text


def test_what_is_knitted_otherwise_is_told_at_its_field(browser: Browser, link: str) -> None:
    count(browser, link, 30)
    answer = change(browser, link, direction="toe-up", rib="k1 p1", foot_length="27")
    assert answer.status_code == 422
    page = unescape(answer.text)
    assert "begun from the cuff down" in page
    assert "The cuff is begun" in page
    assert 'value="27"' in page, "nothing that was typed is lost"
    assert "Changed since" not in browser.get(f"/pair/{link}").text


def test_a_page_that_is_too_old_changes_nothing(browser: Browser, link: str) -> None:
    old = fields_of(browser.get(f"/pair/{link}/change").text)
    change(browser, link, leg_length="10")
    assert browser.post(f"/pair/{link}/change", {**old, "leg_length": "20"}).status_code == 409
    assert plans(browser, link)[0].request.leg.length_cm == 10


def test_a_change_can_be_taken_back(browser: Browser, link: str) -> None:
    count(browser, link, 30)
    before = plans(browser, link)
    change(browser, link, leg_length="10")
    assert browser.post(f"/pair/{link}/check/undo", {"sock": "1"}).status_code == 303
    assert plans(browser, link) == before


def test_a_finished_pair_leads_to_the_next_one(browser: Browser, link: str) -> None:
    for sock in (1, 2):
        count(browser, link, plans(browser, link)[0].count, sock)
    assert browser.get(f"/pair/{link}/change").headers["Location"] == f"/pair/{link}/next"


def test_socks_knitted_two_at_a_time_change_together(browser: Browser) -> None:
    link = browser.make_pair(two_at_a_time="y")
    count(browser, link, 30)
    count(browser, link, 31, sock=2)
    assert change(browser, link, leg_length="10").status_code == 303
    one, two = plans(browser, link)
    assert one == two
    assert one.request.leg.length_cm == 10


def test_a_form_left_open_too_long_is_answered_where_its_pair_is_gone_or_finished(browser: Browser, link: str) -> None:
    def sent_late(to: str) -> tuple[int, str | None]:
        answer = browser.client.post(f"/pair/{to}/change", data={"csrf_token": "old"})
        return answer.status_code, answer.headers.get("Location")

    assert sent_late(link) == (400, None)
    assert sent_late(new_link()) == (404, None)
    for sock, plan in zip((1, 2), plans(browser, link), strict=True):
        count(browser, link, plan.count, sock)
    assert sent_late(link) == (303, f"/pair/{link}/next")
