"""Afterthought heels as knitters describe them."""

from __future__ import annotations

import pytest

from companion.planning import Plan
from companion.planning.units import CM_PER_INCH
from tests.planning.asking import knit_plan, planned, section
from tests.shape import shape

DIRECTIONS = ["cuff-down", "toe-up"]

ROUNDS_PER_CM = 1.3 * 8 / CM_PER_INCH
"""No source below tells its rounds. Munden (J. Textile Inst. 50, 1959, T448): 1.3 courses for each wale."""


def sock_of(stitches: int, direction: str = "cuff-down") -> Plan:
    """A sock of so many stitches at 8 stitches an inch, and the rounds of plain knitting lying relaxed."""
    return planned(
        foot={"ball_circumference_cm": round(stitches / 8 * CM_PER_INCH / 0.9, 2), "length_cm": 26},
        gauge={"stitches_per_10cm": 80 / CM_PER_INCH, "rounds_per_10cm": 10 * ROUNDS_PER_CM},
        construction={"direction": direction, "heel": "afterthought"},
    )


@pytest.mark.parametrize("direction", DIRECTIONS)
def test_half_of_the_stitches_go_on_waste_yarn(direction: str) -> None:
    # blog.universalyarn.com, 2017/11/21: typically half of the total sock stitches.
    opening = section(sock_of(64, direction), "heel-opening").rounds()[0]
    assert opening.uses("rest") == opening.uses("co") == 32


@pytest.mark.parametrize("direction", DIRECTIONS)
def test_four_stitches_are_decreased_every_other_round_as_in_a_toe(direction: str) -> None:
    # apreparedmom.blogspot.com, 2011/03: another toe, four decreases on every other round, grafted at the end.
    kinds = [item.kind for item in section(sock_of(64, direction), "heel").rounds()]
    shaping = (len(kinds) - 2) // 2
    assert kinds == ["pick-up", *["decrease", "plain"] * shaping, "finish"]


@pytest.mark.parametrize("stitches", [52, 60, 64, 68, 76])
def test_a_quarter_to_less_than_half_of_each_edge_is_grafted(stitches: int) -> None:
    # jolieaelder.blogspot.com, 2007/12: 40 and 41 stitches until 10 and 11 are left, about a quarter.
    # knittingsitting.blogspot.com, 2011/08: 16 are grafted, more than the 10 or 12 of a toe, since a heel is wider.
    heel = section(sock_of(stitches), "heel").rounds()
    grafted = heel[-1].uses("graft")
    assert 1 / 4 <= grafted / (stitches / 2) < 1 / 2
    assert grafted > section(sock_of(stitches), "toe").rounds()[-1].uses("graft")


def test_a_foot_that_forgets_its_heel_becomes_about_two_inches_too_long() -> None:
    # thecraftyscorp.blogspot.com, 2010/06: 68 stitches at 8 an inch, the foot knitted as long as wanted between the
    # waste yarn and the toe; with its heel the sock was "a good 2 in" too long.
    # knittingsitting.blogspot.com, 2011/08: about 2 inches too long for the same reason.
    plan = sock_of(68)
    found = shape(knit_plan(plan), 8 / CM_PER_INCH, ROUNDS_PER_CM)
    without_heel = sum(section(plan, key).length_cm for key in ("heel-opening", "foot", "toe"))
    assert (found.foot_length_cm - without_heel) / CM_PER_INCH == pytest.approx(2, abs=0.25)
