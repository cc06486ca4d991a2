"""A pair as its plans and its logbook make it."""

from __future__ import annotations

from typing import Any
from unittest.mock import patch

import pytest

from companion.pair.file import read_pair_file
from companion.pair.revisions import Revision
from companion.pair.state import PairState, SockPosition, UnreadablePlanError, read_kept
from companion.planning import Plan, PlanRequest, make_plan, read_plan

from ..conftest import NOON, entry


@pytest.fixture
def plan(request_data: dict[str, Any]) -> Plan:
    return make_plan(PlanRequest.model_validate(request_data))


@pytest.fixture
def document(plan: Plan) -> dict[str, Any]:
    """A pair as a file: its first plan, one taken back, and an accepted one for sock 2."""
    begun = {"sock": 1, "done": 0, "other_done": 0, "created": NOON.isoformat(), "plan": plan.model_dump(mode="json")}
    return {
        "format": "tapeline pair",
        "version": 1,
        "title": "Larch",
        "unit": "in",
        "revisions": [
            {**begun, "number": 1},
            {**begun, "number": 2, "state": "withdrawn"},
            {**begun, "number": 5, "sock": 2, "other_done": 2, "summary": "Sock 2, before its cast-on"},
        ],
        "log": [entry(1), entry(2, after=[entry(1)["id"]]), entry(9, kind="note", round=2, data={"text": "blue"})],
    }


def test_a_file_is_read_as_the_state_of_its_pair(document: dict[str, Any], plan: Plan) -> None:
    file, _ = read_pair_file(document)
    assert file
    state = file.as_state()
    assert (state.title, state.unit, state.newest, state.clock) == ("Larch", "in", 5, 9)
    assert state.done == {1: 2, 2: 0}
    assert {sock: revision.number for sock, revision in state.followed.items()} == {1: 1, 2: 5}
    assert state.undoable is state.revisions[1]
    assert state.plan(1) == state.plan(2) == plan


def test_a_plan_is_read_once(plan: Plan) -> None:
    revision = Revision(1, 1, 0, 0, "", plan.model_dump_json())
    state = PairState("Larch", "cm", [revision], {1: [], 2: []}, [])
    read_kept.cache_clear()
    with patch("companion.pair.state.read_plan", side_effect=read_plan) as reading:
        assert state.plan(1) is state.plan(2) is state.plan_of(revision)
    assert reading.call_count == 1


def test_a_place_is_named_by_its_part_and_the_round_in_it(plan: Plan) -> None:
    spans = {section.key: span for section, span in plan.spans()}
    assert SockPosition(1, plan, 0).behind() == "Sock 1, before the cast-on"
    assert SockPosition(1, plan, spans["leg"][11] + 1).behind() == "Sock 1, leg, after round 12"
    assert SockPosition(2, plan, spans["heel-flap"][3] + 1).behind() == "Sock 2, heel flap, after row 4"
    for done in (plan.count, plan.count + 9):
        assert SockPosition(2, plan, done).behind() == "Sock 2, finished"


@pytest.mark.parametrize(("text", "why"), [("{}", "needed"), ("{", "not JSON at line 1")])
def test_a_plan_that_no_longer_reads_says_why(text: str, why: str) -> None:
    state = PairState("Larch", "cm", [Revision(1, 1, 0, 0, "", text)], {1: [], 2: []}, [])
    with pytest.raises(UnreadablePlanError, match=why):
        state.plan(1)
