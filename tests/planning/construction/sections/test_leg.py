"""Legs whose count changes: wider above than at the ankle, or another one than the ribbing's."""

from __future__ import annotations

from typing import Any

import pytest

from companion.planning import Plan
from companion.planning.construction.planner import Given, plan_from, sizes_at
from companion.planning.construction.sections.foot import halves_divided
from companion.planning.construction.sizes import stitches_at_the_top
from companion.planning.plan.rounds import zone_stitches
from companion.planning.recalculation.ways.sock_in_progress import SockInProgress
from companion.planning.request.plan_request import Gauge
from tests.planning.asking import LOZENGE, colourful, knit_plan, planned, section, worked_out_again
from tests.planning.requests import HEELS


def test_a_shaped_leg_by_the_yarn_stays_as_it_is_wherever_it_is_worked_out_again() -> None:
    body = {"ankle_circumference_cm": 20, "leg_circumference_cm": 27}
    yarns = [{"grams": 100, "metres_per_100g": 400}]
    plan = planned(foot=body, construction={"direction": "toe-up"}, leg={"until": "half the yarn"}, yarns=yarns)
    widened = [item for item in section(plan, "leg").rounds() if item.kind == "increase"]
    assert widened
    for done in range(0, len(plan.rounds()), 13):
        assert worked_out_again(plan, done).rounds() == plan.rounds()


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_a_leg_wider_than_the_ankle_is_shaped_in_pairs_at_the_centre_back(direction: str) -> None:
    plan = planned(
        foot={"ankle_circumference_cm": 22, "leg_circumference_cm": 29}, construction={"direction": direction}
    )
    leg = section(plan, "leg").rounds()
    changing = [item for item in leg if item.kind in ("increase", "decrease")]
    shaping = [item for item in changing if "Evenly" not in (item.note or "")]
    # 29 - 23 = 6 cm less a tenth at 3.2 stitches a cm is 17 stitches, and both ends are multiples of four.
    assert len(shaping) == pytest.approx(8.6, abs=1)
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
        # 21.4 cm of leg less a tenth are 61.6 stitches, under a foot of 66.
        (
            {"construction": {"direction": "toe-up"}, "foot": {"leg_circumference_cm": 21.2}},
            "66 stitches become 60, for a leg 18.8 cm (7 3/8 in) round.",
        ),
    ],
)
def test_a_count_that_is_changed_at_once_says_what_for(asked: dict[str, Any], why: str) -> None:
    plan = planned(**asked, yarns=[{"key": "A"}, {"key": "B"}])
    [note] = [item.note for item in section(plan, "leg").rounds() if item.note and "Evenly" in item.note]
    assert note.startswith(f"Evenly spread: {why}")


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
@pytest.mark.parametrize("heel", HEELS)
def test_a_measured_ankle_changes_no_round_of_the_sock(direction: str, heel: str) -> None:
    usual = planned(construction={"direction": direction, "heel": heel})
    for ankle in (18, 20, 22, 26):
        plan = planned(foot={"ankle_circumference_cm": ankle}, construction={"direction": direction, "heel": heel})
        assert plan.rounds() == usual.rounds()
        assert plan.sizes == usual.sizes


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
@pytest.mark.parametrize("heel", HEELS)
@pytest.mark.parametrize("leg", [18, 19, 21, 25])
def test_a_leg_of_another_width_is_reached_in_steps_and_leaves_even_halves_before_the_toe(
    direction: str, heel: str, leg: float
) -> None:
    plan = planned(foot={"leg_circumference_cm": leg}, construction={"direction": direction, "heel": heel})
    knit_plan(plan)
    for key in ("leg", "foot"):
        for item in section(plan, key).rounds():
            assert abs(item.after - item.before) <= 0.1 * item.before
    if direction == "cuff-down":
        last = section(plan, "foot").rounds()[-1]
        assert zone_stitches(last, "sole") == zone_stitches(last, "instep")
        before = section(plan, "foot").rounds()[-2]
        moved = zone_stitches(before, "sole") != zone_stitches(last, "sole")
        assert ("divided again" in (last.note or "")) == moved


def test_the_halves_are_divided_by_what_the_round_says_and_the_round_begins_where_it_began() -> None:
    # A foot of 68 over a leg of 60, its heel half of that: more than a border can move by without turning the toe.
    sole, instep = 38, 30
    evened = halves_divided(sole, instep)
    assert (zone_stitches(evened, "sole"), zone_stitches(evened, "instep")) == (34, 34)
    assert evened.uses("k2tog") == 4
    assert evened.uses("m1l") == 4
    for sole, instep, said in (
        (34, 32, "1 at the end of the sole goes to"),
        (31, 35, "2 at the beginning of the instep"),
    ):
        moved = halves_divided(sole, instep)
        assert moved.before == moved.after == moved.uses("k") == 66
        assert (zone_stitches(moved, "sole"), zone_stitches(moved, "instep")) == (33, 33)
        assert said in (moved.note or "")


def by_the_yarn(metres: int, **foot: float) -> Plan:
    yarns = [{"grams": 150, "metres_per_100g": metres}]
    return planned(foot=foot, construction={"direction": "toe-up"}, leg={"until": "half the yarn"}, yarns=yarns)


