"""Gauges and needles against the yarn industry's standard table.

Yarn weight classes, stockinette stitches over 10 cm (4 in) and needles in mm, as reprinted by
hertzoffjo.blogspot.com, 2019/02: class 0: 33-40, 1.5-2.25; class 1: 27-32, 2.25-3.25; class 2: 23-26, 3.25-3.75.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from companion.planning.request.plan_request import ROUNDS_PER_STITCH, Needles
from tests.planning.asking import asked, planned

SAMPLES = Path(__file__).parents[2] / "sample_projects"

LACE, SOCK, SPORT = ((33, 40), (1.5, 2.25)), ((27, 32), (2.25, 3.25)), ((23, 26), (3.25, 3.75))


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
