"""Where a check is asked for."""

from __future__ import annotations

from typing import Any

import pytest

from companion.planning.check_places import FABRIC_CM, check_places

from .asking import planned
from .requests import CONSTRUCTIONS


@pytest.mark.parametrize("construction", CONSTRUCTIONS, ids=lambda one: "-".join(one.values()))
def test_every_construction_is_checked_before_leg_and_foot_are_done(construction: dict[str, Any]) -> None:
    plan = planned(construction=construction)
    places = check_places(plan)
    assert [place.round for place in places] == sorted({place.round for place in places})
    assert {"leg", "foot"} <= {place.section for place in places}
    assert all(0 < place.round < len(plan.rounds()) for place in places)
    if any(section.key == "gusset" for section in plan.sections):
        assert "before the gusset ends" in {place.why for place in places}


def test_the_first_check_has_fabric_enough_to_count_on() -> None:
    # The cast-on and 18 rounds of cuff, at 44 rounds over 10 cm, then 4 cm of leg.
    [first, *_] = check_places(planned())
    assert first.round == 19 + round(FABRIC_CM * 4.4)
    assert (first.section, first.why) == ("leg", "first fabric")


def test_a_short_leg_is_checked_once() -> None:
    legs = [place for place in check_places(planned(leg={"length_cm": 5})) if place.section == "leg"]
    assert len(legs) == 1
