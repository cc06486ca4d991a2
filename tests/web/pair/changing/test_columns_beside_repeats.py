"""A leg that goes on with columns beside its repeats: taken and taken back, on the server and by a phone alone."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest

from companion.on_phone.answer import acceptance

from ....conftest import NOON, Browser, entry
from ...checking import counted, data, instructions_of

PLACE = 40
SAYS = "Change the leg here, to 10 repeats and 1 plain stitch"


@pytest.fixture
def blocks(browser: Browser) -> str:
    """A pair with 66 stitches in blocks of six, twenty rounds into its leg, that four spots say should have 61."""
    asked = {"colour_pattern": "stitches", "stitch_pattern": "basketweave", "foot_pattern": "instep follows the leg"}
    link = browser.make_pair(stitches="32", rounds="44", **asked)
    counted(browser, link, PLACE)
    check(browser, link, PLACE, 2)
    return link


def check(browser: Browser, link: str, place: int, number: int) -> None:
    """29.5 stitches in pattern and 44 rounds of plain knitting over 10 cm, at four spots."""
    spots = {"stitches": [{"count": 29.5, "over_cm": 10}] * 4, "rounds": [{"count": 44, "over_cm": 10}] * 4}
    said = entry(number, kind="check", round=place, data=spots | {"in_pattern": True})
    assert browser.post_json(f"/pair/{link}/log", {"entries": [said]}).get_json()["kept"]


def result(browser: Browser, link: str) -> str:
    return browser.get(f"/pair/{link}/check/result?sock=1&round={PLACE}").text


def take(browser: Browser, link: str) -> int:
    basis = re.search(r'name="basis" value="(\w+)"', result(browser, link))
    assert basis
    sent = {"sock": "1", "round": f"{PLACE}", "basis": basis[1], "option": "columns"}
    return browser.post(f"/pair/{link}/check/accept", sent).status_code


def test_it_is_offered_below_whole_repeats_accepted_and_taken_back(browser: Browser, blocks: str) -> None:
    page = result(browser, blocks)
    recommended = re.search(r'<h2 id="way-title">(.*?)<', page)
    assert recommended
    assert recommended[1].strip() == "Change the leg here, to 10 repeats"
    assert SAYS in page
    before = data(browser, blocks)
    assert take(browser, blocks) == 303
    after = data(browser, blocks)
    assert instructions_of(after, 1)[:PLACE] == instructions_of(before, 1)[:PLACE]
    assert instructions_of(after, 1) == instructions_of(after, 2)
    assert after["scripts"][0]["changed"]["words"].startswith(f"{SAYS}: Leg stitches 66 → 61")
    text = browser.get(f"/pair/{blocks}/pattern?format=text").text
    assert "for 10 repeats of the pattern and 1 plain stitch at the centre back" in text
    assert browser.post(f"/pair/{blocks}/check/undo", {"sock": "1"}).status_code == 303
    assert data(browser, blocks) == before


def test_a_phone_alone_makes_the_same_plan_of_it(browser: Browser, blocks: str) -> None:
    file = browser.get(f"/pair/{blocks}/export").data.decode()
    chosen = {"choice": "check", "sock": 1, "done": PLACE, "key": "columns"}
    made: Any = json.loads(json.dumps(acceptance(chosen, file, NOON.isoformat())))
    answer = browser.post_json(f"/pair/{blocks}/proposal", {"proposal": made["proposal"], "anyway": False})
    assert (answer.status_code, answer.get_json()) == (200, {"revision": 2})
    [_, kept] = json.loads(browser.get(f"/pair/{blocks}/export").data)["revisions"]
    assert (kept["option"], kept["plan"]) == ("columns", made["revision"]["plan"])


def test_a_later_check_on_its_columns_finds_it_as_planned(browser: Browser, blocks: str) -> None:
    take(browser, blocks)
    counted(browser, blocks, PLACE + 30, id=entry(70)["id"], clock=70)
    check(browser, blocks, PLACE + 30, 71)
    page = browser.get(f"/pair/{blocks}/check/result?sock=1&round={PLACE + 30}").text
    assert "<h1>As planned. Knit on" in page
