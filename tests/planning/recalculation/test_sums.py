"""The sums behind the numbers: what is said is multiplied out again."""

from __future__ import annotations

import re

import pytest

from companion.planning import Check, Plan, PlanRequest, make_plan, recalculate
from companion.planning.gauge.check import Spot
from companion.planning.gauge.observations import assumed
from companion.planning.recalculation.options import Option
from companion.planning.recalculation.recalculate import Recalculation
from companion.planning.recalculation.sums import ripped_sum, size_sums
from companion.planning.request.construction import Construction

DONE = 60


def planned(heel: str = "flap", direction: str = "cuff-down") -> Plan:
    asked = {
        "foot": {"ball_circumference_cm": 23, "length_cm": 25},
        "gauge": {"stitches_per_10cm": 30, "rounds_per_10cm": 42},
    }
    construction = Construction.model_validate({"heel": heel, "direction": direction})
    return make_plan(PlanRequest.model_validate(asked).model_copy(update={"construction": construction}))


def checked(plan: Plan) -> Recalculation:
    spots = {"stitches": (Spot(count=27, over_cm=10),) * 2, "rounds": (Spot(count=39, over_cm=10),) * 2}
    return recalculate(plan, DONE, [assumed(plan.request), Check(round=DONE, **spots)], seconds_per_stitch=2)


def centimetres(sentence: str) -> list[float]:
    return [float(number) for number in re.findall(r"([\d.]+) cm \(", sentence) if float(number) != 10]


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_counts_over_the_gauge_are_the_sizes(direction: str) -> None:
    plan = planned(direction=direction)
    found = checked(plan)
    assert len(found.options) >= 2
    for option in found.options:
        said = size_sums(option.plan, option.sizes, option.ranges)
        for sentence, size in [
            (said.leg, option.sizes.leg_cm),
            (said.foot, option.sizes.foot_circumference_cm),
            (said.length, option.sizes.foot_length_cm),
        ]:
            count, gauge = re.findall(r"^(\d+) .*? at ([\d.]+) over 10 cm", sentence)[0]
            assert int(count) / float(gauge) * 10 == pytest.approx(size, abs=0.06)
            shown, off, low, high, *asked = centimetres(sentence)
            assert shown == pytest.approx(size, abs=0.05)
            assert low == pytest.approx(shown - off, abs=0.11)
            assert high == pytest.approx(shown + off, abs=0.11)
            assert len(asked) == (3 if " of foot " in sentence else 2)


def test_the_way_round_a_flap_adds_up() -> None:
    plan = planned()
    found = checked(plan)
    rows, across, together, _ = centimetres(size_sums(plan, found.if_unchanged, found.ranges).heel)
    assert rows + across == pytest.approx(together, abs=0.11)


@pytest.mark.parametrize("heel", ["short-row", "short-row with gusset", "afterthought"])
def test_a_heel_without_a_flap_is_explained_by_its_slopes(heel: str) -> None:
    plan = planned(heel)
    found = checked(plan)
    assert "slopes" in size_sums(plan, found.if_unchanged, found.ranges).heel


def ripping(found: Recalculation) -> Option:
    return next(option for option in found.options if option.rounds_ripped)


def test_ripping_is_priced_in_rounds_stitches_and_time() -> None:
    plan = planned()
    option = ripping(checked(plan))
    said = ripped_sum(plan, DONE, option)
    assert f"are {option.rounds_ripped} rounds of" in said
    assert f"{option.stitches_ripped:,} times 2.0 seconds" in said
    assert "30 stitches a minute" in said


def test_without_a_pace_none_is_made_up() -> None:
    plan = planned()
    option = ripping(checked(plan)).model_copy(update={"seconds": None})
    assert "minute" not in ripped_sum(plan, DONE, option)


def test_leg_and_foot_of_one_gauge_are_said_to_be_as_sure() -> None:
    """Both are so many stitches of the same fabric, so both may be off by the same part."""
    plan = planned()
    for tenths in range(250, 300, 3):
        check = Check(round=DONE, stitches=(Spot(count=tenths / 10, over_cm=10),) * 3)
        for option in recalculate(plan, DONE, [assumed(plan.request), check]).options:
            said = size_sums(option.plan, option.sizes, option.ranges)
            leg, foot = (re.findall(r"may well be ([\d.]+) %", words)[0] for words in (said.leg, said.foot))
            assert leg == foot