@pytest.mark.parametrize(
    ("metres", "measured", "shaped"), [(300, None, True), (420, None, True), (420, 30, True), (200, None, False)]
)
def test_a_leg_that_half_the_yarn_takes_up_the_calf_is_shaped(
    metres: int, measured: float | None, *, shaped: bool
) -> None:
    plan = by_the_yarn(metres, **({"leg_circumference_cm": measured} if measured else {}))
    told = any("reaches the calf, which was not measured" in warning for warning in plan.warnings)
    assert told == (shaped and not measured)
    assert any(item.uses("m1r") for item in section(plan, "leg").rounds()) == shaped
    # Half of 150 g, less the tenth in hand for each sock.
    assert 2 * plan.yarn[0].metres_a_sock * 1.1 == pytest.approx(1.5 * metres, rel=0.01)


@pytest.mark.parametrize("metres", [300, 420])
def test_the_calf_that_half_the_yarn_reaches_is_the_one_at_that_height(metres: int) -> None:
    # 11.4 + 1.19 x 23 - 0.07 x 25 is 37.0 cm at its widest, a foot's length up; 23 cm up to 5 cm above the heel.
    plan = by_the_yarn(metres)
    up = min(1.0, (section(plan, "leg").length_cm - 5) / 20)
    assert stitches_at_the_top(plan) == pytest.approx((23 + up * 14.02) * 0.9 * 3.2, abs=2.5)


@pytest.mark.parametrize(
    ("metres", "shaped", "off"), [(250, False, 0.9), (250, False, 1.1), (260, True, 0.9), (260, True, 1.1)]
)
def test_a_leg_by_the_yarn_goes_on_as_it_is_whatever_a_new_gauge_says_of_its_length(
    metres: int, off: float, *, shaped: bool
) -> None:
    plan = by_the_yarn(metres)
    leg = section(plan, "leg").rounds()
    assert any(item.uses("m1r") for item in leg) == shaped
    gauge = Gauge(stitches_per_10cm=32 * off, rounds_per_10cm=44 * off)
    request = plan.request.model_copy(update={"gauge": gauge})
    before = sum(len(part.rounds()) for part in plan.sections[:-2])
    for done in (before + 3 * len(leg) // 4, before + len(leg), before + len(leg) + 1):
        again = SockInProgress(plan, done, request).plan_from()
        knit_plan(again)
        rounds = section(again, "leg").rounds()
        assert any(item.uses("m1r") for item in rounds) == shaped
        assert all(abs(item.after - item.before) <= 2 for item in rounds)


def test_an_instep_with_a_pattern_keeps_its_stitches_up_to_the_toe() -> None:
    plan = colourful(LOZENGE, foot={"leg_circumference_cm": 20.5}, foot_pattern="instep follows the leg")
    assert plan.sizes.leg_stitches != plan.sizes.foot_stitches
    foot = section(plan, "foot").rounds()
    assert len({zone_stitches(item, "instep") for item in foot}) == 1


@pytest.mark.parametrize("length", [1, 4, 5])
def test_a_short_leg_keeps_its_length_however_wide_the_calf(length: float) -> None:
    for direction in ("cuff-down", "toe-up"):
        construction = {"direction": direction}
        plan = planned(foot={"leg_circumference_cm": 36}, leg={"length_cm": length}, construction=construction)
        assert section(plan, "leg").length_cm == pytest.approx(length, abs=0.12)
        assert plan.sizes.leg_stitches == plan.sizes.foot_stitches


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
@pytest.mark.parametrize("length", [25, 40])
def test_a_leg_with_room_for_its_shaping_has_the_length_asked_for(direction: str, length: float) -> None:
    # A small child's calf begins close above the ankle: 10 pairs in the 21 rounds that end a foot's length up.
    plan = planned(
        foot={"ball_circumference_cm": 15.6, "length_cm": 13.3, "leg_circumference_cm": 27},
        gauge={"stitches_per_10cm": 20, "rounds_per_10cm": 23},
        construction={"direction": direction},
        leg={"length_cm": length},
    )
    assert section(plan, "leg").length_cm == pytest.approx(length, abs=0.5 / 2.3)
    assert not any("than asked" in warning for warning in plan.warnings)
    for done in range(0, len(plan.rounds()), 9):
        assert worked_out_again(plan, done).rounds() == plan.rounds()


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_a_check_tells_the_leg_above_the_heel_of_a_shaped_leg(direction: str) -> None:
    body = {"ankle_circumference_cm": 22, "leg_circumference_cm": 33}
    plan = planned(foot=body, construction={"direction": direction}, leg={"length_cm": 20})
    assert sizes_at(plan, plan.request) == plan.sizes
    tighter = plan.request.model_copy(update={"gauge": Gauge(stitches_per_10cm=33, rounds_per_10cm=44)})
    assert sizes_at(plan, tighter).leg_cm == pytest.approx(plan.sizes.leg_stitches / 3.3, abs=0.01)


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_a_leg_that_differs_by_one_stitch_stays_as_it_is(direction: str) -> None:
    """Counts like these come only with a plan that was written elsewhere; a pair of changes is two stitches."""
    plan = planned(construction={"direction": direction})
    leg = section(plan, "leg").rounds()
    begun = {part.key: part.rounds() for part in plan.sections[: [part.key for part in plan.sections].index("leg")]}
    count = plan.sizes.leg_stitches
    other = plan_from(plan.request, {**begun, "leg": leg[:10]}, Given(count, plan.sizes.foot_stitches, count + 1))
    assert len(section(other, "leg").rounds()) >= 10
    assert {item.after for item in section(other, "leg").rounds()} == {count}
