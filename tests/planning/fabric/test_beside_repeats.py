"""Stitches of a straight leg that are over beside its whole repeats lie at the centre back, out of sight."""

from __future__ import annotations

import pytest

from companion.planning import Plan
from companion.planning.construction.planner import Given, plan_from
from companion.planning.pattern.rounds_text import round_words
from companion.planning.stitches.ready import READY
from tests.planning.asking import asked, knit_plan, section

ROUNDS = {
    "k2 p2 rib": {"[k2, p2] x 3, k2, p4, [k2, p2] x 11"},
    "cable rib": {"[2/2 RC, p2] x 2, p2, [2/2 RC, p2] x 8", "[k4, p2] x 2, p2, [k4, p2] x 8"},
    "basketweave": {"[k3, p3] x 2, k5, p3, [k3, p3] x 7", "[p3, k3] x 2, p3, k5, [p3, k3] x 7"},
}
"""On 62 stitches, worked out by hand: 32 are the front, which ends the round, and about the middle of the 30 behind it
two stitches lie beside a column that is purled in every round, or at a border of the blocks."""


def on(stitches: int, name: str) -> Plan:
    request = asked(
        leg={"length_cm": 6, "stitch_pattern": {"name": name, "stitches_per_10cm": 32, "rounds_per_10cm": 44}}
    )
    return plan_from(request, {}, Given(leg=stitches))


@pytest.mark.parametrize("name", ROUNDS)
def test_a_ribbed_pattern_has_purled_columns_beside_its_repeats_and_others_plain_ones(name: str) -> None:
    plan = on(62, name)
    assert {round_words(item) for item in section(plan, "leg").rounds() if item.chart_row} == ROUNDS[name]


@pytest.mark.parametrize("name", READY)
@pytest.mark.parametrize("stitches", [61, 62, 63, 65, 67])
def test_every_ready_pattern_can_be_knitted_with_columns_beside_it(name: str, stitches: int) -> None:
    knit_plan(on(stitches, name))


def test_columns_beside_cables_that_draw_in_are_as_wide_as_plain_knitting() -> None:
    """At 38.4 over 10 cm 60 stitches are 15.625 cm, and two at 32 are 0.625 more."""
    request = asked(leg={"stitch_pattern": {"name": "cable rib", "stitches_per_10cm": 38.4, "rounds_per_10cm": 44}})
    assert plan_from(request, {}, Given(leg=62)).sizes.leg_cm == pytest.approx(16.25)
