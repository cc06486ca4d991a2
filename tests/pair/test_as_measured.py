"""A leg that was checked at 30 and a foot at 28: each keeps its own, for sock two, in sizes and on the tape."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from companion.pair.as_measured import plan_as_measured, rounds_measured
from companion.pair.changing.second_sock import second_sock_options
from companion.pair.evidence import evidence_of
from companion.pair.logbook import Entry, ends
from companion.pair.revisions import Revision
from companion.pair.state import PairState
from companion.planning import PlanRequest, make_plan, recalculate
from companion.planning.fit.targets import fit_of

from ..conftest import made
from .states import state_of

LEG, FOOT, RATIO = 30, 28, 1.4


@pytest.fixture
def pair(request_data: dict[str, Any]) -> PairState:
    """A change was accepted in the foot, where a looser fabric had been counted twice."""
    data = {**request_data, "gauge": {"stitches_per_10cm": LEG, "rounds_per_10cm": LEG * RATIO, "basis": "swatch"}}
    plan = make_plan(PlanRequest.model_validate(data))
    leg, foot = plan.span("leg"), plan.span("foot")
    entries = [made(1, kind="go", round=leg.stop), counted(2, LEG, leg.stop), made(3, kind="go", round=foot.start + 20)]
    entries += [counted(number, FOOT, foot.start + 20) for number in (4, 5)]
    before = state_of(data, entries)
    found = recalculate(plan, foot.start + 20, evidence_of(before))
    assert found.verdict == "change"
    going_on = next(option for option in found.options if option.done == foot.start + 20 and option.key != "leave")
    change = Revision(2, 1, going_on.done, 0, "", going_on.plan.model_dump_json())
    return replace(before, revisions=[*before.revisions, change], ends=ends(entries))


def counted(number: int, stitches: float, done: int) -> Entry:
    spots = {
        "stitches": [{"count": stitches, "over_cm": 10}] * 3,
        "rounds": [{"count": stitches * RATIO, "over_cm": 10}] * 3,
    }
    return made(number, kind="check", round=done, data=spots)


def test_a_finished_part_stays_as_long_as_it_was_measured(pair: PairState) -> None:
    """16 cm of leg at 42 rounds over 10 cm; at the foot's gauge they would be 17.1."""
    planned = pair.plan_of(pair.revisions[0])
    leg = next(section for section in planned.sections if section.key == "leg")
    assert rounds_measured(pair, 1)["leg"] == pytest.approx(LEG * RATIO, rel=0.005)
    assert "foot" not in rounds_measured(pair, 1)
    shown = next(section for section in plan_as_measured(pair, 1).sections if section.key == "leg")
    assert shown.length_cm == pytest.approx(leg.length_cm, rel=0.006)
    assert next(one for one in pair.plan(1).sections if one.key == "leg").length_cm > 1.04 * leg.length_cm


def test_a_finished_leg_stays_as_wide_as_it_was_measured(pair: PairState) -> None:
    """By hand: stitches over their own gauge."""
    shown = plan_as_measured(pair, 1).sizes
    assert shown.leg_cm == pytest.approx(shown.leg_stitches * 10 / LEG, rel=0.005)
    assert shown.foot_circumference_cm == pytest.approx(shown.foot_stitches * 10 / FOOT, rel=0.01)


def test_before_any_change_the_plan_is_shown_as_it_is(request_data: dict[str, Any]) -> None:
    before = state_of(request_data, [made(1, kind="go", round=60), counted(2, 29, 60)])
    assert rounds_measured(before, 1) == {}
    assert plan_as_measured(before, 1) is before.plan(1)


def test_sock_two_gets_leg_and_foot_of_their_own_fabrics(pair: PairState) -> None:
    found = {match.key: match for match in second_sock_options(pair)}
    for match in found.values():
        sizes = match.sizes
        assert sizes.leg_cm == pytest.approx(sizes.leg_stitches * 10 / LEG, rel=0.006)
        assert sizes.foot_circumference_cm == pytest.approx(sizes.foot_stitches * 10 / FOOT, rel=0.03)
    best = found["measured"].sizes
    assert best.leg_stitches > best.foot_stitches
    wanted = fit_of(pair.plan(1).request)
    assert best.leg_cm == pytest.approx(wanted.leg_target, abs=0.7)  # half a repeat of the ribbing
    assert best.foot_circumference_cm == pytest.approx(wanted.foot_target, abs=0.4)
    assert best.foot_length_cm == pytest.approx(wanted.length_target, abs=0.25)
