"""Grafting, a provisional cast-on and waste yarn taken out, step by step as technique articles teach them."""

from __future__ import annotations

import re
from collections import deque
from typing import NamedTuple

import pytest

from companion.planning.pattern.stepwise import HandPart, parts_of
from companion.planning.plan.document import Round
from companion.planning.plan.rounds import op, row
from tests.planning.asking import planned, section

MOVE = re.compile(r"(first stitch|next|last stitch) (knitwise|purlwise), (leave on|slip off)")


class Move(NamedTuple):
    """One pass of the blunt needle."""

    needle: str
    through: str
    then: str


# pressreader.com, Simply Knitting, 2022/05/26, steps 2 to 9; the same in gabtempe.wordpress.com/knitting-crochet:
# front purlwise, back knitwise; then front knitwise off, front purlwise on, back purlwise off, back knitwise on.
SET_UP = [Move("Front", "purlwise", "leave on"), Move("Back", "knitwise", "leave on")]
REPEATED = [
    Move("Front", "knitwise", "slip off"),
    Move("Front", "purlwise", "leave on"),
    Move("Back", "purlwise", "slip off"),
    Move("Back", "knitwise", "leave on"),
]
# Where the repeat runs out of stitches, only the two that leave the needles are left of it.
LAST = [Move("Front", "knitwise", "slip off"), Move("Back", "purlwise", "slip off")]


def grafted(pairs: int) -> Round:
    return row(("toe", op("graft", pairs)), before=2 * pairs, kind="finish")


def moves(parts: tuple[HandPart, ...]) -> list[Move]:
    """Every pass of the needle that the steps ask for, in order."""
    made = []
    for text, times, _ in parts:
        for _ in range(times):
            for needle, words in re.findall(r"(Front|Back) needle: ([^.]+)\.", text):
                made += [Move(needle, through, then) for _, through, then in MOVE.findall(words)]
    return made


@pytest.mark.parametrize("pairs", [1, 2, 8, 31])
def test_grafting_has_the_order_that_is_taught(pairs: int) -> None:
    assert moves(parts_of(grafted(pairs))) == SET_UP + REPEATED * (pairs - 1) + LAST


@pytest.mark.parametrize("pairs", [1, 2, 8, 31])
def test_the_steps_of_grafting_go_through_each_stitch_twice_and_leave_none(pairs: int) -> None:
    """A stitch is entered from one side and left from the other, or the graft would be twisted (common practice)."""
    needles = {"Front": deque(range(pairs)), "Back": deque(range(pairs))}
    entered: dict[tuple[str, int], str] = {}
    for needle, through, then in moves(parts_of(grafted(pairs))):
        stitch = needles[needle][0]
        if then == "slip off":
            assert entered.pop((needle, stitch)) != through
            needles[needle].popleft()
        else:
            assert (needle, stitch) not in entered
            entered[needle, stitch] = through
    assert not entered
    assert not any(needles.values())


@pytest.mark.parametrize("toe", ["wedge", "short-row"])
def test_a_toe_is_grafted_over_all_of_its_stitches(toe: str) -> None:
    last = section(planned(construction={"toe": toe}), "toe").rounds()[-1]
    off = [move for move in moves(parts_of(last)) if move.then == "slip off"]
    assert len(off) == last.before


def test_a_provisional_cast_on_has_a_chain_longer_than_its_stitches_and_a_stitch_in_each_bump() -> None:
    # interweave.com, "Crochet Chain (Provisional) Cast-On": a loose chain of about four more than you need, one stitch
    # picked up and knit in each; kddandco.com has the bumps on the back of the chain. What knits them is a row on the
    # right side: were it the cast-on, the next row would have to purl.
    cast_on, first, *_ = section(planned(construction={"direction": "toe-up", "toe": "short-row"}), "toe").rounds()
    chain, picked_up, own_yarn = parts_of(cast_on)
    assert int(re.findall(r"\d+", chain.text)[0]) == cast_on.after + 4
    assert (chain.times, picked_up.times) == (1, cast_on.after)
    assert "bump" in picked_up.text
    assert "next row" in own_yarn.text
    assert (first.side, first.work[0].ops[0]) == ("RS", *op("k", cast_on.after))
    assert f"a loose chain of {cast_on.after + 4} with smooth waste yarn" in (cast_on.note or "")


def test_the_loops_of_a_provisional_cast_on_come_off_the_chain_one_by_one_with_the_edge_for_the_last() -> None:
    # mushroomknits.com, "Provisional Crocheted Cast On": pick up each stitch as it is released; one fewer than needed,
    # the last is made from the edge.
    toe = section(planned(construction={"direction": "toe-up", "toe": "short-row"}), "toe").rounds()
    across, _, loop, edge, knitted = parts_of(toe[-1])
    assert loop.times + edge.times == toe[0].after
    assert edge.times == 1
    # The yarn waits at the end of the sole, and the next round begins at its start: the instep is knitted on the way.
    assert across.text.startswith("Work the stitches")
    assert (knitted.text.split()[0], knitted.times) == ("Knit", toe[-1].after - toe[-1].before)


def test_an_afterthought_heel_is_taken_up_on_two_needles_before_its_waste_yarn_comes_out() -> None:
    # alpacadirect.com, "How to pick up stitches on an afterthought heel": the right leg of each stitch, with the waste
    # yarn left in place; apreparedmom.blogspot.com, 2011/03: just above and just below it, then it is taken out.
    first = section(planned(construction={"heel": "afterthought"}), "heel").rounds()[0]
    before, after, out, *knitted = parts_of(first)
    assert before.times == after.times == out.times
    # Both edges and both corners are knitted once, corner after edge, so that the yarn comes back to where it began.
    assert [part.times for part in knitted] == [before.times, 1, after.times, 1]
    assert sum(part.times for part in knitted) == first.after
    assert "right leg" in before.text
    assert "right leg" in after.text


def test_waste_yarn_for_a_heel_is_knitted_over_all_heel_stitches_and_knitted_over_again() -> None:
    # chattyscrafties.blogspot.com, 2010/11/27, and common practice: the heel stitches in waste yarn, then in the yarn.
    opening = section(planned(construction={"heel": "afterthought"}), "heel-opening").rounds()[0]
    waste, slipped, again, others = parts_of(opening)
    assert waste.times == again.times == opening.resting
    assert str(opening.resting) in slipped.text
    assert others.times == 1


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
@pytest.mark.parametrize("heel", ["flap", "short-row", "short-row with gusset", "afterthought"])
def test_rounds_of_knitting_have_no_steps_of_their_own(direction: str, heel: str) -> None:
    plan = planned(construction={"direction": direction, "heel": heel})
    told = [item for item in plan.rounds() if parts_of(item)]
    waiting = 2 if heel == "afterthought" else 0
    assert len(told) == waiting + (direction == "cuff-down") + (heel == "afterthought")
    assert all(item.kind in {"setup", "pick-up", "finish"} for item in told)


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_a_round_toe_is_drawn_together_with_the_yarn_twice_through_each_stitch(direction: str) -> None:
    # roseopalknits.com, 2021/07/08, the round toe: the yarn is drawn through the stitches left; through them twice is
    # common practice, since it holds better.
    last = section(planned(construction={"direction": direction, "toe": "round"}), "toe").rounds()[-1]
    through = [part.times for part in parts_of(last) if "through the next stitch" in part.text]
    assert through == ([last.before, last.before] if direction == "cuff-down" else [])
    assert last.uses("graft") == 0
