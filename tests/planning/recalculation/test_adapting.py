"""In every section of every construction the rest is calculated from the real place, and comes nearer to the foot."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

import pytest

from companion.planning import Check, Plan, recalculate
from companion.planning.fit.targets import Fit, fit_of
from companion.planning.gauge.check import Spot
from companion.planning.gauge.observations import assumed
from companion.planning.plan.document import Sizes
from companion.planning.plan.rounds import zone_stitches
from companion.planning.recalculation.options import Option
from companion.planning.recalculation.recalculate import Recalculation
from companion.planning.recalculation.ways.sock_in_progress import section_at
from companion.planning.units import both_units
from tests.planning.asking import knit_plan, planned, worked_out_again
from tests.planning.requests import DIRECTIONS, HEELS_AND_TOES, each_with, names

OFF = (0.92, 1.08)
"""A gauge that is off by 8 % either way, in stitches and rounds."""

STITCHES, ROUNDS = 32, 44

DEEP_HEELS = ("flap", "short-row with gusset")
"""Heels that are made as deep as the foot asks for."""


@cache
def plan_of(**construction: str) -> Plan:
    return planned(construction=construction)


def counted(off: float) -> Check:
    """A check over so much fabric that hardly any error is left."""
    spots = [(Spot(count=each * off * 2, over_cm=20),) * 8 for each in (STITCHES, ROUNDS)]
    return Check(stitches=spots[0], rounds=spots[1])


def checked(plan: Plan, done: int, off: float) -> Recalculation:
    return recalculate(plan, done, [assumed(plan.request), counted(off)])


def places(plan: Plan) -> Iterator[int]:
    """A place in the middle of each section; other toes than the wedge are looked at from the end of the foot on."""
    begun = 0
    keys = [section.key for section in plan.sections]
    for key, section in zip(keys, plan.sections, strict=True):
        count = len(section.rounds())
        if plan.request.construction.toe == "wedge" or key == "toe":
            yield begun + max(1, count // 2)
        begun += count


def sizes(found: Sizes, fit: Fit, heel: str) -> dict[str, tuple[float, float, float]]:
    """Each size of a sock, the one asked for, and what a whole number of stitches or rounds may be off by."""
    stitch, height = fit.fabric.width(1), fit.fabric.height(1)
    asked = {
        "leg": (found.leg_cm, fit.leg_target, 2 * stitch),
        "foot": (found.foot_circumference_cm, fit.foot_target, stitch),
        "length": (found.foot_length_cm, fit.length_target, height),
    }
    # A flap has pairs of rows on both sides of the heel.
    return asked | ({"heel": (found.heel_pass_cm, fit.body.heel_diagonal, 4 * height)} if heel in DEEP_HEELS else {})


def misfit(all_sizes: dict[str, tuple[float, float, float]]) -> float:
    return sum(abs(size / asked - 1) for size, asked, _ in all_sizes.values())


@pytest.mark.parametrize(("construction", "off"), each_with(OFF))
def test_the_rest_comes_nearer_to_the_foot_from_every_section_or_says_what_it_is_too_late_for(
    construction: dict[str, str], off: float
) -> None:
    plan = plan_of(**construction)
    for done in places(plan):
        found = checked(plan, done, off)
        where = section_at(plan, done)
        for option in found.options:
            assert option.plan.rounds()[: option.done] == plan.rounds()[: option.done]
            if option.key not in ("leave", "needle"):
                _comes_nearer(found.if_unchanged, option, where)
        best = found.recommended
        knit_plan(best.plan)
        if best.key == "leave":
            assert "too little to be worth a change" in found.why, where


def _comes_nearer(unchanged: Sizes, option: Option, where: str) -> None:
    """No size gets worse; one that stays off is told with the size that it gets."""
    fit, heel = fit_of(option.plan.request), option.plan.request.construction.heel
    before, after = (sizes(each, fit, heel) for each in (unchanged, option.sizes))
    assert misfit(after) <= misfit(before) + 1e-9, (where, option.key)
    for name, (size, asked, least) in after.items():
        was = before[name][0]
        assert abs(size - asked) <= max(abs(was - asked), least) + 0.01, (where, option.key, name)
        if abs(size - asked) > max(least, TOLD[name] * asked):
            assert both_units(size) in option.why, (where, option.key, name, option.why)


TOLD: dict[str, float] = {"leg": 0.05, "foot": 0.015, "length": 0.021, "heel": 0.05}
"""Parts by which a size may be off before it has to be told."""


@pytest.mark.parametrize("construction", HEELS_AND_TOES, ids=names)
def test_two_recalculations_in_a_row_are_one_with_all_the_evidence(construction: dict[str, str]) -> None:
    plan = plan_of(**construction)
    told, first, second = assumed(plan.request), counted(0.94), counted(0.90)
    for done in places(plan):
        then = _worked_out_again(recalculate(plan, done, [told, first]))
        if then is None:
            continue
        again = _worked_out_again(recalculate(then, done, [told, first, second]))
        at_once = _worked_out_again(recalculate(plan, done, [told, first, second]))
        assert at_once
        assert (again or then).rounds() == at_once.rounds(), section_at(plan, done)


def _worked_out_again(found: Recalculation) -> Plan | None:
    return next((option.plan for option in found.options if option.key == "rest"), None)


@cache
def charted(direction: str, width: int, rows: int, foot: str = "plain") -> Plan:
    chart = {"width": width, "rows": (["A" * (width - 2) + "BB", "B" + "A" * (width - 1)] * rows)[:rows]}
    return planned(
        construction={"direction": direction, "heel": "flap", "toe": "wedge"},
        leg={"length_cm": 16, "chart": chart},
        foot_pattern=foot,
        yarns=[{"key": "A"}, {"key": "B"}],
    )


def in_section(plan: Plan, key: str, rounds: int) -> int:
    keys = [section.key for section in plan.sections]
    return sum(len(section.rounds()) for section in plan.sections[: keys.index(key)]) + rounds


def breaks_after(plan: Plan, done: int) -> tuple[int, int | None]:
    """How many rounds on the count changes, and the chart row before it."""
    rounds = plan.rounds()
    at = next(number for number in range(done, len(rounds)) if rounds[number].before != rounds[number].after)
    return at - done, rounds[at - 1].chart_row


@pytest.mark.parametrize("off", OFF)
@pytest.mark.parametrize("direction", DIRECTIONS)
def test_with_a_chart_running_the_leg_changes_where_its_rows_end_and_by_whole_repeats(
    direction: str, off: float
) -> None:
    plan = charted(direction, 4, 6)
    done = in_section(plan, "leg", 20)
    [here] = [option for option in checked(plan, done, off).options if option.key == "here"]
    later, row = breaks_after(here.plan, done)
    assert row == 6
    assert f"It comes {later} rounds on, where the rows of the chart are finished." in here.why
    assert here.plan.sizes.leg_stitches % 4 == 0
    assert "centre back" not in here.why
    knit_plan(here.plan)
    after = [item.chart_row for item in here.plan.rounds()[done + later + 1 :] if item.chart_row]
    assert after[:7] == [1, 2, 3, 4, 5, 6, 1]


def test_where_the_rows_of_the_chart_have_just_ended_the_leg_changes_at_once() -> None:
    plan = charted("cuff-down", 4, 6)
    done = in_section(plan, "leg", 18)
    [here] = [option for option in checked(plan, done, 0.9).options if option.key == "here"]
    assert breaks_after(here.plan, done) == (0, 6)
    assert "chart" not in here.why
    knit_plan(here.plan)


def test_a_leg_that_no_whole_repeats_suit_says_where_the_chart_breaks() -> None:
    plan = charted("cuff-down", 22, 6)
    done = in_section(plan, "leg", 20)
    [here] = [option for option in checked(plan, done, 1.08).options if option.key == "here"]
    assert here.plan.sizes.leg_stitches % 22
    assert "breaks at the centre back" in here.why
    knit_plan(here.plan)


def test_a_leg_without_room_to_finish_its_chart_keeps_its_stitches_and_says_so() -> None:
    plan = charted("cuff-down", 4, 80)
    done = in_section(plan, "leg", 20)
    options = {option.key: option for option in checked(plan, done, 0.92).options}
    assert "here" not in options
    assert "64 were wanted: too few rounds are left to finish the rows of the chart before." in options["rest"].why
    assert options["rest"].plan.sizes.leg_stitches == plan.sizes.leg_stitches


@pytest.mark.parametrize("direction", DIRECTIONS)
def test_a_chart_that_goes_on_along_the_foot_is_not_broken_where_the_sole_can_take_the_change(direction: str) -> None:
    plan = charted(direction, 4, 7, "instep follows the leg")
    done = in_section(plan, "foot", 17)
    [here] = [option for option in checked(plan, done, 1.05).options if option.key == "here"]
    later, row = breaks_after(here.plan, done)
    assert later == 0
    changed = here.plan.rounds()[done]
    assert zone_stitches(changed, "instep") == zone_stitches(plan.rounds()[done], "instep")
    assert "chart" not in here.why
    knit_plan(here.plan)
    assert changed.chart_row == (row or 0) + 1


@pytest.mark.parametrize("direction", DIRECTIONS)
def test_a_chart_that_goes_on_along_the_foot_is_finished_before_its_instep_changes(direction: str) -> None:
    plan = charted(direction, 4, 7, "instep follows the leg")
    done = in_section(plan, "foot", 17)
    [here] = [option for option in checked(plan, done, 1.15).options if option.key == "here"]
    later, row = breaks_after(here.plan, done)
    assert later
    assert row == 7
    assert "the rows of the chart are finished" in here.why
    knit_plan(here.plan)
    assert [item.chart_row for item in here.plan.rounds()[done + later + 1 :]][:3] == [1, 2, 3]


def test_a_patterned_foot_that_narrows_in_steps_is_the_same_from_every_round_between_them() -> None:
    plan = planned(
        foot={"ball_circumference_cm": 32, "length_cm": 32.9, "ankle_circumference_cm": 32, "heel_diagonal_cm": 48},
        gauge={"stitches_per_10cm": 18.6, "rounds_per_10cm": None},
        ease={"circumference_percent": 3.9, "length_cm": 0},
        cuff={"rib": "k1 p1"},
        construction={"heel": "afterthought"},
        leg={"length_cm": 21.4, "stitch_pattern": {"rows": ["2/2 RC, 2/2 LC, k6", "k14", "k14", "k14"]}},
        foot_pattern="instep follows the leg",
    )
    foot = plan.span("foot")
    begin = plan.rounds()[foot.start : foot.start + 8]
    assert [item.before - item.after for item in begin] == [6, 0, 0, 0, 0, 0, 4, 0]
    assert [item.chart_row for item in begin] == [3, 4, 1, 2, 3, 4, None, 1], "the instep changes between two repeats"
    for done in range(foot.start, foot.start + 9):
        assert worked_out_again(plan, done).rounds() == plan.rounds()


@pytest.mark.parametrize("direction", DIRECTIONS)
@pytest.mark.parametrize("off", [0.9, 0.98, 1.02, 1.1])
def test_a_shaped_leg_is_gone_on_with_from_the_stitches_that_it_has(direction: str, off: float) -> None:
    foot = {"ball_circumference_cm": 21, "length_cm": 18, "ankle_circumference_cm": 18, "leg_circumference_cm": 31}
    plan = planned(foot=foot, construction={"direction": direction}, leg={"length_cm": 2})
    leg = plan.span("leg")
    for done in range(leg.start + 1, leg.stop + 1, 3):
        for option in recalculate(plan, done, [assumed(plan.request), counted(off)]).options:
            assert option.plan.rounds()[: option.done] == plan.rounds()[: option.done]
            knit_plan(option.plan)


@pytest.mark.parametrize("key", ["heel-turn", "heel-flap"])
def test_a_new_heel_from_the_toe_up_leaves_the_foot_below_it_the_stitches_that_it_has(key: str) -> None:
    plan = plan_of(direction="toe-up", heel="flap", toe="wedge")
    stitches_alone = counted(0.9).model_copy(update={"rounds": ()})
    done = in_section(plan, key, 8)
    [rip] = [one for one in recalculate(plan, done, [stitches_alone]).options if one.key == "rip"]
    assert rip.done == plan.span("foot").stop
    foot = plan.sizes.foot_stitches
    assert {item.after for item in rip.plan.sections[1].rounds()} == {foot}
    assert rip.sizes.foot_stitches == foot
    assert f"The foot stays on {foot} stitches, {both_units(rip.sizes.foot_circumference_cm)}" in rip.why
    knit_plan(rip.plan)
