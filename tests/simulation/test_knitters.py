"""The model of people behind a simulation, against surveyed feet, numpy, and sums by hand."""

from __future__ import annotations

from collections.abc import Iterable
from random import Random

import numpy as np
import pytest

from companion.planning import Plan, make_plan
from companion.planning.fit.targets import fit_of
from companion.planning.gauge.check import Spot
from companion.planning.recalculation.check_places import check_places
from companion.simulation.counting import MISCOUNTED, Eyes, eyes_of
from companion.simulation.hands import DAYS, Fabric, Hands, hands_of
from companion.simulation.kinds import KINDS, WANDERS
from companion.simulation.life import asked_by
from companion.simulation.sock import LEAST_CM, Sock

from ..outside.fit.measured_feet import LARGE, SMALL


@pytest.fixture(scope="module")
def plan() -> Plan:
    return make_plan(asked_by(Random(4)))


def steady(plan: Plan, stitches: float, rounds: float) -> Sock:
    return Sock(plan, Hands(Fabric(stitches, rounds), plan.count))


def gauge(spots: Iterable[Spot]) -> float:
    each = list(spots)
    return 10 * sum(spot.count for spot in each) / sum(spot.over_cm for spot in each)


def test_feet_are_as_large_as_the_surveyed_ones() -> None:
    """ANSUR II: the tails of both sexes together."""
    draw = Random(5)
    lengths = [10 * asked_by(draw).foot.length_cm for _ in range(2000)]
    # Half of them women and half men: 5 % of the women are shorter than the first, 5 % of the men longer than the last.
    (_, short), (long, _) = SMALL, LARGE
    assert np.mean([length < short.length for length in lengths]) == pytest.approx(0.025, abs=0.01)
    assert np.mean([length > long.length for length in lengths]) == pytest.approx(0.025, abs=0.01)


def test_a_gauge_drifts_evenly_and_jumps_once() -> None:
    hands = Hands(Fabric(30, 40), 200, drift=0.05, step=-0.04, changed=0.5)
    assert hands.at(0) == Fabric(30, 40)
    assert hands.at(99).stitches == pytest.approx(30 * (1 + 0.05 * 99 / 200))
    assert hands.at(100).rounds == pytest.approx(40 * 1.025 * 0.96)
    assert hands.at(200).rounds == pytest.approx(40 * 1.05 * 0.96)


def test_a_gauge_wanders_as_far_and_as_slowly_as_is_said() -> None:
    """Its correlation falls to 1/e in `DAYS` rounds."""
    moods = hands_of(KINDS["wandering"], Fabric(30, 40), 100_000, Random(6)).moods
    assert np.std(moods) == pytest.approx(WANDERS, rel=0.1)
    assert np.corrcoef(moods[:-DAYS], moods[DAYS:])[0, 1] == pytest.approx(np.exp(-1), abs=0.05)


def test_counts_are_of_the_true_gauge_of_the_fabric_that_is_there(plan: Plan) -> None:
    sock = steady(plan, 30, 42)
    sock.knit_to(check_places(plan)[0].round)
    seen = [Eyes(10.0, 0.01).count(sock, (3, 3), Random(seed)) for seed in range(300)]
    assert gauge(spot for check in seen for spot in check.stitches) == pytest.approx(30, rel=0.01)
    assert gauge(spot for check in seen for spot in check.rounds) == pytest.approx(42, rel=0.01)
    assert all(spot.over_cm * 42 / 10 <= sock.done for check in seen for spot in check.rounds)


def test_the_newest_fabric_is_counted_on(plan: Plan) -> None:
    hands = Hands(Fabric(30, 42), plan.count, step=0.2, changed=0.4)
    sock = Sock(plan, hands)
    for place in sock.places():
        sock.knit_to(place)
        newest = sock.newest_fabric()
        assert newest[-1] == sock.knitted[-1]
        assert len(newest) >= round(LEAST_CM * fit_of(plan.request).fabric.rounds)


def test_spots_are_miscounted_as_often_as_is_said(plan: Plan) -> None:
    sock = steady(plan, 30, 42)
    sock.knit_to(check_places(plan)[0].round)
    one, other = (
        [Eyes(5.0, 0.0, mistakes=mistakes).count(sock, (1, 1), Random(seed)) for seed in range(800)]
        for mistakes in (True, False)
    )
    wrong = [ours.stitches != theirs.stitches for ours, theirs in zip(one, other, strict=True)]
    assert np.mean(wrong) == pytest.approx(MISCOUNTED, abs=0.03)


def test_a_worn_tape_counts_too_much_until_it_is_tried(plan: Plan) -> None:
    sock = steady(plan, 30, 42)
    sock.knit_to(plan.span("leg").stop)
    worn, tried = (
        gauge(spot for seed in range(200) for spot in eyes.count(sock, (3, 1), Random(seed)).stitches)
        for eyes in (Eyes(10.0, 0.01, ruler=1.04), Eyes(10.0, 0.01, ruler=1.04, allowed=1.04))
    )
    assert worn == pytest.approx(31.2, rel=0.005)
    assert tried == pytest.approx(30, rel=0.005)


def test_only_those_who_make_mistakes_have_worn_tapes() -> None:
    rulers = {key: [eyes_of(kind, Random(seed)) for seed in range(500)] for key, kind in KINDS.items()}
    assert {eyes.ruler for eyes in rulers["off"]} == {1.0}
    worn = np.array([eyes.ruler for eyes in rulers["off, ruler tried"]])
    told = np.array([eyes.allowed for eyes in rulers["off, ruler tried"]])
    assert np.std(worn) > 0.01
    assert np.std(told / worn) < 0.003


def test_a_finished_sock_measures_what_its_own_rounds_make_it(plan: Plan) -> None:
    """Half of the rounds 10 % tighter: half of that is missing in length, and each round has its own width."""
    planned = fit_of(plan.request).fabric
    sock = steady(plan, 10 * planned.stitches, 10 * planned.rounds)
    sock.knit_to(plan.count)
    assert sock.finished().length == pytest.approx(plan.sizes.foot_length_cm)
    assert sock.finished().circumference == pytest.approx(plan.sizes.foot_circumference_cm, abs=0.006)
    looser = steady(plan, 9 * planned.stitches, 8 * planned.rounds)
    looser.knit_to(plan.count)
    assert looser.finished().length == pytest.approx(plan.sizes.foot_length_cm / 0.8)
    assert looser.finished().circumference == pytest.approx(plan.sizes.foot_circumference_cm / 0.9, abs=0.007)


def test_ripped_stitches_are_counted_and_their_fabric_forgotten(plan: Plan) -> None:
    sock = steady(plan, 30, 42)
    sock.knit_to(60)
    sock.go_on_with(plan, 50)
    assert (sock.done, sock.knitted_ever) == (50, 60)
    assert sock.ripped == sum(item.made for item in plan.rounds()[50:60])
