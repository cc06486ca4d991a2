"""Grown feet, small, average and large in every measure.

ANSUR II, 2012 US Army survey, report NATICK/TR-15/007, approved for public release: 4,082 men and 1,986 women. The
5th, 50th and 95th percentile of each measure and its mean; a foot that is small in one measure need not be so in
another, so these are sizes, not persons.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class MeasuredFoot:
    """Measures in mm, as the survey has them. The heel diagonal is its heel-ankle circumference."""

    sex: str
    length: int
    ball: int
    ankle: int
    heel_diagonal: int

    def ball_and_length(self) -> dict[str, float]:
        """The two measurements that a request needs, in cm."""
        return {"ball_circumference_cm": self.ball / 10, "length_cm": self.length / 10}

    def all_measures(self) -> dict[str, float]:
        """Every measurement that a request takes, in cm; the sock's leg is fitted to the ankle."""
        return self.ball_and_length() | {
            "ankle_circumference_cm": self.ankle / 10,
            "heel_diagonal_cm": self.heel_diagonal / 10,
        }


SMALL = (MeasuredFoot("M", 250, 232, 206, 317), MeasuredFoot("F", 226, 209, 193, 287))
AVERAGE = (MeasuredFoot("M", 271, 252, 228, 343), MeasuredFoot("F", 246, 227, 215, 310))
LARGE = (MeasuredFoot("M", 293, 273, 254, 372), MeasuredFoot("F", 268, 248, 242, 337))
