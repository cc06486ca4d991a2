"""What a gauge check changes, and what it leaves alone."""

from __future__ import annotations

from typing import Any

import pytest

from companion.planning import CannotKnitError, Plan, make_plan, read_check, read_request, recalculate
from companion.planning.gauge.observations import Evidence
from companion.planning.recalculation.options import Option
from companion.planning.recalculation.recalculate import Recalculation
from companion.planning.recalculation.sums import size_sums
from companion.planning.recalculation.ways.sock_in_progress import section_at


def a_plan(**changes: Any) -> Plan:
    """A woman's sock: 64 stitches in leg and foot, 220 rounds."""
    data = {
        "foot": {"ball_circumference_cm": 22.8, "length_cm": 24.6},
        "gauge": {"stitches_per_10cm": 32, "rounds_per_10cm": 44},
    }
    request, faults = read_request(data | changes)
    assert request, faults
    return make_plan(request)


def counted(
    stitches: float | None = None, rounds: float | None = None, spots: int = 4, over: float = 20
) -> list[Evidence]:
    """A check over so much fabric that little is left of its error: spots of 20 cm, each with the same count."""
    check, faults = read_check(
        {
            "stitches": [{"count": stitches * over / 10, "over_cm": over}] * spots if stitches else [],
            "rounds": [{"count": rounds * over / 10, "over_cm": over}] * spots if rounds else [],
        }
    )
    assert check, faults
    return [check]


def place_in(plan: Plan, key: str, rounds: int = 1) -> int:
    """The number of rounds done when so many of a section are."""
    before = 0
    for section in plan.sections:
        if section.key == key:
            return before + rounds
        before += len(section.rounds())
    raise AssertionError(key)


def option(found: Recalculation, key: str) -> Option:
    return next(item for item in found.options if item.key == key)


def section_rounds(plan: Plan, key: str) -> int:
    return next(len(section.rounds()) for section in plan.sections if section.key == key)


def test_the_gauge_of_the_plan_changes_nothing_anywhere() -> None:
    plan = a_plan()
    for done in range(len(plan.rounds()) + 1):
        found = recalculate(plan, done, counted(32, 44))
        assert found.verdict == "nothing to change"
        assert [item.key for item in found.options] == ["leave"]
        assert found.recommended.plan is plan


def test_a_difference_within_counting_changes_nothing() -> None:
    plan = a_plan()
    found = recalculate(plan, 40, counted(32.2, 44))
    assert found.verdict == "nothing to change"
    assert found.sure.startswith("You can be fairly sure of it: stitches lie between ")
    assert recalculate(plan, 40, counted(32, 44)).sure.startswith("You can be sure of it: stitches lie between ")
    assert recalculate(plan, 40, counted(33, 44)).verdict == "change"


def test_what_may_be_off_is_counted_over_more_fabric_before_anything_is_changed() -> None:
    plan = a_plan()
    found = recalculate(plan, 40, counted(29, 44, spots=1, over=10))
    assert found.verdict == "measure again"
    assert found.recommended.key == "leave"
    assert found.measure
    assert (found.measure.stitch_spots, found.measure.round_spots, found.measure.after_round) == (3, 3, None)
    assert found.measure.ask in found.why
    # 64 stitches at 3.2 a cm are 10 cm across when flat; the leg of 40 rounds is just under 5 cm high.
    assert (found.measure.stitches_over_cm, found.measure.rounds_over_cm) == (9, 4)
    settled = recalculate(plan, 40, counted(29, 44, spots=1 + found.measure.stitch_spots, over=10))
    assert settled.verdict == "change"
    assert settled.measure is None


def test_where_there_is_too_little_fabric_the_count_waits_for_four_centimetres() -> None:
    plan = a_plan()
    found = recalculate(plan, place_in(plan, "leg", 5), counted(28, 40, spots=1, over=5))
    assert found.measure
    # Four centimetres at 4.4 rounds a cm are 17.6 rounds.
    assert found.measure.after_round == place_in(plan, "leg", 18)
    assert "knit on to round" in found.why


