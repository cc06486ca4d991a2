"""What is particular to each construction, seen on the knitted stitches of a whole plan."""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import assume, given

from companion.planning import Check, Plan, recalculate
from companion.planning.fit.halves import heel_stitches
from companion.planning.gauge.check import Spot
from companion.planning.pattern.rounds_text import round_words
from companion.planning.units import both_units
from tests.knitter import SLIPS, Knitted, WorkedRound
from tests.planning.asking import document_of, knit_plan, plan_or_leave, planned, worked_out_again
from tests.planning.requests import CONSTRUCTIONS, DIRECTIONS, HEELS, TOES, each_with, names, requests
from tests.reader import read_zones
from tests.shape import shape

FEET: dict[str, dict[str, Any]] = {
    "usual": {},
    "child": {"ball_circumference_cm": 14.3, "length_cm": 13.4},
    "high instep": {"ball_circumference_cm": 26.2, "length_cm": 28.7, "heel_diagonal_cm": 38.5},
}

HEEL_SECTIONS = {
    ("cuff-down", "flap"): ["heel-flap", "heel-turn", "gusset"],
    ("cuff-down", "short-row"): ["heel"],
    ("cuff-down", "short-row with gusset"): ["gusset-increases", "heel", "gusset"],
    ("cuff-down", "afterthought"): ["heel-opening"],
    ("cuff-down", "strong"): ["gusset-increases", "heel-turn", "gusset"],
    ("toe-up", "flap"): ["gusset", "heel-turn", "heel-flap"],
    ("toe-up", "short-row"): ["heel"],
    ("toe-up", "short-row with gusset"): ["gusset-increases", "heel", "gusset"],
    ("toe-up", "afterthought"): ["heel-opening"],
    ("toe-up", "strong"): ["gusset-increases", "heel-turn", "gusset"],
}


@cache
def plan_of(direction: str, heel: str, toe: str, foot: str = "usual") -> Plan:
    return planned(foot=FEET[foot], construction={"direction": direction, "heel": heel, "toe": toe})


@cache
def sock(direction: str, heel: str, toe: str, foot: str = "usual") -> Knitted:
    return knit_plan(plan_of(direction, heel, toe, foot))


def rows(rounds: tuple[WorkedRound, ...]) -> list[WorkedRound]:
    return [worked for worked in rounds if worked.written.side != "round"]


def drawn(worked: WorkedRound) -> int:
    """Loops drawn in a row: what is slipped or made a double stitch is only moved."""
    return sum(stitch.op not in SLIPS | {"ds"} for stitch in worked.made)


@pytest.mark.parametrize(("construction", "foot"), each_with([*FEET]))
def test_each_construction_knits_to_the_sizes_in_its_document_and_mirrors(
    construction: dict[str, str], foot: str
) -> None:
    plan = plan_of(**construction, foot=foot)
    found = shape(sock(**construction, foot=foot), stitches_per_cm=3.2, rounds_per_cm=4.4)
    assert found.leg_cm == pytest.approx(plan.sizes.leg_cm, abs=0.006)
    assert found.foot_cm == pytest.approx(plan.sizes.foot_circumference_cm, abs=0.006)
    assert found.foot_length_cm == pytest.approx(plan.sizes.foot_length_cm, abs=0.006)
    assert found.heel_pass_cm == pytest.approx(plan.sizes.heel_pass_cm, abs=0.006)
    assert (found.heel_mirrored, found.gusset_mirrored, found.toe_mirrored) == (True, True, True)


@pytest.mark.parametrize("construction", CONSTRUCTIONS, ids=names)
def test_the_sections_come_in_the_order_of_knitting(construction: dict[str, str]) -> None:
    heel = HEEL_SECTIONS[construction["direction"], construction["heel"]]
    if construction["direction"] == "toe-up":
        order = ["toe", "foot", *heel, "leg", "cuff"]
    else:
        order = ["cuff", "leg", *heel, "foot", "toe"]
    last = ["heel"] if construction["heel"] == "afterthought" else []
    assert [section.key for section in plan_of(**construction).sections] == order + last


@pytest.mark.parametrize("construction", CONSTRUCTIONS, ids=names)
def test_the_words_of_each_construction_read_back_to_its_operations(construction: dict[str, str]) -> None:
    for item in plan_of(**construction).rounds():
        work = document_of(item)["work"]
        zones = [part["zone"] for part in work] if len(work) > 1 else [""]
        assert read_zones(round_words(item)) == [
            {"zone": zone, "ops": part["ops"]} for zone, part in zip(zones, work, strict=True)
        ]


