"""The knitter's own reminders: a time in words, shown and said at its rounds, and kept with the pair."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import Error, Page, expect

from tests.planning.asking import planned

from ..conftest import NewPhone
from ..knitting import Knitting, section_of
from ..modules import Modules
from ..server import Server

without_worker = pytest.mark.usefixtures("without_worker")

PLAIN: dict[str, Any] = {
    "side": "round",
    "kind": "plain",
    "before": 60,
    "after": 60,
    "note": None,
    "gist": "knit",
    "lines": [],
}
SCRIPT = {
    "total": 100,
    "rounds_per_10cm": 40,
    "sections": [
        {"key": "cuff", "title": "Cuff", "flat": False, "first": 0, "count": 20},
        {"key": "leg", "title": "Leg", "flat": False, "first": 20, "count": 60},
        {"key": "heel-flap", "title": "Heel flap", "flat": True, "first": 80, "count": 20},
    ],
    "instructions": [PLAIN, *({**PLAIN, "chart_row": row} for row in (1, 2, 3, 4))],
    "pattern": {"width": 6, "height": 4},
    "rounds": [0] * 30 + [1, 2, 3, 4] * 5 + [0] * 50,
    "heights": [1] * 100,
}
"""A sock of 4 rounds a cm: cuff 5 cm, leg 15 cm, flap 5 cm; rounds 31 to 50 are five repeats of a pattern of four."""

COMES = """async ([address, words, script, place]) => {
    const { parseWhen, comes } = await import(address);
    const when = parseWhen(words, script, place);
    return [...Array(script.total + 1).keys()].filter((done) => comes(when, script, done));
}"""


def places(modules: Modules, words: str, place: int = 30) -> list[int]:
    """Rounds done where a reminder comes that is written down at a place."""
    found: list[int] = modules.page.evaluate(COMES, [modules.address("pair/reminders"), words, SCRIPT, place])
    return found


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("every 6th round of the leg", [*range(25, 80, 6)]),
        ("Every  sixth round of the leg", [*range(25, 80, 6)]),
        ("every other row in the heel flap", [*range(81, 100, 2)]),
        ("every 30 rounds", [49, 79]),
        ("every round of the cuff", [*range(20)]),
        ("in round 40", [59]),
        ("round 40 of the leg", [59]),
        ("in row 3 of heel flap", [82]),
        ("at 15 cm", [60]),
        ("at 2,5 cm of the leg", [30]),
        ("at 6 in", [61]),
        ("at 1 1/2 inches of the leg", [36]),
        ("at the end of each repeat of the pattern", [33, 37, 41, 45, 49]),
        ("in the last round of every repeat of the leg", [33, 37, 41, 45, 49]),
        ("at the end of each repeat of the pattern in the cuff", []),
    ],
)
def test_a_time_in_words_comes_at_its_rounds(modules: Modules, words: str, expected: list[int]) -> None:
    """Counted by hand: 4 rounds a cm, so 15 cm are 60 rounds; 6 in are 15.24 cm, 60.96 rounds."""
    assert places(modules, words) == expected


@pytest.mark.parametrize(
    ("words", "fault"),
    [
        ("soon", "“soon” is no time that is known here"),
        ("at 15", "“at 15” is no time"),
        ("in round 90", "The leg has 60 rounds"),
        ("in round 0", "The leg has 60 rounds"),
        ("in row 21 of the heel flap", "The heel flap has 20 rows"),
        ("every 0th round", "The longest part has 60 rounds"),
        ("at 30 cm", "The sock is 25 cm long"),
        ("at 7 in of the leg", "The leg is 5 7/8 in long"),
        ("in round 3 of the thumb", "This sock has no part “thumb”, but cuff, leg, heel flap"),
    ],
)
def test_what_is_no_time_is_answered_with_what_is_allowed(modules: Modules, words: str, fault: str) -> None:
    with pytest.raises(Error, match=re.escape(fault)):
        places(modules, words)


def remind(knitting: Knitting, when: str, what: str) -> None:
    knitting.open_menu()
    knitting.page.get_by_role("button", name="Reminders").tap()
    knitting.page.get_by_label("When?").fill(when)
    knitting.page.get_by_label("What?").fill(what)
    knitting.page.get_by_role("button", name="Keep it").tap()


@without_worker
def test_a_reminder_is_shown_and_said_at_its_rounds_on_every_phone_until_it_is_deleted(
    new_phone: NewPhone, knitting: Knitting, server: Server, link: str
) -> None:
    page = knitting.page
    shown, told = page.locator("#reminders"), page.locator("#told")
    leg = section_of(knitting.data(), 1, "leg")["first"]
    knitting.go_to_round(leg + 5)
    remind(knitting, "every 6th round", "move the marker")
    expect(page.get_by_role("dialog")).to_contain_text("It comes next in: Leg, round 6 of")
    page.get_by_role("button", name="Close").tap()
    expect(shown).to_be_empty()
    knitting.count()
    expect(shown).to_have_text("Reminder: move the marker")
    expect(told).to_have_text("Reminder: move the marker")
    expect(page.locator("#remark")).to_have_count(0)
    knitting.everything_is_sent()

    other = Knitting(new_phone(server), link).open()
    expect(other.page.locator("#reminders")).to_have_text("Reminder: move the marker")
    other.open_menu()
    other.page.get_by_role("button", name="Reminders").tap()
    other.page.get_by_role("button", name="Delete: move the marker").tap()
    other.page.get_by_role("button", name="Cancel").tap()
    expect(other.page.locator("#reminders")).to_be_empty()
    other.everything_is_sent()
    [note] = [entry for entry in server.entries(link) if entry.kind == "note"]
    assert note.data is None
    knitting.count()
    knitting.page.reload()
    knitting.go_to_round(leg + 12)
    knitting.is_complete()
    expect(shown).to_be_empty()


@without_worker
@pytest.mark.parametrize(
    ("rows", "when", "comes"),
    [
        (["k1, yo, k2, ssk, k1", "k6", "k6", "k6"], "at the end of each repeat of the pattern", 4),
        (["k2, p2"], "every 8 rounds", 8),
    ],
)
def test_a_lifeline_is_offered_where_there_is_a_stitch_pattern(
    page: Page, server: Server, rows: list[str], when: str, comes: int
) -> None:
    plan = planned(leg={"stitch_pattern": {"rows": rows, "stitches_per_10cm": 32, "rounds_per_10cm": 44}})
    rounds, leg = plan.rounds(), plan.span("leg")
    last = next(at for at in leg if (rounds[at].chart_row if comes == 4 else at - leg.start + 1) == comes)
    knitting = Knitting(page, server.add_plan(plan)).open()
    knitting.is_complete()
    knitting.go_to_round(last)
    knitting.open_menu()
    page.get_by_role("button", name="Reminders").tap()
    page.get_by_role("button", name="Write one for a lifeline").tap()
    expect(page.get_by_label("When?")).to_have_value(when)
    page.get_by_role("button", name="Keep it").tap()
    page.get_by_role("button", name="Close").tap()
    expect(page.locator("#reminders")).to_be_empty()
    knitting.count()
    expect(page.locator("#reminders")).to_contain_text("Reminder: Lifeline: when this round is done")


@without_worker
def test_a_reminder_just_written_down_is_mended_and_taken_back(knitting: Knitting) -> None:
    sheet = knitting.page.get_by_role("dialog")
    remind(knitting, "in round 400", "cable")
    # A time that is not understood stays to be mended.
    expect(sheet.get_by_role("alert")).to_contain_text(
        "The cuff has 19 rounds. Write it like every 6th round, at 15 cm, or in round 40"
    )
    expect(knitting.page.get_by_label("When?")).to_have_value("in round 400")
    knitting.page.get_by_label("When?").fill("in round 2")
    knitting.page.get_by_role("button", name="Keep it").tap()
    sheet.get_by_role("button", name="Take it back").tap()
    expect(sheet).to_contain_text("Taken back. Nothing was kept.")
    sheet.get_by_role("button", name="Close").tap()
    knitting.count()
    knitting.open_menu()
    knitting.page.get_by_role("button", name="Reminders").tap()
    expect(sheet.get_by_role("button", name="Keep it")).to_be_visible()
    expect(sheet.get_by_role("listitem")).to_have_count(0)
    expect(knitting.page.locator("#reminders")).to_be_empty()


def test_a_reminder_is_kept_shown_and_read_aloud_without_network(page: Page, link: str) -> None:
    knitting = Knitting(page, link).open()
    knitting.works_without_network()
    knitting.is_complete()
    knitting.everything_is_sent()
    page.context.set_offline(True)
    page.reload()
    page.evaluate("() => { window.heard = []; SpeechSynthesis.prototype.speak = ({ text }) => heard.push(text); }")
    knitting.open_menu()
    page.get_by_label("My reminders read aloud").check()
    page.keyboard.press("Escape")
    remind(knitting, "in round 2", "slip the marker")
    page.get_by_role("button", name="Close").tap()
    knitting.count()
    expect(page.locator("#reminders")).to_have_text("Reminder: slip the marker")
    assert page.evaluate("heard") == ["slip the marker"]
    knitting.count()
    expect(page.locator("#reminders")).to_be_empty()


@without_worker
def test_a_place_where_a_check_pays_is_shown_and_said_once(knitting: Knitting) -> None:
    page = knitting.page
    shown, told = page.locator("#reminders"), page.locator("#told")
    first = knitting.data()["check_at"][0][0]
    knitting.go_to_round(first)
    expect(shown).to_be_empty()
    knitting.count()
    expect(shown).to_have_text("A gauge check pays here.")
    expect(told).to_contain_text("A gauge check pays here.")
    knitting.count()
    expect(shown).to_be_empty()
