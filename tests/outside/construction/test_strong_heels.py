"""Strong heels: the gusset is increased beside the heel, and the turn takes it up; no edge is picked up along."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest

from companion.planning import Plan
from companion.planning.construction.shaping import HeelTurn, heel_turn
from companion.planning.pattern.rounds_text import round_words
from companion.planning.plan.document import Round
from companion.planning.plan.rounds import zone_stitches
from companion.planning.request.construction import Turn
from tests.outside.fit.measured_feet import AVERAGE, LARGE, SMALL, MeasuredFoot
from tests.planning.asking import asked, knit_plan, planned, section
from tests.planning.requests import DIRECTIONS
from tests.planning.requests import TURNS as KINDS
from tests.shape import shape


def sock(direction: str = "cuff-down", **sections: Any) -> Plan:
    made = {"direction": direction, "heel": "strong"} | sections.pop("construction", {})
    return planned(construction=made, **sections)


def rows_of(plan: Plan) -> list[Round]:
    return [item for item in section(plan, "heel-turn").rounds() if item.side != "round"]


@pytest.mark.parametrize("direction", DIRECTIONS)
def test_two_stitches_are_increased_every_second_round_and_none_is_picked_up(direction: str) -> None:
    # mrshipp.wordpress.com, "gusset and heel", from the toe up: two stitches on alternate rounds, one at either end of
    # the sole, and one more round without increases after the last. From memory: from the cuff down too, and as many
    # as a flap would have picked up.
    plan = sock(direction)
    grown = section(plan, "gusset-increases").rounds()
    assert [item.after - item.before for item in grown] == [2, 0] * (len(grown) // 2)
    assert not any(item.uses("pu") for item in plan.rounds())


@pytest.mark.parametrize("direction", DIRECTIONS)
def test_the_turn_takes_up_one_stitch_a_row_until_about_the_heel_is_left(direction: str) -> None:
    # knittingmagic.biz, "turn heel, all socks", with the gusset's stitches as part of the heel: each row works to one
    # stitch before the gap, takes it together with the one beyond, works one more and turns. From memory: until the
    # heel has its stitches again.
    plan = sock(direction)
    rows = rows_of(plan)
    assert all(item.before - item.after == 1 for item in rows)
    wide, narrow = (
        zone_stitches(item, "heel", "sole")
        for item in (section(plan, "gusset-increases").rounds()[-1], section(plan, "heel-turn").rounds()[-1])
    )
    assert wide - narrow == len(rows)
    before = plan.rounds()[plan.span("gusset-increases").start].before
    assert before // 2 <= narrow <= before // 2 + 4
    assert round_words(rows[2]) == "sl1, k6, ssk, k1, turn"


def worked_through(turn: HeelTurn) -> tuple[list[int], int]:
    """The stitches that the last two rows do not reach, and those left, when a turn is worked on two needles."""
    left, right, unreached = turn.heel, 0, []
    for number, each in enumerate(turn.rows):
        # Every row but the first begins with a slipped stitch.
        taken = (number > 0) + each.across + 2 + each.one_more
        assert left >= taken
        unreached.append(left - taken)
        left, right = right + taken - 1, left - taken
    return unreached[-2:], left + right


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("heel", range(20, 61))
def test_a_turn_that_leaves_a_heel_works_every_stitch_and_ends_as_wide(kind: Turn, heel: int) -> None:
    # Each row takes one stitch; a row on either side in turn. So it ends when all beside the first two rows are taken.
    for sides in range(6, heel):
        turn = heel_turn(kind, heel + 2 * sides, leaves=heel)
        assert heel <= turn.left
        assert turn.left <= max(heel + 2, (heel + 2 * sides) // 2 + 4)
        assert (heel - turn.left) % 2 == 0
        assert len(turn.rows) == 2 * sides + heel - turn.left
        assert worked_through(turn) == ([0, 0], turn.left)


@pytest.mark.parametrize("direction", DIRECTIONS)
@pytest.mark.parametrize("foot", [*SMALL, *AVERAGE, *LARGE])
def test_the_round_before_the_turn_is_as_wide_as_the_measured_heel(direction: str, foot: MeasuredFoot) -> None:
    body = foot.ball_and_length() | {
        "heel_diagonal_cm": round(1.36 * foot.ball_and_length()["ball_circumference_cm"], 1)
    }
    plan = sock(direction, foot=body)
    found = shape(knit_plan(plan), stitches_per_cm=3.2, rounds_per_cm=4.4)
    assert found.heel_pass_cm == pytest.approx(body["heel_diagonal_cm"], abs=1 / 3.2)
    assert found.foot_length_cm == pytest.approx(plan.sizes.foot_length_cm, abs=0.006)
    assert {one.verdict for one in plan.fit} == {"good"}


def test_both_directions_make_the_same_heel() -> None:
    down, up = sock("cuff-down"), sock("toe-up")
    for key in ("gusset-increases", "heel-turn"):
        assert section(down, key).length_cm == pytest.approx(section(up, key).length_cm)
    assert down.sizes.heel_pass_cm == up.sizes.heel_pass_cm
    assert len(rows_of(down)) == len(rows_of(up))


@pytest.mark.parametrize(("fabric", "slips"), [("slipped", 17), ("offset slipped", 17), ("plain", 0)])
def test_from_the_cuff_down_the_back_has_the_fabric_of_a_flap(fabric: str, slips: int) -> None:
    plan = sock(construction={"flap": fabric})
    plain = [item for item in section(plan, "gusset-increases").rounds() if item.kind == "plain"]
    assert {item.uses("sl") for item in plain} == {slips}
    starts = [round_words(item).index("sl1") - round_words(item).index("[") for item in plain] if slips else []
    if fabric == "offset slipped":
        assert all(one != other for one, other in pairwise(starts))
    else:
        assert len(set(starts)) <= 1


def test_under_an_instep_in_pattern_the_back_goes_on_plain() -> None:
    request = asked(
        construction={"heel": "strong"},
        leg={"length_cm": 12, "chart": {"width": 2, "rows": ["AB", "BA"]}},
        yarns=[{"key": "A"}, {"key": "B"}],
        foot_pattern="instep follows the leg",
    )
    plan = planned(**request.model_dump(mode="json", by_alias=True))
    assert not any(item.uses("sl") for item in section(plan, "gusset-increases").rounds())
    knit_plan(plan)