@pytest.mark.parametrize(("stitches", "rounds"), [(32.8, 44), (32, 44.3)])
def test_a_change_that_nobody_would_feel_is_not_advised(stitches: float, rounds: float) -> None:
    """2.5 % more stitches leave 66 for 64, of which the rib allows none; 0.7 % more rounds are under 2 mm."""
    plan = a_plan()
    for done in range(1, plan.count, 3):
        found = recalculate(plan, done, counted(stitches, rounds, spots=20, over=40))
        if found.verdict == "change":
            best, stays = found.recommended.sizes, found.if_unchanged
            moved = abs(best.foot_circumference_cm / stays.foot_circumference_cm - 1)
            assert moved >= 0.012 or abs(best.foot_length_cm - stays.foot_length_cm) >= 0.2


def test_spots_that_contradict_each_other_are_counted_again_before_they_are_believed() -> None:
    plan = a_plan()
    spots = [{"count": count, "over_cm": 10} for count in (28, 36, 32)]
    check, _ = read_check({"stitches": spots, "round": 40})
    assert check
    found = recalculate(plan, 40, [check])
    assert found.gauges.stitches.uneven
    assert found.verdict == "measure again"
    assert "differ from one another by more than even knitting does" in found.why
    # The fabric of a practised knitter, to half a stitch in 10 cm.
    even, _ = read_check({"stitches": [{"count": count, "over_cm": 10} for count in (31.5, 32.5, 32)]})
    assert even
    assert not recalculate(plan, 40, [even]).gauges.stitches.uneven


def test_in_the_foot_the_rest_is_calculated_again_and_at_the_cuff_nothing_is_left_to_change() -> None:
    plan = a_plan(construction={"direction": "toe-up"})
    assert recalculate(plan, place_in(plan, "foot", 30), counted(rounds=42)).recommended.key == "rest"
    assert recalculate(plan, place_in(plan, "cuff", 5), counted(rounds=43)).verdict == "nothing to change"


def test_a_leg_a_little_off_keeps_its_stitches_and_the_gusset_makes_the_foot_right() -> None:
    plan = a_plan()
    found = recalculate(plan, place_in(plan, "leg", 30), counted(30, 42))
    assert found.recommended.key == "rest"
    assert found.recommended.plan.sizes.leg_stitches == 64
    # 22.8 cm less 10 % at 3 stitches a cm: 61.6, so 62.
    assert found.recommended.plan.sizes.foot_stitches == 62
    assert found.if_unchanged.foot_circumference_cm == pytest.approx(64 / 3, abs=0.01)
    assert found.recommended.sizes.foot_circumference_cm == pytest.approx(62 / 3, abs=0.01)


def test_a_leg_far_off_is_changed_in_one_evenly_spread_round() -> None:
    plan = a_plan()
    done = place_in(plan, "leg", 30)
    found = recalculate(plan, done, counted(35, 46))
    assert found.recommended.key == "here"
    # 22.8 cm less 10 % at 3.5 stitches a cm: 71.8, so 72; eight more than 64, one after every eighth stitch.
    change = found.recommended.plan.rounds()[done]
    assert (change.kind, change.before, change.after) == ("increase", 64, 72)
    assert found.recommended.plan.sizes.leg_stitches == 72


def test_ripping_back_has_its_price_in_rounds_and_stitches() -> None:
    plan = a_plan()
    done = place_in(plan, "leg", 10)
    rip = option(recalculate(plan, done, counted(30, 42)), "rip")
    assert (rip.done, rip.rounds_ripped) == (0, done)
    assert rip.stitches_ripped == 64 * done
    assert rip.plan.sizes.leg_stitches == 60


def test_before_anything_is_cast_on_the_sock_is_planned_again() -> None:
    plan = a_plan()
    found = recalculate(plan, 0, counted(30, 42))
    assert [item.key for item in found.options] == ["rest", "needle", "leave"]
    assert found.recommended.plan.sizes.leg_stitches == 60


def test_a_flap_in_progress_gets_the_rows_that_the_heel_asks_for() -> None:
    plan = a_plan()
    found = recalculate(plan, place_in(plan, "heel-flap", 7), counted(rounds=50))
    # Rows R for a heel of 31.1 cm over (32 + 18) / 3.2 = 15.6 cm: 15.5 x 5 / 2 = 38.7, so 38.
    assert section_rounds(found.recommended.plan, "heel-flap") == 38


