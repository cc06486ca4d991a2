"""What a try-on changes of the rounds still ahead."""

from __future__ import annotations

from typing import get_args

import pytest

from companion.planning import Plan
from companion.planning.gauge.estimate import Gauges, gauges_of
from companion.planning.gauge.observations import assumed
from companion.planning.recalculation.try_on import Feels, Felt, TriedOn, Where, after_try_on
from tests.conftest import fully
from tests.planning.asking import knit_plan, planned, section
from tests.planning.recalculation.test_adapting import in_section, places
from tests.planning.requests import HEELS_AND_TOES, names

FEELS: tuple[Feels, ...] = ("tight", "loose")


def gauges(plan: Plan) -> Gauges:
    return gauges_of([assumed(plan.request)])


def tried(plan: Plan, done: int, where: Where, feels: Feels) -> TriedOn:
    return after_try_on(plan, done, Felt(where=where, feels=feels), gauges(plan))


def made(direction: str = "cuff-down", heel: str = "flap") -> Plan:
    return planned(construction={"direction": direction, "heel": heel, "toe": "wedge"})


@pytest.mark.parametrize("construction", HEELS_AND_TOES, ids=names)
def test_every_way_can_be_knitted_keeps_what_is_knitted_and_goes_the_right_way(construction: dict[str, str]) -> None:
    plan = planned(construction=construction)
    for number, done in enumerate(places(plan)):
        for at, where in enumerate(get_args(Where)):
            for feels in FEELS if fully() else FEELS[(number + at) % 2 :][:1]:
                found = tried(plan, done, where, feels)
                assert found.said
                for option in found.options[:-1]:
                    assert option.plan.rounds()[:done] == plan.rounds()[:done]
                    assert (option.done, option.rounds_ripped) == (done, 0)
                    assert option.changes
                    if option.recommended:
                        knit_plan(option.plan)
                    assert _grows(plan, option.plan, where) == (feels == "tight"), (done, where, feels, option.title)
                assert [option.key for option in found.options[-1:]] in ([], ["leave"])
                assert sum(option.recommended for option in found.options) == bool(found.options)


def _grows(before: Plan, after: Plan, where: Where) -> bool:
    sizes = [
        (each.leg_cm, each.foot_circumference_cm, each.heel_pass_cm, each.foot_length_cm)
        for each in (before.sizes, after.sizes)
    ]
    at = {"leg": (0,), "foot": (1,), "heel": (2,), "instep": (2, 1), "toe": (3,)}[where]
    differs = [(sizes[0][size], sizes[1][size]) for size in at if sizes[0][size] != sizes[1][size]]
    assert differs, where
    return differs[0][1] > differs[0][0]


def test_a_tight_foot_gets_one_pair_more_where_the_gusset_ends() -> None:
    plan = made()
    found = tried(plan, in_section(plan, "gusset", 5), "foot", "tight")
    first = found.options[0]
    assert first.recommended
    assert "The gusset ends earlier." in first.why
    # One pair of shaping, or two.
    more = [option.plan.sizes.foot_stitches - plan.sizes.foot_stitches for option in found.options]
    assert more == [2, 4, 0]
    assert len(section(first.plan, "gusset").rounds()) == len(section(plan, "gusset").rounds()) - 2


def test_a_tight_instep_gets_more_rows_in_its_flap_while_that_is_knitted() -> None:
    plan = made()
    found = tried(plan, in_section(plan, "heel-flap", 10), "instep", "tight")
    # 1 cm more round the heel is half a cm more on each edge of the flap: 0.5 x 4.4 = 2.2 rows, so a pair.
    assert len(section(found.options[0].plan, "heel-flap").rounds()) == len(section(plan, "heel-flap").rounds()) + 2


def test_a_tight_toe_makes_the_foot_half_a_centimetre_longer() -> None:
    plan = made()
    option = tried(plan, in_section(plan, "foot", 20), "toe", "tight").options[0]
    # 0.5 cm at 4.4 rounds to the cm.
    assert len(option.plan.rounds()) - len(plan.rounds()) == 2
    assert option.plan.request.ease.length_cm == 0.5


@pytest.mark.parametrize(
    ("where", "part", "says"),
    [
        ("leg", "heel-flap", "It is too late for the leg"),
        ("foot", "toe", "It is too late for the foot"),
        ("heel", "foot", "It is too late for the heel"),
        ("cuff", "leg", "The cast-on holds it"),
    ],
)
def test_what_is_knitted_stays_and_it_says_so(where: Where, part: str, says: str) -> None:
    plan = made()
    found = tried(plan, in_section(plan, part, 6), where, "tight")
    assert found.options == ()
    assert says in found.said


def test_a_heel_without_depth_says_which_have_one() -> None:
    plan = made("toe-up", "short-row")
    assert "a heel flap" in tried(plan, in_section(plan, "foot", 5), "heel", "tight").said


def test_a_cuff_from_the_toe_up_is_bound_off_loosely() -> None:
    plan = made("toe-up")
    assert "Bind off loosely" in tried(plan, in_section(plan, "cuff", 5), "cuff", "tight").said


def test_what_is_right_changes_nothing() -> None:
    found = tried(made(), 40, "foot", "right")
    assert (found.options, found.said) == ((), "Right at the foot: nothing has to change.")


def test_a_chart_keeps_its_repeat_in_a_wider_leg() -> None:
    chart = {"width": 4, "rows": ["AABB", "ABBA"]}
    plan = planned(leg={"length_cm": 16, "chart": chart}, yarns=[{"key": "A"}, {"key": "B"}])
    option = tried(plan, in_section(plan, "leg", 10), "leg", "tight").options[0]
    assert option.plan.sizes.leg_stitches == plan.sizes.leg_stitches + 4
