"""Cuff, heel and toe in yarns of their own: what is knitted in them, and what the second sock makes of them."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.planning import Plan, read_plan, read_request
from companion.planning.fabric.second_sock import as_second_sock
from companion.planning.plan.document import Round
from tests.planning.asking import (
    LOZENGE,
    WHOLE_PLANS,
    asked,
    colourful,
    document_of,
    knit_plan,
    plan_or_leave,
    planned,
    request_data,
    section,
    worked_out_again,
)
from tests.planning.requests import DIRECTIONS, HEELS, HEELS_AND_TOES, names, requests

THREE = [{"key": "A"}, {"key": "B"}, {"key": "C"}]
PARTS = {"cuff": "B", "heel": "C", "toe": "B"}
NO_LOOP = {"sl", "slwyif", "ds", "wrap", "turn", "rest", "draw"}
HEEL_ROWS = {"heel-flap", "heel-turn"}


def yarns_in(item: Round) -> set[str]:
    """The yarns that loops of a round are drawn through with; A where none is named."""

    def found(ops: list[dict[str, Any]]) -> set[str]:
        inside = (found(each["ops"]) if "ops" in each else {each.get("yarn", "A")} - _slipped(each) for each in ops)
        return set[str]().union(*inside)

    return set[str]().union(*(found(work["ops"]) for work in document_of(item)["work"]))


def _slipped(each: dict[str, Any]) -> set[str]:
    return {"A"} if each["op"] in NO_LOOP else set()


def worked_in(plan: Plan, key: str, *, rows: bool | None = None) -> list[set[str]]:
    """The yarns of each round of a section, of its rows or of its rounds only."""
    return [yarns_in(item) for item in section(plan, key).rounds() if rows is None or (item.side != "round") == rows]


@pytest.mark.parametrize("construction", HEELS_AND_TOES, ids=names)
def test_cuff_heel_and_toe_are_knitted_in_their_yarns_and_all_else_in_the_main_one(
    construction: dict[str, str],
) -> None:
    plan = planned(construction=construction, yarns=THREE, parts=PARTS)
    knit_plan(plan)
    for each in plan.sections:
        for item in each.rounds():
            rows = item.side != "round"
            own = {"cuff": "B", "toe": "B", "heel-flap": "C"}.get(each.key, "A")
            if each.key in {"heel", "heel-turn"} and (rows or construction["heel"] == "afterthought"):
                own = "C"  # the round that closes rows goes over the instep, too
            used = yarns_in(item) - ({"A"} if passes(construction, each.key, item) else set())
            assert used <= {own}, (each.key, item)


def passes(construction: dict[str, str], key: str, item: Round) -> bool:
    """Whether a row is the one that works across a gusset to the heel."""
    up = construction["direction"] == "toe-up"
    return up and key == "heel-turn" and str(item.note).startswith("The heel is turned over")


def test_the_gusset_beside_a_heel_from_the_toe_up_stays_in_the_main_yarn() -> None:
    plan = planned(construction={"direction": "toe-up"}, yarns=THREE, parts={"heel": "B"})
    sides = section(plan, "gusset").count // 2
    first = section(plan, "heel-turn").rounds()[0]
    (work,) = document_of(first)["work"]
    heel = plan.sizes.foot_stitches // 2
    assert work["ops"] == [{"op": "k", "n": sides}, {"op": "k", "n": heel, "yarn": "B"}, {"op": "turn"}]
    assert f"Knit the first {sides} stitches with yarn A and cut it" in str(first.note)


@pytest.mark.parametrize("heel", HEELS)
@pytest.mark.parametrize("direction", DIRECTIONS)
def test_the_main_yarn_waits_beside_short_rows_and_is_cut_before_a_flap(heel: str, direction: str) -> None:
    """A flap ends at the sole, away from where the round began; short rows end where it began."""
    plan = planned(construction={"heel": heel, "direction": direction}, yarns=THREE, parts={"heel": "B"})
    notes = " ".join(str(item.note) for item in plan.rounds())
    assert ("Yarn A waits where the round begins." in notes) == (heel not in {"flap", "afterthought"})
    assert ("it is joined again after the heel" in notes) == (heel == "flap")
    assert ("Join yarn B: knit the" in notes) == (heel == "afterthought")
    assert "Stripes" not in notes


@pytest.mark.parametrize("rib", ["k2 p2", "k1tbl p1"])
def test_a_cuff_of_another_colour_begins_with_a_plain_round_where_it_follows_the_leg(rib: str) -> None:
    """Purled into, the first round shows loops of both colours on the right side (common practice)."""
    up = {"direction": "toe-up"}
    cuff = {"rib": rib, "length_cm": 5}
    usual = planned(construction=up, cuff=cuff, yarns=THREE)
    plan = planned(construction=up, cuff=cuff, yarns=THREE, parts={"cuff": "B"})
    assert section(plan, "cuff").count == section(usual, "cuff").count
    first, second, *_ = section(plan, "cuff").rounds()
    assert first.uses("p", "ptbl") == 0
    assert second.uses("p", "ptbl") > 0
    assert "purled stitches would show both colours" in str(first.note)
    assert section(usual, "cuff").rounds()[0].uses("p") > 0


def test_a_second_sock_that_exchanges_its_colours_exchanges_those_of_its_parts() -> None:
    first = colourful(LOZENGE | {"swap": True}, yarns=THREE, parts={"heel": "B", "toe": "C"})
    second = as_second_sock(first)
    assert {yarn for each in HEEL_ROWS for yarns in worked_in(first, each) for yarn in yarns} == {"B"}
    named = {
        op.get("yarn") for item in section(second, "heel-turn").rounds() for op in document_of(item)["work"][0]["ops"]
    }
    assert named == {None, "A"}  # None: slipped stitches and turns
    assert worked_in(second, "toe")[0] == worked_in(first, "toe")[0] == {"C"}
    assert second.request.parts.given() == {"heel": "A", "toe": "C"}
    left = [str(section(sock, "heel-flap").rounds()[0].note) for sock in (first, second)]
    for yarn, note in zip("AB", left, strict=True):
        assert f"Cut yarn {yarn}: it is joined again after the heel" in note
    assert read_request(second.request.model_dump())[1] == []


def test_the_main_yarn_given_to_a_part_changes_nothing_that_is_knitted() -> None:
    assert planned(yarns=THREE, parts={"heel": "A"}).rounds() == planned(yarns=THREE).rounds()


def test_a_document_without_yarns_of_parts_has_no_entry_for_them() -> None:
    assert "parts" not in asked().model_dump(mode="json")
    assert "parts" not in asked(parts={}).model_dump(mode="json")
    with_one = asked(yarns=THREE, parts={"toe": "C"}).model_dump(mode="json")
    assert with_one["parts"] == {"toe": "C"}


@pytest.mark.parametrize(
    ("parts", "told"),
    [
        ({"heel": "D"}, "the heel is to be in yarn D, which is none of the yarns; add the yarn"),
        ({"toe": "Q"}, "parts.toe: Q given; allowed: 'A', 'B', 'C' or 'D'"),
        ({"sole": "B"}, "parts.sole: B given; not an entry"),
    ],
)
def test_a_yarn_or_a_part_that_there_is_not_is_refused(parts: dict[str, str], told: str) -> None:
    request, faults = read_request(request_data(yarns=THREE, parts=parts))
    assert request is None
    assert [told in str(fault) for fault in faults] == [True]


@WHOLE_PLANS
@given(requests(chart=st.none()), st.integers(0, 1000))
def test_the_stitches_are_those_of_a_sock_in_one_yarn(data: dict[str, Any], part: int) -> None:
    """Also after it is worked out again from any place; only a cuff after the leg begins with a plain round."""
    plan, plain = plan_or_leave(data), plan_or_leave(data | {"parts": {}})
    if data["leg"].get("until") == "half the yarn":
        return  # other yarns last for another leg
    assert [each.key for each in plan.sections] == [each.key for each in plain.sections]
    for each, other in zip(plan.sections, plain.sections, strict=True):
        counts = [[(item.before, item.after, item.side) for item in one.rounds()] for one in (each, other)]
        assert counts[0] == counts[1]
    done = part * plan.count // 1000
    assert worked_out_again(plan, done).rounds() == plan.rounds()
    assert read_plan(plan.model_dump(mode="json")) == (plan, [])
