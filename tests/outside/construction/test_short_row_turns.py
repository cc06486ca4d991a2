"""Short-row heels by each way to turn a row, as published patterns have them, and rounds between the halves."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest

from companion.planning import Plan
from companion.planning.pattern.rounds_text import round_words
from companion.planning.pattern.stepwise import parts_of
from companion.planning.units import CM_PER_INCH
from tests.planning.asking import knit_plan, planned, section
from tests.planning.requests import SHORT_ROWS, alternately
from tests.shape import shape


@cache
def heel_of_30(short_rows: str, rounds_between: int = 0, direction: str = "cuff-down") -> Plan:
    """A sock of 60 stitches, whose heel has 30 and 10 in its middle."""
    plan = planned(
        foot={"ball_circumference_cm": round(60 / 8 * CM_PER_INCH, 2), "length_cm": 24},
        gauge={"stitches_per_10cm": 80 / CM_PER_INCH, "rounds_per_10cm": 100 / CM_PER_INCH},
        ease={"circumference_percent": 0},
        cuff={"rib": "k2 p2"},
        construction={
            "direction": direction,
            "heel": "short-row",
            "short_rows": short_rows,
            "rounds_between": rounds_between,
        },
    )
    assert plan.sizes.leg_stitches == 60
    return plan


def words(plan: Plan) -> list[str]:
    return [round_words(item).removesuffix(", turn") for item in section(plan, "heel").rounds()]


def test_wrapped_stitches_are_left_one_by_one_and_worked_with_both_wraps_on_the_way_back() -> None:
    # knitmuch.com, "the perfect heel quest", wrap and turn: of 30 stitches the first row knits to 1 before the end and
    # wraps it, until 10 are left unwrapped. thechillydog.com, 2016/11: on the way back the stitch after the one worked
    # with its wrap gets a second one; the last two rows have no final wrap. We work two rows over all stitches first.
    told = words(heel_of_30("wrap and turn"))
    assert told[2:6] == ["k29, wrap", "p28, wrap", "k27, wrap", "p26, wrap"]
    assert told[20:24] == ["k11, wrap", "p10, wrap", "k10, kw, wrap", "p11, pw, wrap"]
    assert told[-3:] == ["k28, kw", "sl1 wyif, p28, pw", "Sole: k30; Instep: k30"]
    assert sum("wrap" in each for each in told) == 20 + 18


def test_a_shadow_wrap_is_made_before_each_turn_as_a_wrap_is() -> None:
    # interweave.com, "Sock knitting: shadow wrap short-rows": knit to the last stitch, twin; purl to the last stitch,
    # twin; then each row to the last stitch before a twin, twin. brooklyntweed.com, shadow wrap method: its loops are
    # worked together. socktopusunplugged.wordpress.com: right before the turn, where a wrap would be.
    twins = [each.replace("ktw", "kw").replace("ptw", "pw") for each in words(heel_of_30("shadow wrap"))]
    assert [each.replace("twin", "wrap") for each in twins] == words(heel_of_30("wrap and turn"))


def test_yarn_overs_begin_the_rows_and_go_with_the_stitch_beyond_two_of_them_after_the_first_two_rows() -> None:
    # purlwise.com, "short row heels": knit to the last stitch, turn, a yarn over with the first purl, and so on.
    # adorabubbleknits.blogspot.com, 2008/02: k2tog, then ssp; from then on k3tog and sssp with both yarn overs.
    told = words(heel_of_30("yarn over"))
    assert told[2:6] == ["k29", "yo, p28", "yo, k27", "yo, p26"]
    assert told[22:26] == ["yo, k10, k2tog", "yo, p11, ssp", "yo, k12, k3tog", "yo, p13, sssp"]


STEPS = {
    "double stitch": [],
    "wrap and turn": [2, 3, 22, 23],
    "shadow wrap": [2, 3, 22, 23],
    "yarn over": [3, 4, 22, 23],
}
"""The rows, from 0, that are told step by step: on each side the first turn, and the first gap that is closed."""


@pytest.mark.parametrize("way", SHORT_ROWS)
def test_the_first_turns_and_the_first_gaps_closed_are_told_step_by_step(way: str) -> None:
    heel = section(heel_of_30(way), "heel").rounds()
    told = {number: parts_of(item) for number, item in enumerate(heel) if parts_of(item)}
    assert list(told) == STEPS[way]
    for number, parts in told.items():
        worked = " ".join(part.text for part in parts)
        assert ("Knit" in worked) == (heel[number].side == "RS")
        assert "urn" in parts[-1].text
    # The yarn goes from the side that it is worked on to the other (knitting.about.com, short row wrap and turn).
    if way == "wrap and turn":
        assert [part.text.rpartition(" ")[2] for part in (told[2][2], told[3][2])] == ["front.", "back."]


@pytest.mark.parametrize("way", SHORT_ROWS)
def test_two_rounds_over_all_stitches_come_between_the_halves_and_close_all_gaps(way: str) -> None:
    # jenspatterns.blogspot.com, 2009/07, and hobbygaiety.com: after the first half two rounds over all stitches, then
    # the second half begins in the middle third; its turns alone have gaps, each passed once.
    heel = section(heel_of_30(way, 2), "heel").rounds()
    assert [item.side for item in heel] == [*["RS", "WS"] * 11, "round", "round", *["RS", "WS"] * 10, "round"]
    assert (heel[23].after, words(heel_of_30(way, 2))[23]) == (60, "Heel: k30; Instep: k30")
    told = words(heel_of_30(way, 2))
    assert told[24].split(",")[0] == "k21"
    assert not any(name in each for each in told[24:] for name in ("k3tog", "sssp", "kds x", "pds x"))


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
@pytest.mark.parametrize("way", SHORT_ROWS)
def test_every_way_makes_the_same_heel(way: str, direction: str) -> None:
    usual, plan = heel_of_30("double stitch", direction=direction), heel_of_30(way, direction=direction)
    assert plan.sizes == usual.sizes
    assert [one.count for one in plan.sections] == [one.count for one in usual.sections]


@pytest.mark.parametrize("between", [1, 2])
def test_rounds_between_the_halves_are_taken_off_the_foot_by_half(between: int) -> None:
    plain, plan = heel_of_30("wrap and turn"), heel_of_30("wrap and turn", between)
    assert section(plan, "heel").count == section(plain, "heel").count + between
    assert section(plan, "foot").count == section(plain, "foot").count - 1
    assert plan.sizes == plain.sizes


FEET: tuple[dict[str, Any], ...] = (
    {"ball_circumference_cm": 16, "length_cm": 15},
    {"ball_circumference_cm": 23, "length_cm": 25, "heel_diagonal_cm": 37},
    {"ball_circumference_cm": 28, "length_cm": 31},
)


@pytest.mark.parametrize(
    ("way", "heel", "foot"), alternately(SHORT_ROWS, ("short-row", "short-row with gusset", "flap"), FEET)
)
def test_the_sock_has_its_sizes_by_every_way(way: str, heel: str, foot: dict[str, Any]) -> None:
    for direction, between in (("cuff-down", 0), ("toe-up", 1), ("cuff-down", 2)):
        made = {"direction": direction, "heel": heel, "toe": "short-row", "short_rows": way, "rounds_between": between}
        plan = planned(foot=foot, construction=made, leg={"length_cm": 4})
        found = shape(knit_plan(plan), stitches_per_cm=3.2, rounds_per_cm=4.4)
        sizes = plan.sizes
        assert (found.heel_pass_cm, found.foot_length_cm) == pytest.approx(
            (sizes.heel_pass_cm, sizes.foot_length_cm), abs=0.006
        )
        assert found.foot_length_cm == pytest.approx(foot["length_cm"] - plan.request.ease.length_cm, abs=1 / 4.4)
        assert (found.heel_mirrored, found.gusset_mirrored, found.toe_mirrored) == (True, True, True)