def test_past_the_flap_going_back_to_it_is_offered_when_the_heel_suffers() -> None:
    plan = a_plan()
    found = recalculate(plan, place_in(plan, "gusset", 5), counted(rounds=50))
    rip = option(found, "rip")
    assert rip.done == place_in(plan, "heel-flap", 0)
    assert section_rounds(rip.plan, "heel-flap") == 38
    assert found.recommended.key == "rest"


def test_the_gusset_ends_where_the_measured_gauge_says() -> None:
    plan = a_plan()
    found = recalculate(plan, place_in(plan, "gusset", 9), counted(30, 42))
    assert found.recommended.plan.sizes.foot_stitches == 62
    assert section_rounds(found.recommended.plan, "gusset") == section_rounds(plan, "gusset") + 2


def test_a_gusset_already_past_its_count_is_made_up_in_the_foot() -> None:
    plan = a_plan()
    done = place_in(plan, "gusset", 21)
    found = recalculate(plan, done, counted(35, 44))
    assert found.recommended.plan.rounds()[done].kind == "increase"
    assert found.recommended.plan.sizes.foot_stitches == 72


def test_in_the_foot_a_change_here_is_weighed_against_the_length_alone() -> None:
    plan = a_plan()
    done = place_in(plan, "foot", 25)
    found = recalculate(plan, done, counted(30, 42))
    # No other needle: the foot's length would be of two fabrics.
    assert {item.key for item in found.options} == {"rest", "here", "rip", "leave"}
    assert option(found, "rest").plan.sizes.foot_stitches == 64
    here = option(found, "here")
    assert here.recommended
    assert here.plan.rounds()[done].kind == "decrease"
    assert option(found, "rip").done <= place_in(plan, "foot", 0)


def test_the_first_centimetres_of_a_foot_far_off_are_sooner_ripped_than_given_a_step() -> None:
    plan = a_plan()
    early, later = (recalculate(plan, place_in(plan, "foot", rounds), counted(27, 44)) for rounds in (6, 25))
    assert early.recommended.key == "rip"
    assert early.recommended.rounds_ripped <= 6
    # 25 rounds are nearly 6 cm, but nobody wears them 18 % too wide.
    assert later.recommended.key == "foot"
    assert later.recommended.done == place_in(plan, "foot", 0)
    # Where the foot is hardly off a step is the lesser evil.
    assert recalculate(plan, place_in(plan, "foot", 6), counted(30, 44)).recommended.key == "here"


def test_a_foot_that_nobody_could_wear_is_ripped_from_however_far_and_tried_on_first() -> None:
    plan = a_plan(construction={"direction": "toe-up"})
    far = place_in(plan, "cuff", 5)
    found = recalculate(plan, far, counted(32, 40))
    # 104 rounds at 4 a cm are 2.4 cm too long: no ease and no washing makes up for more than one.
    assert found.if_unchanged.foot_length_cm > 23.6 + 1
    assert found.recommended.key == "foot"
    assert "Try the sock on before you rip." in found.recommended.why
    assert found.recommended.sizes.foot_length_cm == pytest.approx(23.6, abs=0.2)
    assert recalculate(plan, far, counted(32, 42.6)).recommended.key != "foot"


def test_a_foot_just_finished_and_too_long_is_ripped_by_its_last_rounds_alone() -> None:
    plan = a_plan(construction={"direction": "toe-up", "heel": "afterthought"})
    done = plan.span("foot").stop
    found = recalculate(plan, done, counted(31, 42))
    assert "here" not in {item.key for item in found.options}
    assert found.recommended.key == "foot"
    assert found.recommended.rounds_ripped < 10
    assert found.recommended.sizes.foot_stitches == plan.sizes.foot_stitches


def test_in_the_toe_only_the_length_can_still_be_met() -> None:
    plan = a_plan()
    found = recalculate(plan, place_in(plan, "toe", 4), counted(rounds=50))
    assert found.recommended.key == "rest"
    assert found.recommended.plan.sizes.foot_length_cm == pytest.approx(23.6, abs=0.2)


def test_a_finished_sock_is_left_alone() -> None:
    plan = a_plan()
    found = recalculate(plan, len(plan.rounds()), counted(30, 42))
    assert found.verdict == "nothing to change"
    assert "finished" in found.why


