"""Toes shaped to the left and the right foot, as knitters describe theirs."""

from __future__ import annotations

from typing import Any

import pytest

from companion.planning import Plan, make_plan
from companion.planning.plan.document import Op, Round
from companion.planning.plan.rounds import makes, takes
from companion.planning.units import CM_PER_INCH
from tests.planning.asking import asked, knit_plan, planned, section
from tests.planning.requests import DIRECTIONS, alternately
from tests.shape import shape


def sock_for(toe: str, direction: str = "cuff-down", **sections: Any) -> Plan:
    return planned(construction={"direction": direction, "toe": toe}, **sections)


def at_one_side(plan: Plan) -> list[Round]:
    """The rounds of the toe that change the stitches by two, at one side of sole and instep."""
    return [item for item in section(plan, "toe").rounds() if abs(item.before - item.after) == 2]


def at_its_beginning(item: Round) -> bool:
    """Whether the sole is shaped at its beginning: there by ssk or m1r, at its end by k2tog or m1l."""
    sole = next(work for work in item.work if work.zone == "sole")
    instep = next(work for work in item.work if work.zone == "instep")
    names, opposite = ({one.op for one in zone.ops if isinstance(one, Op)} - {"k"} for zone in (sole, instep))
    assert (names | opposite) in ({"ssk", "k2tog"}, {"m1r", "m1l"})
    return bool(names & {"ssk", "m1r"})


@pytest.mark.parametrize(
    ("direction", "foot", "begins_at_the_little_toe"),
    [
        # Knitted from right to left as seen from outside. From the cuff down the needles lie towards the toes, so over
        # the instep the round runs from the wearer's right to her left: on a left foot it ends at the little toe, where
        # the sole begins. From the toe up the needles lie towards the leg, and it is the other way round.
        ("cuff-down", "left foot", True),
        ("cuff-down", "right foot", False),
        ("toe-up", "left foot", False),
        ("toe-up", "right foot", True),
    ],
)
def test_where_one_side_is_shaped_alone_it_is_the_little_toes(
    direction: str, foot: str, begins_at_the_little_toe: bool
) -> None:
    alone = at_one_side(sock_for(foot, direction))
    assert alone
    assert {at_its_beginning(item) for item in alone} == {begins_at_the_little_toe}


def test_the_little_toes_side_narrows_alone_for_about_three_eighths_of_the_toe() -> None:
    # allfiber.blogspot.com, 2009/11/29, "anatomical toes": every other row on the outside of the foot for about 3/4 in,
    # then on both sides for about 1 1/4 in more.
    plan = sock_for("left foot")
    alone = 2 * len(at_one_side(plan)) / 4.4
    assert alone / CM_PER_INCH == pytest.approx(3 / 4, abs=1 / 8)
    assert section(plan, "toe").length_cm / CM_PER_INCH - alone / CM_PER_INCH == pytest.approx(5 / 4, abs=1 / 4)


def test_the_other_sock_is_its_mirror_image() -> None:
    request = asked(construction={"toe": "left foot"})
    left, right = make_plan(request), make_plan(request.for_the_other_foot())
    assert right.request.construction.toe == "right foot"
    assert right.request.for_the_other_foot() == request
    assert left.sizes == right.sizes
    assert left.yarn == right.yarn
    for here, there in zip(left.rounds(), right.rounds(), strict=True):
        assert (here.before, here.after) == (there.before, there.after)
        for work, other in zip(here.work, there.work, strict=True):
            assert takes(work.ops) - makes(work.ops) == takes(other.ops) - makes(other.ops)
        if abs(here.before - here.after) == 2 and here in section(left, "toe").rounds():
            assert at_its_beginning(here) != at_its_beginning(there)


@pytest.mark.parametrize(("direction", "ball", "gauge"), alternately(DIRECTIONS, (12, 16, 23, 31), (14, 22, 32, 48)))
def test_the_foot_has_its_length_and_both_halves_end_alike(direction: str, ball: float, gauge: float) -> None:
    plan = sock_for(
        "right foot",
        direction,
        foot={"ball_circumference_cm": ball, "length_cm": 1.08 * ball},
        gauge={"stitches_per_10cm": gauge, "rounds_per_10cm": 1.35 * gauge},
    )
    found = shape(knit_plan(plan), stitches_per_cm=gauge / 10, rounds_per_cm=1.35 * gauge / 10)
    assert found.foot_length_cm == pytest.approx(plan.sizes.foot_length_cm, abs=0.006)
    assert found.foot_length_cm == pytest.approx(1.08 * ball - plan.request.ease.length_cm, abs=1 / (1.35 * gauge / 10))
    assert at_one_side(plan)
