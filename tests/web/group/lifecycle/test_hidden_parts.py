"""Parts of a sock that are kept secret are in nothing that a follower is sent, until their days have come."""

from __future__ import annotations

import io
from datetime import UTC, datetime, timedelta

import pytest
from flask import Flask

from companion.planning.plan.stand_ins import SHAPES
from companion.web.links import follower_link

from ....conftest import Browser
from ...designing import BODY, DESIGN, change, join, keep_photo, lead
from ..test_follower import plans, take_over
from .conftest import Clock
from .test_reveal import sent

SECRET = {
    "heel": "short-row",
    "toe": "round",
    "note_toe": "Close it as a star.",
    "hidden_toe": "2025-11-09",
    "hidden_heel": "2025-11-16",
    "note_heel": "Turn it under the moon.",
}
OTHERS_SECRET = {**SECRET, "heel": "afterthought", "toe": "wedge", "note_toe": "", "note_heel": "No moon."}
WORDS = ("as a star", " moon")
"""What gives the secret away. Links, marks and signatures are letters by chance, but have no space."""

TOE_COMES = datetime(2025, 11, 8, 23, tzinfo=UTC)
"""Midnight in Berlin."""


def told_in(text: str) -> list[str]:
    return [word for word in WORDS if word in text.lower()]


def test_whatever_is_kept_secret_followers_are_sent_the_same(app: Flask, browser: Browser) -> None:
    """Every address that a follower's link or a pair's opens, and the shape of all she can save."""
    leader = lead(browser, **SECRET)
    pair = join(browser, leader)
    before = sent(app, browser, leader, pair)
    assert len(before) > 20
    assert "Kept secret" in before["pages.plan"]
    assert "heel kept secret, toe kept secret" in before["joining.form"].lower()
    change(browser, leader, **OTHERS_SECRET)
    keep_photo(browser, leader, part="toe")
    after = sent(app, browser, leader, pair)
    for name, text in before.items():
        assert after[name] == text, name
        assert not told_in(text), name


def test_every_round_of_a_hidden_part_is_told_to_be_none_yet(browser: Browser) -> None:
    """A gusset tells of its heel, and comes before some heels: it is no round to knit before that day either."""
    leader = lead(browser, **SECRET, note_gusset="Mind the gap.")
    keep_photo(browser, leader, part="gusset")
    pair = join(browser, leader)
    data = browser.get(f"/pair/{pair}/pair.json").get_json()
    for section in data["scripts"][0]["sections"]:
        days = {"heel": "Sun 16 Nov", "gusset": "Sun 16 Nov", "toe": "Sun 9 Nov"}
        note = data["notes"].get(section["key"], "")
        assert note.startswith(f"Kept secret until {days[section['of']]}" if section["of"] in days else ""), section
        assert "gap" not in note
    assert browser.get(f"/pair/{pair}/photo/gusset").status_code == 404


def test_each_part_is_revealed_on_its_day_and_the_next_one_is_not(browser: Browser, clock: Clock) -> None:
    leader = lead(browser, **SECRET)
    keep_photo(browser, leader, part="toe")
    pair = join(browser, leader)
    clock.now = TOE_COMES - timedelta(seconds=1)
    assert not told_in(browser.get(f"/pair/{pair}/pair.json").text)
    assert browser.get(f"/pair/{pair}/photo/toe").status_code == 404
    clock.now = TOE_COMES
    page = browser.get(f"/pair/{pair}").text
    assert "Something new from today. The toe is revealed." in page
    assert "Kept secret:</b> heel until Sun 16 Nov 2025" in page
    assert "The design has been changed.</b>" in page
    assert take_over(browser, pair, 2) == 303
    [*_, plan] = plans(browser, pair)
    assert (plan.request.construction.heel, plan.request.construction.toe) == (SHAPES.heel, "round")
    assert browser.get(f"/pair/{pair}/photo/toe").status_code == 200
    knit = browser.get(f"/pair/{pair}/pair.json").text
    assert "star" in knit
    assert " moon" not in knit
    clock.now = TOE_COMES + timedelta(days=7)
    assert "The heel is revealed." in browser.get(f"/pair/{pair}").text
    assert take_over(browser, pair, 3) == 303
    [*_, plan] = plans(browser, pair)
    assert (plan.request.construction.heel, plan.request.construction.toe) == ("short-row", "round")
    assert " moon" in browser.get(f"/pair/{pair}/pair.json").text
    page = browser.get(f"/design/{leader}").text
    assert "Kept secret" not in page
    assert "Not revealed yet" not in page


