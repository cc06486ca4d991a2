"""What a try-on means for the rest of a sock, on its page."""

from __future__ import annotations

import re
from typing import Any

import pytest

from ....conftest import Browser, entry


def counted(browser: Browser, link: str, place: int) -> None:
    browser.post_json(f"/pair/{link}/log", {"entries": [entry(place, kind="go")]})


def tried(browser: Browser, link: str, number: int, felt: str, place: int = 40) -> None:
    """Note a try-on, like "tight foot"."""
    feels, where = felt.split()
    said = entry(number, kind="try-on", round=place, data={"where": where, "feels": feels})
    assert browser.post_json(f"/pair/{link}/log", {"entries": [said]}).status_code == 200


def rounds(browser: Browser, link: str, sock: int = 1) -> list[Any]:
    data = browser.get(f"/pair/{link}/pair.json").get_json()
    script = data["scripts"][data["socks"][sock - 1]["script"]]
    return [script["instructions"][number] for number in script["rounds"]]


def page(browser: Browser, link: str) -> str:
    return browser.get(f"/pair/{link}/fit?sock=1&round=40").text


def accept(browser: Browser, link: str, choice: str, **changes: str) -> int:
    basis = re.search(r'name="basis" value="([^"]+)"', page(browser, link))
    assert basis
    sent = {"sock": "1", "round": "40", "basis": basis[1], "choice": choice, **changes}
    return browser.post(f"/pair/{link}/fit", sent).status_code


@pytest.fixture
def in_the_leg(browser: Browser, link: str) -> str:
    counted(browser, link, 40)
    return link


def test_without_a_try_on_it_says_how_to_note_one(browser: Browser, in_the_leg: str) -> None:
    assert "not tried on yet" in page(browser, in_the_leg)


def test_the_ways_on_are_shown_and_change_nothing(browser: Browser, in_the_leg: str) -> None:
    before = rounds(browser, in_the_leg)
    tried(browser, in_the_leg, 50, "tight foot")
    text = page(browser, in_the_leg)
    assert "Tight at the foot" in text
    assert "2 stitches more in the foot" in text
    assert "ask a professional" in text
    assert rounds(browser, in_the_leg) == before


def test_what_fits_and_what_is_too_late_offer_nothing(browser: Browser, in_the_leg: str) -> None:
    tried(browser, in_the_leg, 50, "right leg")
    tried(browser, in_the_leg, 51, "loose cuff")
    text = page(browser, in_the_leg)
    assert "Right at the leg: nothing has to change." in text
    assert "Cast the other sock on with a needle one size smaller" in text
    assert "<form method" not in text
    assert "ask a professional" not in text


def test_only_the_newest_try_on_counts(browser: Browser, in_the_leg: str) -> None:
    tried(browser, in_the_leg, 50, "tight foot", place=30)
    tried(browser, in_the_leg, 51, "loose heel")
    tried(browser, in_the_leg, 52, "tight heel")
    text = page(browser, in_the_leg)
    assert "Tight at the heel" in text
    assert "Loose at the heel" not in text
    assert "at the foot" not in text


def test_a_way_is_accepted_and_taken_back(browser: Browser, in_the_leg: str) -> None:
    before = rounds(browser, in_the_leg)
    tried(browser, in_the_leg, 50, "tight foot")
    assert accept(browser, in_the_leg, "foot rest") == 303
    after = rounds(browser, in_the_leg)
    assert after != before
    assert after[:40] == before[:40]
    assert rounds(browser, in_the_leg, sock=2) == after
    [_, change] = browser.get(f"/pair/{in_the_leg}/export").get_json()["revisions"]
    assert change["summary"].startswith("Sock 1, leg, after round 22, tight at the foot: 2 stitches more in the foot\n")
    assert browser.post(f"/pair/{in_the_leg}/check/undo", {"sock": "1"}).status_code == 303
    assert rounds(browser, in_the_leg) == before


def test_leaving_it_stores_nothing(browser: Browser, in_the_leg: str) -> None:
    tried(browser, in_the_leg, 50, "tight foot")
    assert accept(browser, in_the_leg, "foot leave") == 303
    assert len(browser.get(f"/pair/{in_the_leg}/export").get_json()["revisions"]) == 1


def test_an_old_page_or_a_place_counted_past_is_not_taken(browser: Browser, in_the_leg: str) -> None:
    tried(browser, in_the_leg, 50, "tight foot")
    assert accept(browser, in_the_leg, "foot rest", basis="1") == 409
    assert accept(browser, in_the_leg, "foot knee") == 422
    counted(browser, in_the_leg, 41)
    assert accept(browser, in_the_leg, "foot rest") == 409
