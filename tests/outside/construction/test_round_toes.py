"""Round toes as published patterns have them."""

from __future__ import annotations

from itertools import pairwise

import pytest

from companion.planning import Plan
from companion.planning.construction.shaping import spread_plain
from companion.planning.pattern.rounds_text import round_words
from companion.planning.plan.document import Round
from companion.planning.plan.rounds import one_by_one, takes
from companion.planning.units import CM_PER_INCH
from tests.planning.asking import planned, section


def sock_of(stitches: int, direction: str = "cuff-down") -> Plan:
    """A sock with so many stitches in the foot."""
    return planned(
        foot={"ball_circumference_cm": round(stitches / 3.2 / 0.9, 1), "length_cm": 24},
        construction={"direction": direction, "toe": "round"},
    )


def shaped(plan: Plan) -> list[Round]:
    return [item for item in section(plan, "toe").rounds() if item.kind in ("decrease", "increase")]


@pytest.mark.parametrize("stitches", [40, 48, 56])
def test_eight_decreases_a_round_bring_the_toe_down_to_eight_stitches(stitches: int) -> None:
    # roseopalknits.com, 2021/07/08, the round toe: 40, 48 and 56 stitches, k3 to k5 before each k2tog, one stitch less
    # between them in each shaping round, until only k2tog are left; then the yarn is drawn through.
    plan = sock_of(stitches)
    assert plan.sizes.foot_stitches == stitches
    published = [f"[k{between}, k2tog] x 8" if between else "k2tog x 8" for between in range(stitches // 8 - 2, -1, -1)]
    assert [round_words(item).replace("[k2tog] x 8", "k2tog x 8") for item in shaped(plan)] == published
    assert shaped(plan)[-1].after == 8


@pytest.mark.parametrize("stitches", range(44, 97, 2))
def test_the_plain_rounds_grow_fewer_towards_the_tip(stitches: int) -> None:
    # A handbook scanned at zanotowane.pl/713/7914, rounded toe: decrease once in the fourth round, twice in every
    # third, twice in every second and then in every round; 8 stitches are drawn together.
    toe = section(sock_of(stitches), "toe").rounds()
    shaping = [number for number, item in enumerate(toe) if item.kind == "decrease"]
    between = [there - here for here, there in zip(shaping, [*shaping[1:], len(toe) - 1], strict=True)]
    assert between == sorted(between, reverse=True)
    assert between[-1] <= 2
    assert between[0] >= 3


@pytest.mark.parametrize("shaping", range(1, 13))
def test_plain_rounds_are_shared_out_without_rest(shaping: int) -> None:
    for plain in range(40):
        shared = spread_plain(shaping, plain)
        assert (sum(shared), len(shared)) == (plain, shaping)
        assert list(shared) == sorted(shared, reverse=True)


def test_from_the_toe_up_8_stitches_double_to_16_and_the_rounds_between_grow() -> None:
    # oolongknits.blogspot.com, 2018/04, star toe: 8 cast on at a central point, doubled to 16, shaped every round at
    # first and with plain rounds between towards the foot.
    toe = section(sock_of(64, "toe-up"), "toe").rounds()
    assert [toe[0].after, toe[1].after] == [8, 16]
    growing = [number for number, item in enumerate(toe) if item.kind == "increase"]
    between = [there - here for here, there in pairwise(growing)]
    assert between == sorted(between)
    assert [item.after - item.before for item in shaped(sock_of(64, "toe-up"))] == [8] * 7


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_the_toe_is_about_as_long_as_a_star_toe(direction: str) -> None:
    # katyafrankel.com, 2015/12, star toe: begun about 2 in or 5 cm before the length of the foot.
    length = section(sock_of(64, direction), "toe").length_cm
    assert length / CM_PER_INCH == pytest.approx(2, abs=0.25)


@pytest.mark.parametrize("stitches", range(44, 97, 2))
def test_no_decrease_of_a_round_toe_takes_a_stitch_from_either_half(stitches: int) -> None:
    # Common practice: what lies on two needles is not knitted together.
    for item in shaped(sock_of(stitches)):
        half, taken = item.before // 2, 0
        for each in one_by_one(item.ops):
            assert not taken < half < taken + takes((each,))
            taken += takes((each,))
