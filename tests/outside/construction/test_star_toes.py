"""Star toes as published patterns have them."""

from __future__ import annotations

from itertools import pairwise

import pytest

from companion.planning import Plan
from companion.planning.construction.shaping import slow_first
from companion.planning.pattern.rounds_text import round_words
from companion.planning.plan.document import Round
from companion.planning.units import CM_PER_INCH
from tests.planning.asking import knit_plan, planned, section
from tests.planning.requests import DIRECTIONS
from tests.shape import shape


def sock_of(stitches: int, direction: str = "cuff-down") -> Plan:
    """A sock with so many stitches in the foot."""
    return planned(
        foot={"ball_circumference_cm": round(stitches / 3.2 / 0.9, 1), "length_cm": 24},
        construction={"direction": direction, "toe": "star"},
    )


def shaped(plan: Plan) -> list[Round]:
    return [item for item in section(plan, "toe").rounds() if item.kind in ("decrease", "increase")]


@pytest.mark.parametrize("stitches", [48, 56, 64, 72])
def test_each_quarter_ends_with_a_decrease_until_8_are_drawn_together(stitches: int) -> None:
    # abeeinthebonnet.com, "how to knit a star toe", and katyafrankel.com, 2015/12: four equal parts, each knitted to
    # two before its end, k2tog; until 8 are left, and the yarn is drawn through them.
    plan = sock_of(stitches)
    assert plan.sizes.foot_stitches == stitches
    between = range(stitches // 4 - 2, 0, -1)
    assert [round_words(item) for item in shaped(plan)] == [f"[k{plain}, k2tog] x 4" for plain in between]
    last = section(plan, "toe").rounds()[-1]
    assert (last.before, last.uses("draw"), last.uses("graft")) == (8, 8, 0)


@pytest.mark.parametrize("stitches", [60, 64, 68])
def test_a_star_toe_of_the_usual_length_is_shaped_every_second_round_down_to_about_half(stitches: int) -> None:
    # The same: every other round until half of the stitches are left, then every round; sooner for a shorter toe. Ours
    # goes by the length that the toe should have.
    toe = section(sock_of(stitches), "toe").rounds()
    fast = next(here.before for here, there in pairwise(toe) if (here.kind, there.kind) == ("decrease", "decrease"))
    assert 0.4 * stitches <= fast <= 0.75 * stitches


def test_the_first_round_brings_other_counts_to_a_multiple_of_four() -> None:
    # abeeinthebonnet.com: a set-up round takes the count down to the next multiple of four.
    plan = planned(
        foot={"ball_circumference_cm": 22.9, "length_cm": 24}, cuff={"rib": "k1 p1"}, construction={"toe": "star"}
    )
    assert plan.sizes.foot_stitches == 66
    assert [item.after for item in shaped(plan)][:2] == [64, 60]


@pytest.mark.parametrize("shaping", range(1, 16))
def test_plain_rounds_are_shared_out_to_the_first_shaping_rounds(shaping: int) -> None:
    for plain in range(40):
        shared = slow_first(shaping, plain)
        assert (sum(shared), len(shared)) == (plain, shaping)
        assert list(shared) == sorted(shared, reverse=True)
        assert shared[0] - shared[-1] <= 1


def test_from_the_toe_up_8_stitches_grow_by_4_every_round_at_first_and_then_every_second() -> None:
    # knotions.com, "star toe, toe up": cast on 8, 12 after the first round; every round until about half of the
    # stitches are there, then with a plain round between.
    toe = section(sock_of(64, "toe-up"), "toe").rounds()
    assert [item.after for item in toe[:3]] == [8, 12, 16]
    slow = next(here.after for here, there in pairwise(toe[1:]) if (here.kind, there.kind) == ("increase", "plain"))
    assert 0.4 * 64 <= slow <= 0.75 * 64
    assert toe[-1].after == 64


@pytest.mark.parametrize("direction", DIRECTIONS)
@pytest.mark.parametrize("ball", [12, 16, 23, 31])
def test_a_star_toe_is_about_a_fifth_of_the_foot_and_the_foot_has_its_length(direction: str, ball: float) -> None:
    plan = planned(
        foot={"ball_circumference_cm": ball, "length_cm": 1.08 * ball},
        construction={"direction": direction, "toe": "star"},
    )
    found = shape(knit_plan(plan), stitches_per_cm=3.2, rounds_per_cm=4.4)
    assert found.foot_length_cm == pytest.approx(plan.sizes.foot_length_cm, abs=0.006)
    assert found.foot_length_cm == pytest.approx(1.08 * ball - plan.request.ease.length_cm, abs=1 / 4.4)
    assert found.toe_mirrored
    if ball == 23:
        # katyafrankel.com: begun about 2 in or 5 cm before the length of the foot.
        assert section(plan, "toe").length_cm / CM_PER_INCH == pytest.approx(2, abs=0.25)
