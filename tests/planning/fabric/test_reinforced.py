"""A reinforcing thread in heel and toe: where it is told, that no stitch changes, and what a pair takes of it."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.planning import Plan, read_plan, read_request
from companion.planning.pattern.pattern import Size, pattern_of
from companion.planning.pattern.rounds_text import written_pattern
from tests.planning.asking import (
    WHOLE_PLANS,
    asked,
    knit_plan,
    plan_or_leave,
    planned,
    request_data,
    section,
    worked_out_again,
)
from tests.planning.requests import HEELS_AND_TOES, names, requests

BOTH = {"heel": True, "toe": True, "metres_per_100g": 500}
JOINED, CUT = "hold the reinforcing thread", "Cut the reinforcing thread"


def told(plan: Plan) -> list[tuple[str, str, str]]:
    """The sections and the kinds of the rounds that tell of the thread, and whether it is joined or cut there."""
    return [
        (each.key, item.side, "join" if JOINED in item.note else "cut")
        for each in plan.sections
        for item in each.rounds()
        if item.note and (JOINED in item.note or CUT in item.note)
    ]


@pytest.mark.parametrize("construction", HEELS_AND_TOES, ids=names)
def test_it_is_joined_and_cut_once_for_heel_and_once_for_toe(construction: dict[str, str]) -> None:
    plan = planned(construction=construction, reinforcing_thread=BOTH)
    knit_plan(plan)
    said = told(plan)
    assert [how for _, _, how in said] == ["join", "cut"] * 2
    joined = {key for key, _, how in said if how == "join"}
    assert len(joined) == 2
    assert joined <= {"heel", "heel-flap", "heel-turn", "toe"}


def test_it_begins_with_the_flap_and_ends_where_the_gusset_is_picked_up() -> None:
    said = told(planned(reinforcing_thread=BOTH))
    assert said == [
        ("heel-flap", "RS", "join"),
        ("gusset", "round", "cut"),
        ("toe", "round", "join"),
        ("toe", "round", "cut"),
    ]
    toe = section(planned(reinforcing_thread=BOTH), "toe").rounds()
    assert str(toe[-1].note).startswith(CUT), "before the yarn itself is cut for the grafting"
    assert toe[-1].uses("graft")


def test_from_the_toe_up_it_is_held_after_the_cast_on_and_after_the_sides_of_the_gusset() -> None:
    plan = planned(construction={"direction": "toe-up"}, reinforcing_thread=BOTH)
    assert [JOINED in str(item.note) for item in section(plan, "toe").rounds()[:3]] == [False, True, False]
    sides = section(plan, "gusset").count // 2
    assert f"After the first {sides} stitches {JOINED}" in str(section(plan, "heel-turn").rounds()[0].note)


def test_it_hangs_while_rounds_go_over_all_stitches_between_the_halves_of_a_heel() -> None:
    plan = planned(construction={"heel": "short-row", "rounds_between": 2}, reinforcing_thread={"heel": True})
    assert [how for _, _, how in told(plan)] == ["join", "cut"]
    notes = [str(item.note) for item in section(plan, "heel").rounds()]
    hangs, again = (
        next(number for number, note in enumerate(notes) if words in note)
        for words in ("Let the reinforcing thread hang", "Take up the reinforcing thread again")
    )
    assert again - hangs == 2


def test_what_it_takes_is_the_loops_it_is_held_along_by_hand() -> None:
    """32 x 44 has loops of sqrt(21.6 / (3.2 * 4.4)) = 1.239 cm (Munden's ks); each end takes a tail of 15 cm."""
    plan = planned(reinforcing_thread={"toe": True, "metres_per_100g": 500})
    toe = [item for item in section(plan, "toe").rounds() if item.is_fabric]
    metres = (sum(item.made for item in toe) * 1.2386 + 30) / 100
    assert plan.reinforcing_thread is not None
    assert plan.reinforcing_thread.metres_a_sock == pytest.approx(metres, abs=0.06)
    assert plan.reinforcing_thread.grams_a_pair == pytest.approx(2 * metres * 1.1 / 5, abs=0.06)


def test_its_grams_are_not_told_where_its_thickness_is_not_known() -> None:
    plan = planned(reinforcing_thread={"heel": True})
    assert plan.reinforcing_thread is not None
    assert plan.reinforcing_thread.grams_a_pair is None
    facts = dict(pattern_of([Size("one", plan)], "cm").facts)
    assert facts["Reinforcing thread"] == f"for heel: {plan.reinforcing_thread.metres_a_pair:.0f} m for the pair"
    text = written_pattern(plan, "cm")
    assert f"Reinforcing thread: {plan.reinforcing_thread.metres_a_sock:.0f} m a sock.\n" in text
    sizes = [
        Size(foot, planned(foot={"ball_circumference_cm": int(foot)}, reinforcing_thread=BOTH)) for foot in ("20", "24")
    ]
    facts = dict(pattern_of(sizes, "cm").facts)
    needs = [size.plan.reinforcing_thread for size in sizes]
    small, large = ((f"{2 * need.metres_a_sock:.0f}", f"{need.grams_a_pair:g}") for need in needs if need)
    assert facts["Reinforcing thread"] == (
        f"for heel and toe: {small[0]} ({large[0]}) m for the pair, {small[1]} ({large[1]}) g with a tenth in hand"
    )


def test_a_yarn_that_wears_soon_is_not_warned_of_where_it_is_reinforced() -> None:
    soft = [{"key": "A", "name": "merino", "nylon_percent": 0}]
    assert any("Heel and toe will wear sooner" in each for each in planned(yarns=soft).warnings)
    heel = planned(yarns=soft, reinforcing_thread={"heel": True}).warnings
    assert any("Toe will wear sooner" in each for each in heel)
    assert not any("wear sooner" in each for each in planned(yarns=soft, reinforcing_thread=BOTH).warnings)


def test_a_document_without_it_has_no_entry_for_it() -> None:
    for nothing in ({}, {"heel": False}, {"metres_per_100g": None}):
        assert "reinforcing_thread" not in planned(reinforcing_thread=nothing).model_dump_json()
    written = asked(reinforcing_thread={"heel": True}).model_dump(mode="json")
    assert written["reinforcing_thread"] == {"heel": True}
    request, faults = read_request(request_data(reinforcing_thread={"sole": True}))
    assert request is None
    assert [fault.where for fault in faults] == ["reinforcing_thread.sole"]


@WHOLE_PLANS
@given(requests(), st.sampled_from((BOTH, {"heel": True}, {"toe": True})), st.integers(0, 1000))
def test_the_stitches_are_those_of_a_sock_without_it(data: dict[str, Any], thread: dict[str, Any], part: int) -> None:
    """Also after it is worked out again from any place, with nothing told twice."""
    plan, plain = plan_or_leave(data | {"reinforcing_thread": thread}), plan_or_leave(data | {"reinforcing_thread": {}})
    counts = [[(item.before, item.work, item.after) for item in sock.rounds()] for sock in (plan, plain)]
    assert counts[0] == counts[1]
    assert len(told(plan)) == 2 * (len(thread.keys() & {"heel", "toe"}))
    assert worked_out_again(plan, part * plan.count // 1000).rounds() == plan.rounds()
    assert read_plan(plan.model_dump(mode="json")) == (plan, [])
