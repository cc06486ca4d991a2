"""A group from its first to its last day: it ends and goes on, its link is replaced, and others lead it too."""

from __future__ import annotations

import re

import pytest

from companion.web.links import follower_link

from ...conftest import Browser
from ..designing import BODY, DESIGN, change, handed_out, join, keep_photo, lead, lead_too, version_of


def test_a_group_that_has_ended_takes_nobody_in_and_changes_nothing(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    before = browser.get(f"/pair/{pair}/pair.json").get_json()
    assert browser.post(f"/design/{leader}/end", {}).status_code == 303
    joining = browser.post(f"/join/{follower_link(leader)}", BODY)
    assert joining.status_code == 422
    assert "This group has ended" in joining.text
    assert 'value="23"' in joining.text, "what was filled in is still there"
    assert "Your numbers" in browser.post(f"/join/{follower_link(leader)}", {**BODY, "numbers": "y"}).text
    refused = [
        browser.get(f"/design/{leader}/edit"),
        browser.post(f"/design/{leader}/edit", {**DESIGN, "version": version_of(browser, leader), "rib": "k1 p1"}),
        browser.post(f"/design/{leader}/tell", {"words": "One more thing."}),
        browser.post(f"/design/{leader}/replace", {}),
    ]
    assert [answer.status_code for answer in refused] == [409] * 4
    assert keep_photo(browser, leader) == 409
    assert browser.get(f"/pair/{pair}/pair.json").get_json() == before
    assert "The group has ended; your pair goes on" in browser.get(f"/pair/{pair}").text
    page = browser.get(f"/design/{leader}").text
    assert "This group ended on Mon 3 Nov 2025" in page
    assert browser.post(f"/design/{leader}/reopen", {}).status_code == 303
    change(browser, leader, rib="k1 p1")
    assert join(browser, leader)


def test_a_plan_page_that_is_kept_hears_of_the_end(browser: Browser) -> None:
    leader = lead(browser)
    pair = f"/pair/{join(browser, leader)}"
    name = browser.get(pair).headers["ETag"]
    assert browser.get(pair, headers={"If-None-Match": name}).status_code == 304
    browser.post(f"/design/{leader}/end", {})
    assert browser.get(pair, headers={"If-None-Match": name}).status_code == 200


def test_a_replaced_link_is_refused_and_who_has_joined_stays(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    leaked = handed_out(browser, leader)
    for _ in range(2):
        before = handed_out(browser, leader)
        browser.post(f"/design/{leader}/replace", {})
        for path in ("", "/grid", "/sock.png", "/stages.ics"):
            assert browser.get(f"/join/{before}{path}").status_code == 404
    now = handed_out(browser, leader)
    assert now not in (leaked, before)
    assert f"/join/{now}" in browser.get(f"/design/{leader}/card").text
    assert join(browser, leader, link=now)
    browser.post(f"/design/{leader}/tell", {"words": "The link is another now."})
    assert "The link is another now." in browser.get(f"/pair/{pair}").text
    assert "2 pairs made from this design" in browser.get(f"/design/{leader}").text


def test_several_lead_and_one_decides_who(browser: Browser) -> None:
    leader = lead(browser)
    wiebke, arne = lead_too(browser, leader), lead_too(browser, leader, "Arne")
    for link in (wiebke, arne):
        assert handed_out(browser, link) == handed_out(browser, leader) == follower_link(leader)
        page = browser.get(f"/design/{link}").text
        assert leader not in page
        assert "Lead with others" not in page
    change(browser, wiebke, title="Larch and fern")
    browser.post(f"/design/{wiebke}/replace", {})
    assert handed_out(browser, arne) == handed_out(browser, leader) != follower_link(leader)
    assert "Larch and fern" in browser.get(f"/design/{arne}").text
    page = browser.get(f"/design/{leader}").text
    assert wiebke not in page, "a leader's link is shown once"
    key = re.search(r'name="key" value="(\w+)">\s*<p class="actions"><b>Wiebke</b>', page)
    assert key
    browser.post(f"/design/{leader}/leaders/remove", {"key": key[1]})
    assert browser.get(f"/design/{wiebke}").status_code == 404
    assert browser.get(f"/design/{arne}").status_code == 200


@pytest.mark.parametrize("name", ["", "   ", "x" * 41, "two\x07"])
def test_a_further_leader_has_a_name(browser: Browser, name: str) -> None:
    answer = browser.post(f"/design/{lead(browser)}/leaders", {"name": name})
    assert answer.status_code == 400
    assert "A name of 1 to 40 letters is needed" in answer.text


def test_only_so_many_lead_one_design(browser: Browser) -> None:
    leader = lead(browser)
    for number in range(10):
        lead_too(browser, leader, f"Leader {number}")
    assert browser.post(f"/design/{leader}/leaders", {"name": "One more"}).status_code == 409
