"""What is to come of a design is seen by nobody before its day, in no page and no document, and then by all at once."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta

import pytest
from flask import Flask

from companion.web.links import follower_link

from ....conftest import Browser
from ...designing import BODY, DESIGN, change, handed_out, join, keep_photo, lead, version_of
from .conftest import Clock

SURPRISE = {"rib": "k5 p1", "toe": "round", "note_toe": "Close it as a star.", "leg_length": "10"}


TOKEN = re.compile(r'"[\w-]+\.[\w-]{6}\.[\w-]{27}"|[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}')
"""A token of a form, signed with its moment; and the name of an entry that a form is going to make."""


def wait(browser: Browser, leader: str, day: str, **changes: str) -> int:
    """Lay down a change for a day; returns the status."""
    form = {**DESIGN, "version": version_of(browser, leader), "reveal_on": day, **changes}
    return browser.post(f"/design/{leader}/edit", form).status_code


def sent(app: Flask, browser: Browser, leader: str, pair: str) -> dict[str, str]:
    """All that a follower can fetch with the link to join by and with her pair, without what is new each time."""
    addresses = app.url_map.bind("localhost")
    found = {}
    for rule in app.url_map.iter_rules():
        kind = rule.rule.split("/")[1]
        if kind in ("join", "pair") and "GET" in (rule.methods or ()):
            values = {"link": handed_out(browser, leader) if kind == "join" else pair}
            values |= {"part": "toe"} if "part" in rule.arguments else {}
            answer = browser.get(addresses.build(rule.endpoint, values))
            found[rule.endpoint] = answer.data.decode("utf-8", "replace")
    for path in ("pattern?form=md", "check?sock=1&round=40"):
        found[path] = browser.get(f"/pair/{pair}/{path}").text
    found["numbers"] = browser.post(f"/join/{handed_out(browser, leader)}", {**BODY, "numbers": "y"}).text
    return {name: TOKEN.sub("", text) for name, text in found.items()}


def test_what_waits_changes_nothing_that_a_follower_is_sent(app: Flask, browser: Browser, clock: Clock) -> None:
    leader = lead(browser)
    keep_photo(browser, leader)
    pair = join(browser, leader)
    before = sent(app, browser, leader, pair)
    assert wait(browser, leader, "2025-11-09", **SURPRISE) == 303
    assert sent(app, browser, leader, pair) == before
    clock.now = datetime(2025, 11, 8, 22, 59, 59, tzinfo=UTC)  # a second before midnight in Berlin
    late = sent(app, browser, leader, pair)
    assert not [text for text in late.values() if "Close it as a star." in text or "k5 p1" in text]
    assert "From Sun 9 Nov 2025." in browser.get(f"/design/{leader}").text
    clock.now += timedelta(seconds=1)
    page = browser.get(f"/pair/{pair}").text
    assert "Something new from today. The note for the toe is new." in page
    assert "The design has been changed.</b>" in page
    assert "Close it as a star." in browser.get(f"/pair/{pair}/pair.json").text
    assert "k5 p1" in browser.get(f"/join/{follower_link(leader)}").text
    assert "Not revealed yet" not in browser.get(f"/design/{leader}").text
    browser.get(f"/pair/{pair}")
    assert browser.get(f"/pair/{pair}").text.count("Something new from today") == 1


@pytest.mark.parametrize(
    ("zone", "moment"),
    [
        ("Pacific/Kiritimati", datetime(2025, 11, 8, 10, tzinfo=UTC)),  # UTC+14, where a day begins first
        ("Etc/GMT+12", datetime(2025, 11, 9, 12, tzinfo=UTC)),  # UTC-12, where it begins last
        ("America/Asuncion", datetime(2025, 11, 9, 3, tzinfo=UTC)),
    ],
)
def test_a_day_begins_in_the_zone_of_the_design(browser: Browser, clock: Clock, zone: str, moment: datetime) -> None:
    """Offsets: IANA time zone database."""
    leader = lead(browser, time_zone=zone)
    pair = join(browser, leader)
    assert wait(browser, leader, "2025-11-09", time_zone=zone, **SURPRISE) == 303
    name = browser.get(f"/pair/{pair}/pair.json").headers["ETag"]
    clock.now = moment - timedelta(seconds=1)
    assert "star" not in browser.get(f"/pair/{pair}/pair.json").text
    clock.now = moment
    assert "star" in browser.get(f"/pair/{pair}/pair.json", headers={"If-None-Match": name}).text


def test_several_wait_each_for_its_day_and_take_along_what_is_changed_meanwhile(browser: Browser, clock: Clock) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    assert wait(browser, leader, "2025-11-09", **SURPRISE) == 303
    assert "Close it as a star." in browser.get(f"/design/{leader}/edit?from=2025-11-09").text
    assert wait(browser, leader, "2025-11-16", **SURPRISE, note_heel="Turn it on a Sunday.") == 303
    change(browser, leader, title="Larch and fern", note_leg="Mind the clasp.")
    page = browser.get(f"/design/{leader}").text
    assert "The note for the heel is another now." in page
    clock.now = datetime(2025, 11, 17, tzinfo=UTC)
    data = browser.get(f"/pair/{pair}/pair.json").text
    for word in ("star", "Sunday", "clasp"):
        assert word in data
    assert "Larch and fern" in browser.get(f"/design/{leader}").text
    assert browser.get(f"/pair/{pair}").text.count("Something new from today") == 2


def test_what_waits_is_moved_and_taken_back(browser: Browser, clock: Clock) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    wait(browser, leader, "2025-11-09", **SURPRISE)
    form = browser.get(f"/design/{leader}/edit?waiting=2025-11-09").text
    assert 'value="2025-11-09"' in form
    assert wait(browser, leader, "2025-11-12", waiting="2025-11-09", **SURPRISE) == 303
    page = browser.get(f"/design/{leader}").text
    assert "From Wed 12 Nov 2025." in page
    assert "From Sun 9 Nov 2025." not in page
    browser.post(f"/design/{leader}/waiting/remove", {"day": "2025-11-12"})
    assert browser.get(f"/design/{leader}/edit?waiting=2025-11-12").status_code == 404
    clock.now = datetime(2025, 12, 1, tzinfo=UTC)
    assert "star" not in browser.get(f"/pair/{pair}/pair.json").text


def test_a_group_that_has_ended_is_told_nothing_until_it_goes_on(browser: Browser, clock: Clock) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    wait(browser, leader, "2025-11-09", **SURPRISE)
    browser.post(f"/design/{leader}/end", {})
    clock.now = datetime(2025, 11, 10, tzinfo=UTC)
    assert "star" not in browser.get(f"/pair/{pair}/pair.json").text
    browser.post(f"/design/{leader}/reopen", {})
    assert "star" in browser.get(f"/pair/{pair}/pair.json").text


@pytest.mark.parametrize(
    ("day", "said"),
    [("2025-11-03", "It is Mon 3 Nov 2025 already"), ("soon", "A day is needed here, like 2026-12-06")],
)
def test_a_day_that_is_none_to_come_is_refused_with_the_form_as_it_was(browser: Browser, day: str, said: str) -> None:
    leader = lead(browser)
    answer = browser.post(f"/design/{leader}/edit", {**DESIGN, "version": "1", "rib": "k1 p1", "reveal_on": day})
    assert answer.status_code == 422
    assert said in answer.text
    assert 'value="k1 p1"' in answer.text


def test_only_so_many_wait(browser: Browser) -> None:
    leader = lead(browser)
    for number in range(8):
        assert wait(browser, leader, f"2025-12-0{number + 1}", **SURPRISE) == 303
    assert wait(browser, leader, "2025-12-09", **SURPRISE) == 409
    assert wait(browser, leader, "2025-12-08", **SURPRISE) == 303
