"""Stocking handbooks in the public domain.

Mrs. George Cupples, The Stocking-Knitter's Manual (Project Gutenberg 57273): stitches at the ankle, of the heel with
its seam stitch, and rows of the heel. Therese de Dillmont, Encyclopedia of Needlework (Project Gutenberg 20776).
"""

from __future__ import annotations

import pytest

from companion.planning.construction.shaping import FLAP_LEAST, FLAP_MOST, TOE_LEAST, TOE_MOST
from companion.planning.fit.halves import heel_stitches
from tests.planning.asking import planned, section

SEAM_STITCH = 1


@pytest.mark.parametrize(
    ("ankle", "heel"),
    [(42, 21), (54, 27), (62, 31), (78, 39), (94, 47)],  # Cupples: infant, 9-12 months, 2-3 years, lady, gentleman
)
def test_the_heel_is_half_the_ankle_without_the_seam_stitch(ankle: int, heel: int) -> None:
    assert heel_stitches(ankle) == heel - SEAM_STITCH


@pytest.mark.parametrize(("heel", "rows"), [(39, 35), (47, 43)])  # Cupples: lady, gentleman
def test_the_flap_of_a_grown_foot_lies_within_the_limits(heel: int, rows: int) -> None:
    assert FLAP_LEAST <= rows / (heel - SEAM_STITCH) <= FLAP_MOST


def test_a_heel_as_long_as_it_is_wide_lies_within_the_limits() -> None:
    # Dillmont: the heel is as long as it is wide. In rows that is the gauge's ratio, 1.3 to 1.4 (Munden; ball bands).
    for rows_as_long_as_wide in (1.3, 1.4):
        assert FLAP_LEAST <= rows_as_long_as_wide <= FLAP_MOST


def test_the_rows_of_a_flap_are_about_its_stitches() -> None:
    # moderndailyknitting.com: rows about equal to the heel stitches. "About": within a fifth, which is ours.
    # Where the heel is an average one for its ball: 1.36 times it, ANSUR II (NATICK/TR-15/007), men and women alike.
    for ball in (20, 21.5, 23, 24.5, 26, 27.5):
        plan = planned(foot={"ball_circumference_cm": ball, "length_cm": 1.08 * ball, "heel_diagonal_cm": 1.36 * ball})
        heel = heel_stitches(plan.sizes.leg_stitches)
        assert len(section(plan, "heel-flap").rounds()) == pytest.approx(heel, rel=0.2)


def test_the_toe_takes_up_about_a_quarter_of_the_foots_stitches() -> None:
    # Common practice: graft about a quarter of the foot's stitches.
    assert TOE_LEAST < 1 / 4 < TOE_MOST
