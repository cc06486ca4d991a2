"""Where a yarn is joined, and where one that waits in vain is cut."""

from __future__ import annotations

import re
from typing import Any

import pytest
from hypothesis import given

from companion.planning import Plan
from companion.planning.fabric.second_sock import as_second_sock
from tests.planning.asking import (
    FOLLOWS,
    LOZENGE,
    WHOLE_PLANS,
    colourful,
    plan_or_leave,
    planned,
    section,
)
from tests.planning.requests import HEELS, requests


def joins(plan: Plan) -> list[tuple[str, int, str]]:
    """Where a plan tells to join yarns: the section, its round from 1, and which."""
    return [
        (each.key, number, words[1])
        for each in plan.sections
        for number, item in enumerate(each.rounds(), start=1)
        if (words := re.search(r"Join yarns? ([^.:]*) here", item.note or ""))
    ]


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
@pytest.mark.parametrize("heel", HEELS)
def test_a_yarn_is_joined_in_the_first_round_that_takes_it_and_again_where_it_was_cut(
    heel: str, direction: str
) -> None:
    plan = colourful(LOZENGE, construction={"heel": heel, "direction": direction}, **FOLLOWS)
    told = joins(plan)
    attached = False
    expected = []
    for each in plan.sections:
        if not any(item.chart_row for item in each.rounds()):
            attached = False
        for number, item in enumerate(each.rounds(), start=1):
            if "B" in item.drawn and not attached:
                expected.append((each.key, number, "B"))
                attached = True
    assert told == expected
    assert told
    assert (len(told) > 1) == (heel == "flap")


STRIPES = {"width": 1, "rows": [*"AABB"]}


@pytest.mark.parametrize("length", [14, 14.2, 14.4, 14.6])
def test_a_yarn_that_waits_where_rounds_no_longer_begin_is_cut_and_joined_again(length: float) -> None:
    """After a flap the next round begins at the heel and ends at the sole's beginning, where all others begin."""
    plan = colourful(STRIPES, leg={"chart": STRIPES, "length_cm": length}, **FOLLOWS)
    rounds = section(plan, "gusset").rounds()
    yarns = ["AB"["B" in item.drawn] for item in rounds]
    first_in = {yarn: yarns.index(yarn) + 1 for yarn in "AB"}
    assert ("Cut yarn A" in (rounds[0].note or "")) == (first_in["A"] > 1)
    wanted = [(first_in["B"], "B")] + [(first_in["A"], "A")] * (first_in["A"] > 1)
    assert [(number, yarn) for key, number, yarn in joins(plan) if key == "gusset"] == wanted


def test_a_second_sock_that_exchanges_its_colours_joins_the_other_yarn() -> None:
    chart = LOZENGE | {"swap": True}
    first = colourful(chart)
    assert [words for _, _, words in joins(first)] == ["B"]
    assert [words for _, _, words in joins(as_second_sock(first))] == ["A"]
    assert "Cut yarn B" in (section(first, "heel-flap").rounds()[0].note or "")
    assert "Cut yarn A" in (section(as_second_sock(first), "heel-flap").rounds()[0].note or "")


@pytest.mark.parametrize("heel", ["short-row", "short-row with gusset"])
@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_the_yarn_of_a_heel_hangs_while_rounds_go_between_its_halves(heel: str, direction: str) -> None:
    construction = {"heel": heel, "direction": direction, "short_rows": "wrap and turn", "rounds_between": 2}
    rounds = section(
        planned(construction=construction, yarns=[{"key": "A"}, {"key": "B"}], parts={"heel": "B"}), "heel"
    )
    said = {
        words: [number for number, item in enumerate(rounds.rounds()) if words in (item.note or "")]
        for words in ("Join yarn B", "Let yarn B hang, and go on with yarn A.", "Take up yarn B again.", "Cut yarn B")
    }
    assert [len(numbers) for numbers in said.values()] == [1] * 4
    (joined,), (hangs,), (again,), (cut,) = said.values()
    assert (joined, again, cut) == (0, hangs + 2, rounds.count - 1)
    assert [item.side for item in rounds.rounds()[hangs - 1 : again + 1]] == ["WS", "round", "round", "RS"]
    assert (rounds.rounds()[hangs].note or "").startswith("The same from this side. Two rounds"), "of the gaps closed"


KEYS = r"([A-D](?:(?:, | and )[A-D])*)"
JOINED = re.compile(rf"Join yarns? {KEYS}\b")
CUT = re.compile(rf"Cut yarns? {KEYS}\b")
CUT_ON_THE_WAY = re.compile(r"with yarn ([A-D]) and cut it")


def told(words: re.Pattern[str], note: str) -> set[str]:
    """The yarns that a note tells to join, or to cut."""
    return {yarn for found in words.findall(note) for yarn in re.findall("[A-D]", found)}


@WHOLE_PLANS
@given(requests())
def test_whoever_does_as_the_notes_say_has_each_yarn_on_the_needles_when_it_is_taken(data: dict[str, Any]) -> None:
    plan = plan_or_leave(data)
    attached: set[str] = set()
    for item in plan.rounds():
        used = {yarn or "A" for yarn, loops in item.drawn.items() if loops}
        note = item.note or ""
        if item.before == 0:
            attached = set(used)  # cast on, or picked up, with a yarn that was not there
        else:
            attached -= told(CUT, note)
            joined = told(JOINED, note)
            assert not joined & attached, note
            attached |= joined
        assert used <= attached, note
        attached -= told(CUT_ON_THE_WAY, note)