def test_the_leader_has_the_whole_in_form_and_files_and_elsewhere_as_her_followers_see_it(browser: Browser) -> None:
    leader = lead(browser, **SECRET)
    for path in ("edit", "design.json", "export"):
        text = browser.get(f"/design/{leader}/{path}").text
        missing = [word for word in ("as a star", "the moon", "2025-11-09", "2025-11-16") if word not in text]
        assert missing == [], path
    for path in ("", "/pattern", "/pattern.md", "/sizes", "/sizes.csv", "/card", "/group"):
        assert not told_in(browser.get(f"/design/{leader}{path}").text), path


@pytest.mark.parametrize("way", ["copy", "file"])
def test_another_design_made_of_it_keeps_its_secrets(browser: Browser, clock: Clock, way: str) -> None:
    leader = lead(browser, **SECRET)
    keep_photo(browser, leader, part="toe")
    if way == "copy":
        answer = browser.post(f"/design/{leader}/copy", {})
    else:
        file = browser.get(f"/design/{leader}/export").data
        form = {"csrf_token": browser.token(), "design": (io.BytesIO(file), "x.json")}
        answer = browser.client.post("/design/open", data=form, content_type="multipart/form-data")
    other = answer.headers["Location"].split("/")[2].partition("?")[0]
    assert other != leader
    pair = join(browser, other)
    assert not told_in(browser.get(f"/pair/{pair}/pair.json").text)
    assert browser.get(f"/pair/{pair}/photo/toe").status_code == 404
    assert "star" in browser.get(f"/design/{other}/edit").text
    clock.now = TOE_COMES
    assert "star" in browser.get(f"/pair/{pair}/pair.json").text


def test_a_day_is_moved_and_a_secret_given_up(browser: Browser, clock: Clock) -> None:
    leader = lead(browser, **SECRET)
    pair = join(browser, leader)
    change(browser, leader, **{**SECRET, "hidden_toe": "2025-11-20", "hidden_heel": ""})
    page = browser.get(f"/pair/{pair}").text
    assert "The heel is revealed. The toe is kept secret until Thu 20 Nov 2025." in page
    assert " moon" in browser.get(f"/pair/{pair}/pair.json").text
    clock.now = TOE_COMES
    assert "star" not in browser.get(f"/pair/{pair}/pair.json").text
    clock.now = datetime(2025, 11, 19, 23, tzinfo=UTC)
    assert "star" in browser.get(f"/pair/{pair}/pair.json").text


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"hidden_toe": "2025-11-03"}, "It is Mon 3 Nov 2025 already"),
        ({"hidden_toe": "some day"}, "A day is needed here, like 2026-12-06"),
        ({"also_heel": "flap"}, "A heel or a toe is kept secret where everybody knits the same construction"),
    ],
)
def test_what_cannot_be_kept_secret_is_refused_with_the_form(
    browser: Browser, changes: dict[str, str], said: str
) -> None:
    answer = browser.post("/design", {**DESIGN, **SECRET, **changes})
    assert answer.status_code == 422
    assert said in answer.text


def test_a_day_for_parts_and_one_for_the_whole_do_not_go_together(browser: Browser) -> None:
    leader = lead(browser, **SECRET)
    both = {**DESIGN, **SECRET, "version": "1", "reveal_on": "2025-12-01"}
    answer = browser.post(f"/design/{leader}/edit", both)
    assert answer.status_code == 422
    assert "Parts are kept secret until days of their own" in answer.text
    assert browser.post(f"/design/{leader}/waiting/remove", {"day": "2025-11-09"}).status_code == 409
    assert browser.get(f"/design/{leader}/edit?waiting=2025-11-09").status_code == 409
    plain = lead(browser)
    assert (
        browser.post(f"/design/{plain}/edit", {**both, **dict.fromkeys(("hidden_toe", "hidden_heel"), "")}).status_code
        == 303
    )
    answer = browser.post(f"/design/{plain}/edit", {**DESIGN, **SECRET, "version": "1"})
    assert answer.status_code == 422
    assert "A change of the whole design waits already" in answer.text


def test_stitches_are_told_before_the_day(browser: Browser) -> None:
    """Who asks for numbers gets those of the sock to come: its rib and its toe take the same."""
    hidden, shown = lead(browser, **SECRET), lead(browser, heel="short-row", toe="round")
    asked = {**BODY, "numbers": "y"}
    counts = [
        browser.post(f"/join/{follower_link(one)}", asked).text.partition("Leg")[2].partition("</dd>")[0]
        for one in (hidden, shown)
    ]
    assert counts[0] == counts[1] != ""
