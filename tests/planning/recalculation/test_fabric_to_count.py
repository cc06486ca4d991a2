"""How much fabric there is to count on, at every round of every construction."""

from __future__ import annotations

import pytest

from companion.planning import CannotKnitError, Check
from companion.planning.fit.targets import fit_of
from companion.planning.gauge.check import Spot
from companion.planning.recalculation.fabric_to_count import next_room, refuse_more_than_knitted, room_below
from tests.planning.asking import planned
from tests.planning.requests import CONSTRUCTIONS, names


@pytest.mark.parametrize("construction", CONSTRUCTIONS, ids=names)
def test_a_count_never_asks_for_more_fabric_than_was_knitted(construction: dict[str, str]) -> None:
    plan = planned(construction=construction)
    fabric = fit_of(plan.request).fabric
    widest = max(item.after for item in plan.rounds())
    for done in range(plan.count + 1):
        room = room_below(plan, done)
        if room is None:
            later = next_room(plan, done)
            assert later, "a sock of an adult has fabric to count on"
            assert later > done
            assert room_below(plan, later)
            # Ribbing, or a toe that is worked flat and twice, comes before the first fabric.
            assert later <= plan.span("foot" if construction["direction"] == "toe-up" else "leg").start + 18
        else:
            assert 4 <= room.rounds_cm <= done / fabric.rounds
            assert 2 <= room.stitches_cm <= widest / fabric.stitches / 2


def test_a_sock_too_small_for_a_count_asks_for_none() -> None:
    foot = {"ball_circumference_cm": 10, "length_cm": 8}
    plan = planned(foot=foot, leg={"length_cm": 1}, construction={"heel": "short-row"})
    assert room_below(plan, plan.span("leg").stop) is None
    assert next_room(plan, plan.span("toe").stop - 1) is None


def test_more_rounds_than_were_knitted_are_refused() -> None:
    check = Check(rounds=(Spot(count=20, over_cm=5), Spot(count=31, over_cm=7)))
    refuse_more_than_knitted(check, 31)
    with pytest.raises(CannotKnitError, match="only 30 rounds are knitted"):
        refuse_more_than_knitted(check, 30)
