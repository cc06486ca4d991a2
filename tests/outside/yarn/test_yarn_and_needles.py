"""Gauges and needles against the yarn industry's standard table.

Yarn weight classes, stockinette stitches over 10 cm (4 in) and needles in mm, as reprinted by
hertzoffjo.blogspot.com, 2019/02: class 0: 33-40, 1.5-2.25; class 1: 27-32, 2.25-3.25; class 2: 23-26, 3.25-3.75;
class 3: 21-24, 3.75-4.5; class 4: 16-20, 4.5-5.5; class 5: 12-15, 5.5-8.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from companion.planning.request.plan_request import ROUNDS_PER_STITCH, Needles
from tests.planning.asking import asked, knit_plan, planned
from tests.planning.requests import each_with
from tests.shape import shape

SAMPLES = Path(__file__).parents[2] / "sample_projects"

LACE, SOCK, SPORT = ((33, 40), (1.5, 2.25)), ((27, 32), (2.25, 3.25)), ((23, 26), (3.25, 3.75))
LIGHT, MEDIUM, BULKY = ((21, 24), (3.75, 4.5)), ((16, 20), (4.5, 5.5)), ((14, 15), (5.5, 8.0))
"""Of the last the gauges from 14 stitches on, which is the thickest sock that is planned."""

YARNS = {14: 140, 16: 160, 18: 190, 20: 210, 22: 240, 24: 290, 28: 390, 32: 420, 36: 420, 40: 800}
"""Metres in 100 g by stitches over 10 cm: twistedyarnshop.com, yarn weights, but for the three finest, from memory."""


def doubts(stitches: float, needle_mm: float, metres: float) -> list[str]:
    """What is said of a needle and a yarn that hardly give a gauge."""
    plan = planned(
        gauge={"stitches_per_10cm": stitches, "rounds_per_10cm": None},
        needles={"size_mm": needle_mm},
        yarns=[{"metres_per_100g": metres}],
        cuff={"rib": "k1 p1"},
    )
    return [said for said in plan.warnings if "gauge of" in said]


@pytest.mark.parametrize(("stitches", "needles"), [LACE, SOCK, SPORT, LIGHT, MEDIUM, BULKY])
def test_needles_of_the_table_and_smaller_ones_for_a_firm_sock_draw_no_remark(
    stitches: tuple[int, int], needles: tuple[float, float]
) -> None:
    for gauge in (stitches[0], stitches[1]):
        metres = min(YARNS.items(), key=lambda each: abs(each[0] - gauge))[1]
        for size in (0.75 * needles[0], *needles):
            assert not doubts(gauge, max(1, size), metres)


@pytest.mark.parametrize(
    ("stitches", "needle_mm", "take"),
    [(18, 2.5, "larger"), (14, 3, "larger"), (32, 4.5, "smaller"), (44, 3.25, "smaller")],
)
def test_a_needle_that_hardly_gives_the_gauge_draws_a_remark(stitches: float, needle_mm: float, take: str) -> None:
    metres = {18: 190, 14: 140, 32: 420, 44: 700}[int(stitches)]
    (said,) = doubts(stitches, needle_mm, metres)
    assert f"gauge of {stitches} over 10 cm" in said
    assert f"is seldom knitted on {needle_mm:g} mm" in said
    assert f"take a {take} needle" in said


@pytest.mark.parametrize(("stitches", "needle_mm", "metres", "how"), [(18, 4.5, 420, "thin"), (32, 2.5, 200, "thick")])
def test_a_yarn_that_hardly_gives_the_gauge_draws_a_remark(
    stitches: float, needle_mm: float, metres: float, how: str
) -> None:
    (said,) = doubts(stitches, needle_mm, metres)
    assert f"is {how} for a gauge of {stitches} over 10 cm" in said


@pytest.mark.parametrize(("construction", "stitches"), each_with([14, 17, 20]))
def test_thick_socks_are_knitted_to_size_for_a_child_and_for_a_large_foot(
    stitches: int, construction: dict[str, str]
) -> None:
    for ball, length in ((16, 15.5), (27, 30)):
        plan = planned(
            foot={"ball_circumference_cm": ball, "length_cm": length},
            gauge={"stitches_per_10cm": stitches, "rounds_per_10cm": stitches * 1.35},
            needles={"size_mm": 4.5},
            cuff={"rib": "k1 p1"},
            leg={"length_cm": 6},
            construction=construction,
        )
        found = shape(knit_plan(plan), stitches / 10, stitches * 1.35 / 10)
        assert found.foot_cm == pytest.approx(0.9 * ball, abs=10 / stitches + 1e-9)
        asked_for = length - plan.request.ease.length_cm
        if not any("than asked" in warning for warning in plan.warnings):
            assert found.foot_length_cm == pytest.approx(asked_for, abs=10 / (stitches * 1.35) + 1e-9)


@pytest.mark.parametrize(("stitches", "needles"), [LACE, SOCK, SPORT])
def test_every_gauge_and_needle_of_sock_yarn_is_allowed(
    stitches: tuple[int, int], needles: tuple[float, float]
) -> None:
    for gauge in range(stitches[0], stitches[1] + 1):
        for size in needles:
            plan = planned(
                gauge={"stitches_per_10cm": gauge, "rounds_per_10cm": None}, needles={"size_mm": size}, cuff={}
            )
            assert plan.request.gauge.stitches_per_10cm == gauge


def test_the_needle_taken_when_nothing_is_said_is_one_for_sock_yarn() -> None:
    least, most = SOCK[1]
    assert least <= Needles().size_mm <= most


@pytest.mark.parametrize("sample", sorted(SAMPLES.glob("*.json")), ids=lambda path: path.stem)
def test_the_gauge_of_a_four_ply_sample_is_one_of_sock_yarn(sample: Path) -> None:
    # Four-ply sock yarn is class 1 (common practice); thicker samples are knitted tighter than their class.
    request = json.loads(sample.read_text())
    least, most = SOCK[0] if "four-ply" in request["yarns"][0]["name"] else (20, SPORT[0][1])
    assert least <= request["gauge"]["stitches_per_10cm"] <= most


@pytest.mark.parametrize("size_mm", [2.0, 2.25, 2.5, 2.75, 3.0, 3.25, 3.5, 3.75, 4.0, 4.5, 5.0])
def test_needles_are_kept_in_mm(size_mm: float) -> None:
    # US 0 to 8 in mm: fineleaffibres.com. US 1 is sold as 2.25 and 2.5: lindysknitslaces.com, 2009/09.
    assert asked(needles={"size_mm": size_mm}).needles.size_mm == size_mm


def test_rounds_estimated_from_stitches_lie_between_the_known_ratios() -> None:
    # Munden's loop shape is 1.3 for relaxed plain knitting (J. Textile Inst. 50, 1959, T448); ball bands of sock yarn
    # say up to 1.4 (common practice).
    assert 1.3 <= ROUNDS_PER_STITCH <= 1.4