def test_the_measured_gauge_becomes_the_gauge_of_the_rest() -> None:
    found = recalculate(a_plan(), 40, counted(30, 42))
    gauge = found.recommended.plan.request.gauge
    assert (gauge.stitches_per_10cm, gauge.basis) == (30, "measured")
    # The swatch's 44 rounds still count a little, those of the check nearly all.
    assert gauge.rounds_per_10cm == pytest.approx(42, abs=0.1)
    assert found.gauge.rounds_per_10cm == 42


def test_each_option_has_its_price() -> None:
    plan = a_plan()
    done = place_in(plan, "leg", 10)
    found = recalculate(plan, done, counted(30, 42), seconds_per_stitch=2.5)
    for item in found.options:
        assert item.seconds == pytest.approx(2.5 * item.stitches_ripped)
        assert item.ranges.foot_length_cm.low < item.sizes.foot_length_cm < item.ranges.foot_length_cm.high
        assert item.yarn[0].grams_a_pair > 0
    assert recalculate(plan, done, counted(30, 42)).options[0].seconds is None
    needle = option(found, "needle")
    assert needle.plan.rounds() == plan.rounds()
    assert needle.plan.request.needles.size_mm == 2.25
    # One step tighter: 30 stitches become about 31.5, and the size is less sure than with the needle in use.
    assert needle.sizes.foot_circumference_cm == pytest.approx(64 / 31.5 * 10, abs=0.02)
    wide, sure = needle.ranges.foot_circumference_cm, found.ranges.foot_circumference_cm
    assert wide.high - wide.low > 2 * (sure.high - sure.low)


def test_another_needle_for_the_leg_leaves_a_knitted_foot_its_sizes() -> None:
    plan = a_plan(construction={"direction": "toe-up"})
    found = recalculate(plan, place_in(plan, "leg", 10), counted(30, 42))
    needle, stays = option(found, "needle"), found.if_unchanged
    assert needle.sizes.model_copy(update={"leg_cm": stays.leg_cm}) == stays
    assert needle.ranges.foot_circumference_cm == found.ranges.foot_circumference_cm
    assert needle.ranges.foot_length_cm == found.ranges.foot_length_cm
    # The leg goes on one step tighter: 30 stitches become about 31.5.
    assert needle.sizes.leg_cm == pytest.approx(64 / 31.5 * 10, abs=0.02)
    assert "64 stitches at 31.5 over 10 cm" in size_sums(plan, needle.sizes, needle.ranges).leg


def test_yarn_is_calculated_at_the_gauge_that_was_found() -> None:
    """Loop length is the root of ks / (stitches x rounds) (Munden 1959): the same stitches, looser, take more yarn."""
    plan = a_plan()
    planned = plan.request.gauge
    found = recalculate(plan, place_in(plan, "leg", 10), counted(30, 42))
    gauges = found.gauges
    assert planned.rounds_per_10cm
    longer = (
        planned.stitches_per_10cm / gauges.stitches.per_10cm * planned.rounds_per_10cm / gauges.rounds.per_10cm
    ) ** 0.5
    taken = option(found, "leave").yarn[0].metres_a_sock / plan.yarn[0].metres_a_sock
    assert taken == pytest.approx(longer, rel=0.005)  # but for the tails
    assert option(found, "here").yarn[0].metres_a_sock < option(found, "leave").yarn[0].metres_a_sock


def test_changes_are_shown_with_before_and_after() -> None:
    found = recalculate(a_plan(), 40, counted(30, 42))
    told = {change.what: (change.before, change.after) for change in found.recommended.changes}
    assert told["Foot stitches"] == ("64", "62")
    assert "Leg stitches" not in told


@pytest.mark.parametrize("done", [-1, 221, 10_000])
def test_a_place_outside_the_sock_is_refused(done: int) -> None:
    with pytest.raises(CannotKnitError, match="allowed: 0 to"):
        recalculate(a_plan(), done, counted(30))


def test_a_miscount_is_refused_with_what_to_do() -> None:
    with pytest.raises(CannotKnitError, match="count again"):
        recalculate(a_plan(), 40, counted(16))


def test_the_section_at_a_place_is_that_of_the_next_round() -> None:
    plan = a_plan()
    assert section_at(plan, 0) == "cuff"
    assert section_at(plan, place_in(plan, "leg", 0)) == "leg"
    assert section_at(plan, place_in(plan, "gusset", 1)) == "gusset"
    assert section_at(plan, len(plan.rounds())) == "toe"
