"""Legs whose count changes: wider above than at the ankle, or another one than the ribbing's."""

from __future__ import annotations

from typing import Any

import pytest

from companion.planning.ways import Place
from tests.planning.asking import LOZENGE, colourful, knit_plan, planned, section


def test_a_shaped_leg_by_the_yarn_stays_as_it_is_wherever_it_is_worked_out_again() -> None:
    body = {"ankle_circumference_cm": 20, "leg_circumference_cm": 27}
    yarns = [{"grams": 100, "metres_per_100g": 400}]
    plan = planned(foot=body, construction={"direction": "toe-up"}, leg={"until": "half the yarn"}, yarns=yarns)
    widened = [item for item in section(plan, "leg").rounds() if item.kind == "increase"]
    assert widened
    for done in range(0, len(plan.rounds()), 13):
        assert Place(plan, done, plan.request).carry_on().rounds() == plan.rounds()


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_a_leg_wider_than_the_ankle_is_shaped_in_pairs_at_the_centre_back(direction: str) -> None:
    plan = planned(
        foot={"ankle_circumference_cm": 22, "leg_circumference_cm": 29}, construction={"direction": direction}
    )
    leg = section(plan, "leg").rounds()
    changing = [item for item in leg if item.kind in ("increase", "decrease")]
    shaping = [item for item in changing if "Evenly" not in (item.note or "")]
    # 29 - 22 = 7 cm less a tenth at 3.2 stitches a cm is 20 stitches, ten pairs.
    assert len(shaping) == pytest.approx(10, abs=1)
    assert all(abs(item.after - item.before) == 2 for item in shaping)
    said = "narrowed along its back" if direction == "cuff-down" else "widened along its back"
    change = f"from {shaping[0].before} stitches to {shaping[-1].after}"
    assert [f"{said}, {change}" in (item.note or "") for item in shaping] == [True, *[False] * (len(shaping) - 1)]
    knitted = knit_plan(plan).section("leg")
    for worked in knitted:
        changes = [place for place, stitch in enumerate(worked.live) if stitch.op in ("ssk", "k2tog", "m1l", "m1r")]
        ops = {worked.live[place].op for place in changes}
        if len(changes) == len(ops) == 2 and all(
            worked.live[place].round == worked.written.place.number for place in changes
        ):
            back = len(worked.live) - plan.sizes.leg_stitches // 2
            assert sum(changes) / 2 == pytest.approx((back - 1) / 2, abs=1)


def test_a_shaped_leg_with_a_chart_changes_by_whole_repeats() -> None:
    foot = {"ankle_circumference_cm": 22, "leg_circumference_cm": 29}
    leg = section(colourful(LOZENGE, foot=foot), "leg").rounds()
    straight = [item for item in leg if item.chart_row]
    assert (straight[0].before - straight[-1].after) % 6 == 0
    assert straight[0].before > straight[-1].after
    assert all(item.chart_row for item in leg if item.before - item.after == 2), "narrowing breaks no row"


@pytest.mark.parametrize(
    ("asked", "why"),
    [
        # 23 cm less 5 % at 3.2 stitches a cm are 69.9: 12 repeats of 6, and a ribbing of its own.
        ({"leg": {"chart": LOZENGE}, "cuff": {"rib": "k5 p5"}}, "70 stitches become 72, for 12 repeats of the chart."),
        ({"construction": {"direction": "toe-up"}}, "66 stitches become 68, for a leg 21.2 cm (8 3/8 in) round."),
    ],
)
def test_a_count_that_is_changed_at_once_says_what_for(asked: dict[str, Any], why: str) -> None:
    plan = planned(**asked, yarns=[{"key": "A"}, {"key": "B"}])
    notes = [item.note for item in section(plan, "leg").rounds() if item.note]
    assert notes == [f"Evenly spread: {why}"]
