"""Yarn in the stitches of a pattern: by hand, as often through the fabric as knitted, the same wherever it is told."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from pydantic import TypeAdapter

from companion.planning.fit.targets import Fabric, fit_of
from companion.planning.plan.document import Op, Repeat, Round, Work
from companion.planning.plan.rounds import makes, takes
from companion.planning.yarn.forecast import course_of
from companion.planning.yarn.loops import LoopsInPattern, loop_length
from tests.planning.asking import WHOLE_PLANS, document_of, plan_or_leave
from tests.planning.patterned import patterned_requests
from tests.planning.test_patterned_plans import written_out
from tests.written_plan import CABLES, crossing

OP = TypeAdapter(Op)
FABRIC = Fabric(3.2, 4.4)
LOOP = math.sqrt(21.6 / (3.2 * 4.4))
"""1.2386 cm."""
THICK = (LOOP - 2 / 4.4 - 1 / 3.2) / 5.94
"""0.0794 cm: what Peirce's loop, two heights and one width and 5.94 diameters, leaves for a diameter."""


def leg(*ops: Op | Repeat) -> Round:
    return Round("round", "plain", (Work("leg", ops),), before=takes(ops), after=makes(ops), chart_row=1)


@pytest.mark.parametrize(
    ("op", "cm"),
    [
        (Op("k", 60), 74.315),
        (Op("p", 60), 74.315),
        (Op("2/2 RC", 15), 74.315),
        (Op("ktbl", 10), 10 * (1.2386 + 0.0794)),
        (Op("k2tog", 10), 10 * (1.2386 + 0.0794)),
        (Op("s2kpo", 10), 10 * (1.2386 + 2 * 0.0794)),
        (Op("yo", 10), 10 * (1.2386 - 2.97 * 0.0794)),
        (Op("kfb", 10), 20 * 1.2386),
        (Op("sl", 10), 10 * 0.3125),
    ],
)
def test_each_way_to_work_a_stitch_takes_its_own_length(op: Op, cm: float) -> None:
    """By hand at 32 stitches and 44 rounds."""
    assert LoopsInPattern(FABRIC).cm(leg(op)) == pytest.approx(cm, abs=0.02)


def test_the_yarn_that_changes_sides_comes_through_the_fabric() -> None:
    """By hand: half a stitch across, 0.1563 cm, and two diameters through, 0.1588, are 0.0665 more than across."""
    plain = 60 * 1.2386
    for ops, turns in (
        ((Repeat(30, (Op("k"), Op("p"))),), 60),
        ((Repeat(15, (Op("k", 2), Op("p", 2))),), 30),
        ((Op("p", 20), Op("k", 40)), 2),
        ((Repeat(20, (Op("2/1 RPC"),)),), 40),
    ):
        assert LoopsInPattern(FABRIC).cm(leg(*ops)) == pytest.approx(plain + turns * 0.0665, abs=0.02)


def sides(names: list[str]) -> list[str]:
    """How each stitch that is drawn through lies, knitted or purled, in the order of working."""
    found = []
    for name in names:
        if name in CABLES:
            found += crossing(name)[1]
        elif name not in {"yo", "sl", "slwyif"}:
            found.append("p" if name in {"p", "ptbl", "p2tog", "ssp", "p3tog", "sssp", "pfb", "m1p"} else "k")
    return found


def alone(name: str, fabric: Fabric) -> float:
    """What one working of an operation takes by itself."""
    return LoopsInPattern(fabric).cm(leg(OP.validate_python({"op": name})))


@WHOLE_PLANS
@given(data=patterned_requests())
def test_rounds_written_in_repeats_take_what_their_stitches_take_one_by_one(data: dict[str, Any]) -> None:
    """The sum over the stitches as the document has them, and over each neighbour that is worked the other way."""
    plan = plan_or_leave(data)
    fabric = fit_of(plan.request).fabric
    wide = 1 / fabric.stitches
    thick = (loop_length(fabric) - 2 / fabric.rounds - wide) / 5.94
    through = math.hypot(wide / 2, 2 * thick) - wide / 2
    for item in {each for each in plan.rounds() if each.chart_row}:
        names = [name for part in document_of(item)["work"] for name in written_out(part["ops"])]
        looks = sides(names)
        turns = sum(one != other for one, other in zip(looks, looks[1:] + looks[:1], strict=True))
        # A cable on a purled ground turns within itself, which its neighbours count.
        single = [CABLES[name] * loop_length(fabric) if name in CABLES else alone(name, fabric) for name in names]
        assert LoopsInPattern(fabric).cm(item) == pytest.approx(sum(single) + turns * through)


@WHOLE_PLANS
@given(data=patterned_requests())
def test_what_a_pair_needs_and_what_the_forecast_counts_down_is_the_same_yarn(data: dict[str, Any]) -> None:
    plan = plan_or_leave(data)
    fabric = fit_of(plan.request).fabric
    course = course_of(plan, 1, fabric)
    for number, need in enumerate(plan.yarn):
        counted = course.whole(need.key) * loop_length(fabric) / 100
        tails = 0.3 if not number or counted else 0.0
        assert need.metres_a_sock == pytest.approx(counted + tails, abs=0.06)