@pytest.mark.parametrize(
    "construction",
    [
        {"direction": "cuff-down", "heel": "flap", "toe": "round"},
        {"direction": "cuff-down", "heel": "short-row with gusset", "toe": "wedge"},
        {"direction": "toe-up", "heel": "afterthought", "toe": "short-row"},
        {"direction": "toe-up", "heel": "flap", "toe": "wedge"},
    ],
    ids=names,
)
def test_worked_out_again_from_any_place_with_its_own_gauge_a_plan_stays_the_same(
    construction: dict[str, str],
) -> None:
    plan = plan_of(**construction)
    for done in range(len(plan.rounds()) + 1):
        again = worked_out_again(plan, done)
        assert again.sections == plan.sections, done
        assert (again.sizes, again.yarn) == (plan.sizes, plan.yarn), done


@pytest.mark.parametrize("direction", DIRECTIONS)
@pytest.mark.parametrize("heel", ["short-row", "short-row with gusset"])
def test_short_rows_lose_one_stitch_a_row_down_to_the_middle_and_win_them_back(direction: str, heel: str) -> None:
    first, second, *shaping = rows(sock(direction, heel, "wedge").section("heel"))
    widths = [drawn(worked) for worked in shaping]
    half = len(widths) // 2
    assert all(wide - narrow == 1 for wide, narrow in pairwise(widths[:half]))
    assert widths[half - 1] == widths[half]
    assert all(wide - narrow == 1 for narrow, wide in pairwise(widths[half:-1]))
    # The second and the last row go on to the end of a gusset, where there is one.
    assert drawn(first) >= drawn(second) == widths[-1] >= widths[0]


@pytest.mark.parametrize("direction", DIRECTIONS)
def test_a_short_row_toe_is_the_same_hourglass_as_a_short_row_heel_over_as_many_stitches(direction: str) -> None:
    # At the usual foot and gauge sole, instep and the heel of a plain leg have nearly as many stitches.
    knitted = sock(direction, "short-row", "short-row")
    heel, toe = ([drawn(worked) for worked in rows(knitted.section(key))[2:]] for key in ("heel", "toe"))
    assert min(toe) == pytest.approx(min(heel), abs=2)
    assert toe == toe[::-1]
    assert max(toe) - min(toe) + 1 == len(toe) // 2


@pytest.mark.parametrize("heel", HEELS)
def test_a_toe_of_short_rows_grown_from_a_provisional_cast_on_has_its_loops_for_an_instep(heel: str) -> None:
    toe = sock("toe-up", heel, "short-row").section("toe")
    cast_on = toe[0].made
    instep = toe[-1].live[len(cast_on) :]
    assert toe[0].written.resting == len(cast_on) == len(instep)
    assert [loop.parents for loop in instep] == [(stitch,) for stitch in reversed(cast_on)]


@pytest.mark.parametrize("toe", TOES)
@pytest.mark.parametrize("direction", DIRECTIONS)
def test_an_afterthought_heel_takes_up_both_edges_of_its_opening_and_a_stitch_in_each_corner(
    direction: str, toe: str
) -> None:
    knitted = sock(direction, "afterthought", toe)
    opening, heel = knitted.section("heel-opening")[0].written, knitted.section("heel")
    rested, over_it = opening.ops.count("rest"), opening.ops.count("co")
    assert rested == over_it
    assert len(heel[0].live) == rested + over_it + 2
    assert {worked.written.resting for worked in knitted.rounds} == {0, rested} | (
        {knitted.section("toe")[0].written.resting} if direction == "toe-up" else set()
    )


@pytest.mark.parametrize("direction", DIRECTIONS)
def test_both_sides_of_a_heel_flap_join_the_gusset_with_as_many_stitches(direction: str) -> None:
    ops = [worked.written.ops for worked in sock(direction, "flap", "wedge").rounds]
    if direction == "cuff-down":
        picked = [each.count("pu") for each in ops if "pu" in each]
        assert len(picked) == 2
        assert picked[0] == picked[1]
    else:
        flap = [worked.written.ops for worked in sock(direction, "flap", "wedge").section("heel-flap")]
        sides = [sum(each.count(together) for each in flap) for together in ("ssk", "p2tog")]
        increases = sum(each.count("m1l") for each in _gusset_ops(direction))
        assert sides == [increases, increases]


def _gusset_ops(direction: str) -> list[tuple[str, ...]]:
    return [worked.written.ops for worked in sock(direction, "flap", "wedge").section("gusset")]


@pytest.mark.parametrize("leg", [19, 21, 22, 23, 24, 25])
def test_beside_a_leg_of_another_width_the_sole_keeps_nearly_half_of_the_foot(leg: float) -> None:
    plan = planned(foot={"ball_circumference_cm": 20, "leg_circumference_cm": leg})
    instep = plan.sizes.leg_stitches - heel_stitches(plan.sizes.leg_stitches)
    sole = len(knit_plan(plan).section("gusset")[-1].live) - instep
    assert 0.44 <= sole / plan.sizes.foot_stitches <= 0.55


