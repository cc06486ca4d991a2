"""The fabric that a check is counted on: told by its place, and asked where plain and pattern lie side by side."""

from __future__ import annotations

from typing import Any

import pytest

from companion.pair.checking.counted_on import (
    BESIDE,
    IN_PATTERN,
    ON_THE_SOLE,
    ONE_FABRIC,
    all_along,
    counted_on,
    fabric_counted,
    on_its_fabric,
)
from companion.planning import Check, Plan, recalculate
from companion.planning.gauge.check import Spot
from companion.planning.gauge.observations import Evidence, assumed
from companion.planning.recalculation.by_fabric import Known
from tests.planning.asking import planned

CABLES: dict[str, Any] = {"name": "cable rib", "stitches_per_10cm": 40, "rounds_per_10cm": 50}
PANEL = {**CABLES, "placement": {"on": "front", "repeats": 2}}


def cabled(pattern: dict[str, Any], follows: str = "instep follows the leg", direction: str = "cuff-down") -> Plan:
    return planned(
        leg={"length_cm": 14, "stitch_pattern": pattern}, foot_pattern=follows, construction={"direction": direction}
    )


@pytest.mark.parametrize(
    ("plan", "key", "place"),
    [
        (cabled(CABLES), "leg", IN_PATTERN),
        (cabled(CABLES), "foot", ON_THE_SOLE),
        (cabled(CABLES, "plain"), "foot", ONE_FABRIC),
        (cabled(PANEL), "leg", BESIDE),
        (cabled(PANEL), "foot", ON_THE_SOLE),
        (cabled(CABLES, direction="toe-up"), "foot", ON_THE_SOLE),
        (cabled(CABLES, direction="toe-up"), "leg", IN_PATTERN),
        (planned(), "leg", ONE_FABRIC),
    ],
)
def test_the_place_tells_what_can_be_counted_on(plan: Plan, key: str, place: object) -> None:
    span = plan.span(key)
    assert counted_on(plan, span.stop - 2) == place


def test_all_places_of_a_sock_are_told_in_runs() -> None:
    plan = cabled(PANEL)
    runs = all_along(plan)
    for done in range(plan.count + 1):
        assert next(place for begins, place in reversed(runs) if begins <= done) == counted_on(plan, done)
    assert 1 < len(runs) < 8


def test_stitches_counted_on_an_instep_are_the_patterns_and_rounds_those_of_the_sole() -> None:
    """40 and 44 over 10 cm are the pattern's stitches and the sole's rounds, and just as planned: 40 of 32 by 1.25."""
    plan = cabled(CABLES)
    done = plan.span("foot").stop - 2
    check = Check(stitches=(Spot(count=40, over_cm=10),) * 3, rounds=(Spot(count=44, over_cm=10),) * 3, in_pattern=True)
    dated = check.model_copy(update={"round": done, "sock_round": done})
    known: list[Evidence] = [assumed(plan.request), on_its_fabric(dated, plan, done)]
    found = Known(plan, known, done)
    assert found.plain.stitches.per_10cm == pytest.approx(32, rel=0.01)
    assert found.plain.rounds.per_10cm == pytest.approx(44, rel=0.01)
    assert found.leg.stitches.per_10cm == pytest.approx(40, rel=0.01)
    assert found.leg.rounds.per_10cm == pytest.approx(50, rel=0.01)
    assert recalculate(plan, done, known).verdict == "nothing to change"


def test_counts_of_both_fabrics_at_one_place_are_not_taken_for_one_another() -> None:
    """Beside one another 40 on the instep and 32 on the sole agree: 1.25 of the pattern for each plain one."""
    plan = cabled(CABLES)
    done = plan.span("foot").stop - 2
    counts = [
        Check(stitches=(Spot(count=count, over_cm=10),) * 3, round=done, sock_round=done, in_pattern=said)
        for count, said in ((40, True), (32, None))
    ]
    found = Known(plan, [assumed(plan.request), *(on_its_fabric(each, plan, done) for each in counts)], done)
    assert found.plain.stitches.per_10cm == pytest.approx(32, rel=0.01)
    assert not found.plain.stitches.uneven


def test_what_was_said_counts_only_where_it_was_asked() -> None:
    plan = cabled(CABLES)
    check = Check(stitches=(Spot(count=40, over_cm=10),))
    on_leg, on_sole = plan.span("leg").stop, plan.span("foot").stop - 2
    assert on_its_fabric(check, plan, on_leg).in_pattern is True
    assert on_its_fabric(check, plan, on_sole).in_pattern is False
    said = check.model_copy(update={"in_pattern": True})
    assert on_its_fabric(said, plan, on_sole).in_pattern is True
    assert on_its_fabric(said, planned(), 60).in_pattern is False
    told = [fabric_counted(*each) for each in ((check, plan, on_leg), (check, plan, on_sole), (said, plan, on_sole))]
    assert told == ["in the pattern", "on plain fabric", "in the pattern"]
    assert fabric_counted(said, planned(), 60) == ""
