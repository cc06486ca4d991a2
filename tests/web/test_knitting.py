"""What the knit page is given says the same as the plan, round by round."""

from __future__ import annotations

from typing import Any

import pytest

from companion.planning.document import Plan
from companion.planning.planner import make_plan
from companion.planning.words import round_lines
from companion.resources import SAMPLE_PROJECTS
from companion.web.knitting import script
from companion.web.samples import read_samples

from ..conftest import Browser, entry

PLANS = [make_plan(sample.request) for sample in read_samples(SAMPLE_PROJECTS).values()]


@pytest.mark.parametrize("plan", PLANS, ids=lambda plan: plan.title)
def test_every_round_is_there_in_its_words(plan: Plan) -> None:
    found = script(plan, 1, can_undo=False)
    rounds = plan.rounds()
    assert found["total"] == len(found["rounds"]) == len(found["heights"]) == len(rounds)
    for number, item in zip(found["rounds"], rounds, strict=True):
        told = found["instructions"][number]
        assert told["lines"] == round_lines(item)
        assert (told["before"], told["after"], told["side"]) == (item.before, item.after, item.side)
    assert len(found["instructions"]) < found["total"]


@pytest.mark.parametrize("plan", PLANS, ids=lambda plan: plan.title)
def test_the_sections_cover_the_sock_without_a_gap(plan: Plan) -> None:
    found = script(plan, 1, can_undo=False)
    place = 0
    for section in found["sections"]:
        assert section["first"] == place
        place += section["count"]
    assert place == found["total"]


def test_a_cast_on_and_grafting_add_no_height() -> None:
    found = script(PLANS[0], 1, can_undo=False)
    assert found["heights"][0] == found["heights"][-1] == 0
    assert sum(found["heights"]) == found["total"] - 2


def test_plain_rounds_have_a_gist(browser: Browser, link: str) -> None:
    told = browser.get(f"/pair/{link}/pair.json").get_json()["scripts"][0]["instructions"]
    plain = [one for one in told if one["gist"] == "knit"]
    assert plain
    assert all(one["before"] == one["after"] for one in plain)


def test_both_socks_share_a_script_and_have_their_own_places(browser: Browser, link: str) -> None:
    entries: list[Any] = [entry(1, round=30, kind="go"), entry(2, sock=2, round=9999 // 3, kind="go")]
    browser.post_json(f"/pair/{link}/log", {"entries": entries})
    found = browser.get(f"/pair/{link}/pair.json").get_json()
    total = found["scripts"][0]["total"]
    assert len(found["scripts"]) == 1
    assert found["socks"] == [
        {"sock": 1, "script": 0, "round": 30},
        # A place beyond the sock, as from a longer plan taken back, is its end.
        {"sock": 2, "script": 0, "round": total},
    ]
    assert (found["cursor"], found["clock"]) == (2, 2)