@pytest.mark.parametrize("off", [0.88, 1.13])
@pytest.mark.parametrize("toe", TOES)
def test_a_sock_whose_toe_is_barely_begun_can_be_worked_out_again(toe: str, off: float) -> None:
    plan = plan_of("toe-up", "short-row", toe)
    check = Check(stitches=(Spot(count=32 * off, over_cm=10),), rounds=(Spot(count=44 * off, over_cm=10),))
    for done in range(1, 8):
        for option in recalculate(plan, done, [check]).options:
            knit_plan(option.plan)
            assert option.plan.rounds()[: option.done] == plan.rounds()[: option.done]


@pytest.mark.parametrize("off", [0.88, 0.91, 0.94, 1.06, 1.13])
def test_a_wedge_begun_for_another_foot_becomes_as_long_as_a_toe(off: float) -> None:
    """Common practice: a toe is about a fifth of the foot. One that widens every second round keeps its rhythm."""
    plan = plan_of("toe-up", "short-row", "wedge")
    toe = plan.sections[0].rounds()
    slow = next(number for number, item in enumerate(toe) if item.kind == "plain")
    rounds_per_cm = 44 * off / 10
    check = Check(stitches=(Spot(count=32 * off, over_cm=10),), rounds=(Spot(count=44 * off, over_cm=10),))
    for done in range(2, len(toe)):
        new = next(option for option in recalculate(plan, done, [check]).options if option.key == "rest").plan
        # Its last round has as many increases as are missing: none is to be taken away again by the foot.
        assert new.sections[0].rounds()[-1].after == max(new.sizes.foot_stitches, toe[done - 1].after)
        long = new.sections[0].length_cm
        asked = plan.sections[0].length_cm
        assert abs(long - asked) <= (2.2 / rounds_per_cm if done <= slow else 1.01), (done, long)
        kinds = [item.kind for item in new.sections[0].rounds()[slow + 1 :]]
        assert done <= slow or "increase increase" not in " ".join(kinds)
        assert new.sizes.foot_length_cm == pytest.approx(plan.sizes.foot_length_cm, abs=1.01 / rounds_per_cm)


@given(requests())
def test_a_wedge_toe_from_the_toe_up_mirrors_the_one_from_the_cuff_down(data: dict[str, Any]) -> None:
    down, up = (
        plan_or_leave(
            data
            | {"construction": {"direction": direction, "heel": "short-row", "toe": "wedge"}}
            | {"leg": data["leg"] | {"until": "length"}}
        )
        for direction in DIRECTIONS
    )
    assume(not any("than asked" in warning for warning in down.warnings))
    narrowing = [item for section in down.sections if section.key == "toe" for item in section.rounds()]
    assume(all(item.kind != "decrease" or item.before - item.after == 4 for item in narrowing))
    widening = [item for section in up.sections if section.key == "toe" for item in section.rounds()]
    assert [item.before for item in reversed(narrowing)][1:] == [item.after for item in widening][1:]
    assert narrowing[-1].before == widening[0].after


@pytest.mark.parametrize("direction", DIRECTIONS)
def test_the_length_of_a_foot_whose_heel_is_to_come_is_measured_from_the_waste_yarn(direction: str) -> None:
    plan = plan_of(direction, "afterthought", "wedge")
    parts = {section.key: section for section in plan.sections}
    heel, opening, foot, toe = (parts[key].length_cm for key in ("heel", "heel-opening", "foot", "toe"))
    beyond = foot if direction == "toe-up" else opening + foot  # over waste yarn is knitted what goes on: leg or foot
    assert heel + beyond + toe == pytest.approx(plan.sizes.foot_length_cm, abs=0.03)
    note = parts["heel-opening"].rounds()[0].note or ""
    if direction == "toe-up":
        so_far = both_units(beyond + toe)
        assert note.endswith(f"lies {so_far} from the tip of the toe, and the heel will add {both_units(heel)}.")
    else:
        assert note.endswith(f"Measure the foot from the waste yarn: behind it the heel adds {both_units(heel)}.")
        begins = parts["toe"].rounds()[0].note or ""
        assert begins == f"The toe begins {both_units(beyond)} from the waste yarn; the heel is still to come."


@pytest.mark.parametrize("toe", TOES)
def test_a_toe_beside_a_heel_that_is_to_come_goes_on_as_it_was_begun(toe: str) -> None:
    """The heel's stitches that wait are no reason to calculate a toe again."""
    foot, gauge = {"ball_circumference_cm": 12.9, "length_cm": 11}, {"stitches_per_10cm": 20, "rounds_per_10cm": None}
    construction = {"heel": "afterthought", "toe": toe}
    ease = {"circumference_percent": 0, "length_cm": 0}
    plan = planned(foot=foot, gauge=gauge, construction=construction, ease=ease, cuff={"rib": "k1 p1"})
    for done in range(len(plan.rounds())):
        assert worked_out_again(plan, done).rounds() == plan.rounds()
