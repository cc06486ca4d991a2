"""Two feet measured apart: each sock is planned for its own, and the yarn is for both."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.planning import Plan, make_plan, read_plan, read_request
from companion.planning.gauge.estimate import gauges_of
from companion.planning.gauge.observations import assumed
from companion.planning.gauge.parts import Fabrics
from companion.planning.pattern.pattern import Size, pattern_of
from companion.planning.pattern.render import as_text
from companion.planning.recalculation.changed_request import change_the_other
from companion.planning.recalculation.second_sock_options import differences, matches_for
from tests.planning.asking import WHOLE_PLANS, asked, knit_plan, plan_or_leave, planned, request_data, section
from tests.planning.recalculation.test_adapting import checked, in_section
from tests.planning.requests import HEELS_AND_TOES, names, requests

WIDER = {"ball_circumference_cm": 25, "length_cm": 26}


def for_the_other(plan: Plan) -> Plan:
    """The plan of the other sock."""
    return make_plan(plan.request.for_the_other_foot())


@pytest.mark.parametrize("construction", HEELS_AND_TOES, ids=names)
def test_each_sock_is_the_one_that_its_foot_alone_would_have(construction: dict[str, str]) -> None:
    one = planned(construction=construction, other_foot=WIDER)
    two = for_the_other(one)
    knit_plan(two)
    mirrored = construction | {"toe": two.request.construction.toe}
    assert one.rounds() == planned(construction=construction).rounds()
    assert two.rounds() == planned(construction=mirrored, foot=WIDER).rounds()
    assert two.sizes.foot_length_cm - one.sizes.foot_length_cm == pytest.approx(1, abs=0.3)


def test_only_what_differs_is_said_of_the_other_foot_and_each_foot_is_the_others_other() -> None:
    request = asked(
        foot={"ball_circumference_cm": 23, "heel_diagonal_cm": 33}, other_foot={"ball_circumference_cm": 24}
    )
    other = request.for_the_other_foot()
    assert (other.foot.ball_circumference_cm, other.foot.length_cm, other.foot.heel_diagonal_cm) == (24, 25, 33)
    assert other.model_dump(mode="json")["other_foot"] == {"ball_circumference_cm": 23}
    assert other.for_the_other_foot() == request
    assert "other_foot" not in asked().model_dump(mode="json")


def test_what_was_measured_on_one_foot_alone_is_estimated_on_the_other() -> None:
    request = asked(other_foot={"heel_diagonal_cm": 34})
    assert make_plan(request.for_the_other_foot()).request.foot.heel_diagonal_cm == 34
    assert request.for_the_other_foot().for_the_other_foot().foot.heel_diagonal_cm is None


def test_a_guess_from_a_shoe_is_not_a_guess_of_the_other_foot() -> None:
    shoe = {"shoe_size": {"system": "EU", "size": 38}}
    assert asked(foot=shoe, other_foot=WIDER).for_the_other_foot().foot.shoe_size is None
    assert asked(foot=shoe).for_the_other_foot() == asked(foot=shoe)


def test_the_pair_takes_what_both_socks_take_added_by_hand() -> None:
    one = planned(other_foot=WIDER, reinforcing_thread={"heel": True})
    two = for_the_other(one)
    metres = sum(plan.yarn[0].metres_a_sock for plan in (one, two))
    for plan in (one, two):
        assert plan.yarn[0].grams_a_pair == pytest.approx(metres * 1.1 / 4.2, abs=0.1)  # 420 m in 100 g
        assert plan.reinforcing_thread is not None
        assert plan.reinforcing_thread.metres_a_pair == pytest.approx(27.6, abs=2)
    assert two.yarn[0].metres_a_sock > one.yarn[0].metres_a_sock


def test_what_differs_is_told_and_both_socks_stand_on_one_page() -> None:
    one = planned(other_foot=WIDER)
    two = for_the_other(one)
    told = {change.what: (change.before, change.after) for change in differences(one, one.sizes, two, two.sizes)}
    assert told["Foot stitches"] == (str(one.sizes.foot_stitches), str(two.sizes.foot_stitches))
    text = as_text(pattern_of([Size("sock 1", one), Size("sock 2", two)], "cm"))
    assert f"{one.sizes.foot_stitches} ({two.sizes.foot_stitches})" in text
    assert "Knit the other sock by its own numbers, for the other foot" in text
    assert "in the same way" not in text


def test_after_a_change_of_sock_one_sock_two_is_offered_for_its_own_foot_only() -> None:
    one = planned(other_foot=WIDER)
    found = checked(one, in_section(one, "leg", 20), 0.9)
    changed = next(option.plan for option in found.options if option.key == "here")
    gauges = gauges_of([assumed(changed.request)])
    ways = {way.key: way for way in matches_for(one, changed, Fabrics(ahead=gauges, leg=gauges, foot=gauges))}
    assert ways.keys() == {"measured", "planned"}
    for way in ways.values():
        assert way.plan.request.foot.length_cm == 26
        assert way.plan.request.other_foot.length_cm == 25
    assert ways["planned"].plan.rounds() == for_the_other(one).rounds()
    assert ways["measured"].sizes.foot_circumference_cm == pytest.approx(25 * 0.9, abs=0.7)


def test_a_changed_request_reaches_the_other_sock_as_far_as_it_is_not_knitted() -> None:
    one = planned(other_foot=WIDER)
    two, wanted = (
        for_the_other(one),
        asked(other_foot=WIDER, leg={"length_cm": 18}, cuff={"rib": "k1 p1", "length_cm": 4}),
    )
    assert change_the_other(two, 0, wanted).request.cuff.rib == "k1 p1"
    begun = change_the_other(two, 10, wanted)
    assert begun.request.cuff.rib == "k2 p2"
    assert begun.rounds()[:10] == two.rounds()[:10]
    assert section(begun, "leg").length_cm == pytest.approx(18, abs=0.2)
    alike = change_the_other(two, 0, asked())
    assert alike.rounds() == one.rounds()


@pytest.mark.parametrize(
    ("other", "where"),
    [({"length_cm": 5}, "other_foot.length_cm"), ({"shoe_size": 4}, "other_foot.shoe_size")],
)
def test_a_foot_that_nobody_has_is_refused_at_its_entry(other: dict[str, Any], where: str) -> None:
    request, faults = read_request(request_data(other_foot=other))
    assert request is None
    assert [fault.where for fault in faults] == [where]


@WHOLE_PLANS
@given(requests(), st.integers(-6, 6), st.integers(-6, 6))
def test_both_socks_of_any_request_can_be_knitted_and_agree_on_the_yarn(
    data: dict[str, Any], wider: int, longer: int
) -> None:
    foot = data["foot"]
    other = {
        "ball_circumference_cm": round(foot["ball_circumference_cm"] + wider / 10, 1),
        "length_cm": round(foot["length_cm"] + longer / 10, 1),
    }
    one = plan_or_leave(data | {"other_foot": other})
    two = plan_or_leave(one.request.for_the_other_foot().model_dump(mode="json"))
    knit_plan(two)
    assert read_plan(two.model_dump(mode="json")) == (two, [])
    if not (data["leg"]["chart"] or {}).get("swap"):
        assert [need.grams_a_pair for need in one.yarn] == [need.grams_a_pair for need in two.yarn]
