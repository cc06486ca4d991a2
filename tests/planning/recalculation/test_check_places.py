"""Where a check is asked for."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest

from companion.planning import Check, recalculate
from companion.planning.gauge.check import Spot
from companion.planning.gauge.observations import assumed
from companion.planning.recalculation.check_places import FABRIC_CM, check_places, next_check_place
from companion.planning.recalculation.options import Option

from ..asking import planned
from ..requests import CONSTRUCTIONS, HEELS_AND_TOES


@pytest.mark.parametrize("construction", CONSTRUCTIONS, ids=lambda one: "-".join(one.values()))
def test_every_construction_is_checked_before_leg_and_foot_are_done(construction: dict[str, Any]) -> None:
    plan = planned(construction=construction)
    places = check_places(plan)
    assert [place.round for place in places] == sorted({place.round for place in places})
    assert {"leg", "foot"} <= {place.section for place in places}
    assert all(0 < place.round < len(plan.rounds()) for place in places)
    if any(section.key == "gusset" and section.count > 1 for section in plan.sections):
        assert "before the gusset ends" in {place.why for place in places}


def test_the_first_check_has_fabric_enough_to_count_on() -> None:
    # The cast-on and 18 rounds of cuff, at 44 rounds over 10 cm, then 4 cm of leg.
    [first, *_] = check_places(planned())
    assert first.round == 19 + round(FABRIC_CM * 4.4)
    assert (first.section, first.why) == ("leg", "first fabric")


def test_a_short_leg_is_checked_once() -> None:
    legs = [place for place in check_places(planned(leg={"length_cm": 5})) if place.section == "leg"]
    assert len(legs) == 1


@pytest.mark.parametrize("toe", ["wedge", "short-row", "round"])
def test_from_the_toe_up_the_foot_is_begun_with_a_check(toe: str) -> None:
    """The toe is 4 cm of fabric, so no round of the foot has to be knitted before its count is right."""
    plan = planned(construction={"direction": "toe-up", "toe": toe})
    [first, *_] = check_places(plan)
    assert (first.round, first.section) == (len(plan.sections[0].rounds()), "foot")


def test_a_small_toe_is_too_little_to_count_on() -> None:
    foot = {"ball_circumference_cm": 14, "length_cm": 15}
    plan = planned(foot=foot, construction={"direction": "toe-up"})
    toe = plan.sections[0]
    assert toe.length_cm < FABRIC_CM
    assert check_places(plan)[0].round == len(toe.rounds()) + round((FABRIC_CM - toe.length_cm) * 4.4)


@pytest.mark.parametrize("toe", ["wedge", "short-row", "round"])
@pytest.mark.parametrize("stitches", [29.0, 34.5])
def test_a_foot_that_is_not_begun_gets_its_own_count_with_nothing_ripped(toe: str, stitches: float) -> None:
    plan = planned(construction={"direction": "toe-up", "toe": toe})
    place = check_places(plan)[0].round
    check = Check(stitches=(Spot(count=stitches, over_cm=10),) * 4, round=place)
    taken = recalculate(plan, place, [assumed(plan.request), check]).recommended
    assert (taken.key, taken.rounds_ripped) == ("here", 0)
    foot = next(section for section in taken.plan.sections if section.key == "foot").rounds()
    assert {item.after for item in foot[9:-1]} == {taken.sizes.foot_stitches}


@pytest.mark.parametrize("construction", HEELS_AND_TOES, ids=lambda one: "-".join(one.values()))
def test_the_next_check_has_fabric_that_this_one_had_not(construction: dict[str, Any]) -> None:
    """4 cm at 44 rounds over 10 cm are 17.6, and 2 cm are 8.8 before a part ends."""
    plan = planned(construction=construction)
    least = {"first fabric": 17.6} | dict.fromkeys(
        ("while the foot can change", "before the next part", "before the gusset ends"), 8.8
    )
    for done in range(plan.count + 1):
        enough = [place for place in check_places(plan) if place.round - done >= least[place.why]]
        assert next_check_place(plan, done) == (enough[0] if enough else None)


def test_a_check_shortly_before_the_heel_is_not_followed_by_one_at_it() -> None:
    plan = planned()
    leg = plan.span("leg")
    for far, section in ((9, "leg"), (8, "gusset"), (2, "gusset")):
        place = next_check_place(plan, leg.stop - far)
        assert place
        assert place.section == section


@pytest.mark.parametrize("construction", CONSTRUCTIONS, ids=lambda one: "-".join(one.values()))
def test_no_more_than_eight_cm_of_an_adults_foot_go_unchecked(construction: dict[str, Any]) -> None:
    """At 44 rounds over 10 cm."""
    plan = planned(construction=construction)
    places = [place.round for place in check_places(plan) if place.section == "foot"]
    assert places[-1] == plan.span("foot").stop
    assert max(after - before for before, after in pairwise(places)) <= 8 * 4.4 + 1


@pytest.mark.parametrize("heel", ["flap", "short-row", "short-row with gusset", "afterthought"])
def test_half_way_a_foot_is_made_to_fit_again_for_half_the_price(heel: str) -> None:
    """From the toe up nothing ahead of the foot's end can take up what went wrong in it."""
    plan = planned(construction={"direction": "toe-up", "heel": heel, "toe": "wedge"})
    gauge, foot = plan.request.gauge.stitches_per_10cm, plan.span("foot")
    half = next(place for place in check_places(plan) if place.why == "while the foot can change").round

    def advised(at: int, by: float) -> Option:
        checks = [counted(gauge, foot.start), counted(gauge * by, at), counted(gauge * by, at)]
        return recalculate(plan, at, [assumed(plan.request), *checks]).recommended

    assert 0 < 2 * advised(half, 0.95).stitches_ripped <= advised(foot.stop, 0.95).stitches_ripped
    assert (advised(half, 1.05).key, advised(half, 1.05).stitches_ripped) == ("here", 0)
    assert advised(foot.stop, 1.05).key == "leave"


def counted(stitches: float, at: int) -> Check:
    """Three spots of 10 cm after so many rounds."""
    return Check(stitches=(Spot(count=stitches, over_cm=10),) * 3, round=at, sock_round=at)
