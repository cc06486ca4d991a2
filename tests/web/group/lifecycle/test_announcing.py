"""What a leader says reaches every follower, on plan and knit page, until each has put it away."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from companion.group.news import news_of
from companion.planning.plan.design import Design, Stage
from companion.store.group.announcements import MOST_KEPT

from ....conftest import Browser
from ...designing import change, join, lead

OVER_BOTH_DATABASES = True


def tell(browser: Browser, leader: str, words: str) -> int:
    return browser.post(f"/design/{leader}/tell", {"words": words}).status_code


def told(browser: Browser, pair: str) -> list[tuple[str, str]]:
    """The days and the words on the knit page."""
    return [(one["day"], one["words"]) for one in browser.get(f"/pair/{pair}/pair.json").get_json()["told"]]


def newest(browser: Browser, pair: str) -> int:
    return int(browser.get(f"/pair/{pair}/pair.json").get_json()["told"][-1]["number"])


def test_what_is_said_reaches_every_follower_until_she_puts_it_away(browser: Browser) -> None:
    """The tests' clock stands at noon of Monday 3 November 2025, in UTC."""
    leader = lead(browser)
    one, other = join(browser, leader), join(browser, leader)
    assert tell(browser, leader, "  We meet   on Thursday.\r\n\r\nBring <wool>. ") == 303
    said = [("2025-11-03", "We meet on Thursday.\nBring <wool>.")]
    assert told(browser, one) == told(browser, other) == said
    page = browser.get(f"/pair/{one}").text
    assert "From the leader, Mon 3 Nov 2025" in page
    assert "Bring &lt;wool&gt;." in page
    assert browser.post(f"/pair/{one}/seen", {"number": str(newest(browser, one))}).status_code == 303
    assert (told(browser, one), told(browser, other)) == ([], said)
    assert "From the leader" not in browser.get(f"/pair/{one}").text


def test_the_day_is_the_one_of_the_designs_zone(browser: Browser) -> None:
    """Kiritimati is at UTC+14 (tzdata): at noon in UTC it is two in the night of the next day."""
    leader = lead(browser, time_zone="Pacific/Kiritimati")
    pair = join(browser, leader)
    tell(browser, leader, "Good morning.")
    assert told(browser, pair) == [("2025-11-04", "Good morning.")]


def test_the_knit_page_puts_it_away_by_a_message_of_its_own(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    tell(browser, leader, "One.")
    first = newest(browser, pair)
    tell(browser, leader, "Two.")
    assert browser.post_json(f"/pair/{pair}/seen", {"number": first}).get_json() == {}
    assert [words for _, words in told(browser, pair)] == ["Two."]


JUNK: tuple[object, ...] = ({}, [], {"number": None}, {"number": -1}, {"number": 2**80}, {"number": "1"})


def test_junk_puts_nothing_away(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    tell(browser, leader, "One.")
    for junk in JUNK:
        answer = browser.post_json(f"/pair/{pair}/seen", junk)
        assert (answer.status_code, answer.get_json()["error"]) == (400, "bad-request"), junk
        assert [words for _, words in told(browser, pair)] == ["One."], junk
    browser.post_json(f"/pair/{pair}/seen", {"number": 999_999})
    tell(browser, leader, "Two.")
    assert [words for _, words in told(browser, pair)] == ["Two."], "what was not said yet cannot be put away"


@pytest.mark.parametrize(
    ("words", "status"), [("", 400), (" \n ", 400), ("x" * 500, 303), ("x" * 501, 400), ("\0", 400)]
)
def test_an_announcement_is_short(browser: Browser, words: str, status: int) -> None:
    assert tell(browser, lead(browser), words) == status


def test_what_is_taken_back_is_gone_from_pages_and_file(browser: Browser, store_path: Path) -> None:
    leader, stranger = lead(browser), lead(browser)
    pair = join(browser, leader)
    tell(browser, leader, "Ortrun-Annegret brings cake.")
    number = str(newest(browser, pair))
    browser.post(f"/design/{stranger}/tell/remove", {"number": number})
    assert told(browser, pair), "another leader cannot take it back"
    assert browser.post(f"/design/{leader}/tell/remove", {"number": number}).status_code == 303
    assert told(browser, pair) == []
    for path in store_path.parent.iterdir():
        assert b"Ortrun-Annegret" not in path.read_bytes()


def test_who_joins_later_hears_what_is_said_from_then_on(browser: Browser) -> None:
    leader = lead(browser)
    tell(browser, leader, "Cast on today.")
    pair = join(browser, leader)
    assert told(browser, pair) == []
    tell(browser, leader, "Heels next week.")
    assert [words for _, words in told(browser, pair)] == ["Heels next week."]


def test_the_oldest_make_room(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    for number in range(MOST_KEPT + 2):
        tell(browser, leader, f"Number {number}.")
    assert [words for _, words in told(browser, pair)] == [f"Number {number}." for number in range(2, MOST_KEPT + 2)]


def test_new_notes_and_days_are_announced_and_another_sock_is_not(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    change(browser, leader, rib="k1 p1")
    assert told(browser, pair) == []
    change(browser, leader, rib="k1 p1", note_heel="Garter edge, please.", stage_by_1="2025-11-16")
    [(_, words)] = told(browser, pair)
    assert words == (
        "The note for the heel is another now. A stage was changed: “Leg done”, sock 1 to the end of the leg, by "
        "Sun 16 Nov 2025, before “Leg done”, sock 1 to the end of the leg, by Sun 9 Nov 2025."
    )


LEG, HEEL = (Stage(name=name, until="leg", by=date(2025, 11, day)) for name, day in (("Leg", 9), ("Heel", 16)))


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ((), (LEG,), "A new stage: “Leg”, sock 1 to the end of the leg, by Sun 9 Nov 2025."),
        ((LEG,), (), "“Leg” is no stage any more."),
        ((LEG, HEEL), (HEEL, LEG), ""),
        (
            (LEG,),
            (LEG.model_copy(update={"name": "Legs"}),),
            "A stage was changed: “Legs”, sock 1 to the end of the leg, by Sun 9 Nov 2025, before “Leg”, sock 1 to the "
            "end of the leg, by Sun 9 Nov 2025.",
        ),
    ],
)
def test_the_news_of_stages(before: tuple[Stage, ...], after: tuple[Stage, ...], said: str) -> None:
    assert news_of(Design(stages=before), Design(stages=after)) == said


def test_the_news_of_notes_and_zones() -> None:
    assert news_of(Design(), Design(notes={"leg": "x"})) == "The note for the leg is new."
    assert news_of(Design(notes={"leg": "x"}), Design(notes={"leg": ""})) == "The note for the leg was taken away."
    assert news_of(Design(), Design(time_zone="Europe/Berlin")) == "", "without stages it concerns nobody"
    moved = Design(stages=(LEG,)).model_copy(update={"time_zone": "Europe/Berlin"})
    assert news_of(Design(stages=(LEG,)), moved) == (
        "The days of the stages end at midnight in Europe/Berlin now, before in UTC."
    )
