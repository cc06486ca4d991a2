"""A stand-in has the stitches and the yarn of what it stands for, and says nothing else of it."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest

from companion.planning import make_plan
from companion.planning.construction.constructions import HEELS, TOES
from companion.planning.plan.design import USUAL_FOOT, USUAL_GAUGE, Design, read_design, request_for
from companion.planning.plan.document import PARTS_OF_SOCK
from companion.planning.plan.stand_ins import with_stand_ins
from companion.planning.request.foot import Foot
from companion.planning.request.plan_request import Gauge

EVERYTHING = PARTS_OF_SOCK
YARNS = [{"key": "A", "name": "oat"}, {"key": "B", "name": "moss"}]
LEAF = ["AABBAAAA", "ABBBBAAA", "BBAABBAA", "BAAAABBA", "AAAAAABB", "AAAAAAAA", "ABABABAB", "BABABABA"]
LACE = {"name": "hedge", "rows": ["k1 yo k2tog k2", "k5"], "stitches_per_10cm": 28, "rounds_per_10cm": 40}

SOCKS: dict[str, dict[str, Any]] = {
    "a chart on leg and instep": {
        "leg": {"chart": {"width": 8, "rows": LEAF}},
        "foot_pattern": "instep follows the leg",
    },
    "stripes": {"leg": {"chart": {"width": 1, "rows": list("AABBBBA")}}, "cuff": {"rib": "k5 p1"}},
    "lace": {"leg": {"stitch_pattern": LACE}, "cuff": {"rib": "k4 p1"}},
    "a tubular edge": {"cuff": {"rib": "k1tbl p1", "edge": "tubular"}},
}
BODIES = [
    (USUAL_FOOT, USUAL_GAUGE),
    (Foot(ball_circumference_cm=17, length_cm=17), Gauge(stitches_per_10cm=26)),
    (Foot(ball_circumference_cm=27, length_cm=30), Gauge(stitches_per_10cm=36)),
]


def design(**entries: Any) -> Design:
    found, faults = read_design({"schema": 1, "yarns": YARNS, **entries})
    assert found, faults
    return found


@pytest.mark.parametrize("sock", SOCKS.values(), ids=SOCKS)
def test_counts_are_those_of_the_sock_to_come(sock: dict[str, Any]) -> None:
    whole = design(**sock, constructions=[{"heel": "short-row", "toe": "round"}])
    seen, faults = read_design(with_stand_ins(whole, EVERYTHING).model_dump(mode="json"))
    assert seen, faults
    for foot, gauge in BODIES:
        planned, shown = (make_plan(request_for(one, foot, gauge)) for one in (whole, seen))
        assert planned.sizes.leg_stitches == shown.sizes.leg_stitches
        assert planned.sizes.foot_stitches == shown.sizes.foot_stitches


@pytest.mark.parametrize("heel", HEELS)
def test_the_yarn_that_is_told_is_enough_for_the_sock_to_come(heel: str) -> None:
    """Two in a hundred of a yarn are less than is left over of a ball; more is told where a plain heel spares it."""
    for toe in TOES:
        whole = design(**SOCKS["a chart on leg and instep"], constructions=[{"heel": heel, "toe": toe}])
        planned, shown = (
            make_plan(request_for(one, USUAL_FOOT, USUAL_GAUGE)).yarn
            for one in (whole, with_stand_ins(whole, EVERYTHING))
        )
        for real, told in zip(planned, shown, strict=True):
            assert 0.98 * real.metres_a_sock <= told.metres_a_sock <= 1.4 * real.metres_a_sock, (heel, toe, real.key)


def test_what_a_part_is_cannot_be_read_from_its_stand_in() -> None:
    """Whatever is as wide, and takes as much of each yarn, has the same one."""
    mirrored = [row[::-1] for row in reversed(LEAF)]
    first, other = (
        design(
            leg={"chart": {"width": 8, "rows": rows}},
            cuff={"rib": rib},
            constructions=[{"heel": heel, "toe": toe, "turn": turn}],
        )
        for rows, rib, heel, toe, turn in (
            (LEAF, "k3 p1", "flap", "round", "square"),
            (mirrored, "k2 p2", "afterthought", "wedge", "round"),
        )
    )
    assert with_stand_ins(first, EVERYTHING) == with_stand_ins(other, EVERYTHING)
    assert with_stand_ins(first, ()) == first


def test_each_row_of_a_stand_in_has_its_yarns_evenly_and_the_loops_of_each_stay() -> None:
    chart = with_stand_ins(design(leg={"chart": {"width": 8, "rows": LEAF}}), ["leg"]).leg.chart
    assert chart
    assert Counter("".join(chart.rows)) == Counter("".join(LEAF))
    assert "ABABABAB" in chart.rows
    assert "AABAAABA" in chart.rows
