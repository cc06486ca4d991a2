"""Estimated ankles and calves beside those of measured children.

Snyder, Schneider, Owings, Reynolds, Golomb and Schork, Anthropometry of Infants, Children, and Youths to Age 18 for
Product Safety Design, UM-HSRI-77-17, 1977, for the US Consumer Product Safety Commission: a work of its government.
Up to two years the means of its groups by age, but for newborns, who are smaller than any foot of a request. From three
to twelve the medians of its open records of all children with foot, ankle and calf measured, in four parts of the file
as it was copied to GitHub (solcalloni/talle-zapatos): 8 with feet of less than 20 cm, 13 with longer ones.
"""

from __future__ import annotations

from typing import NamedTuple

import pytest

from companion.planning.fit.feet import ANKLE, CALF, SMALL_WOMANS_CM
from companion.planning.request.foot import Foot
from tests.planning.asking import planned

BALL_TO_BREADTH = 2.47
"""Ball circumference to breadth of the feet of ANSUR II, whose breadth is measured in the same place."""


class Child(NamedTuple):
    """Measures in cm of a middling child of an age."""

    age: str
    length: float
    breadth: float
    ankle: float
    calf: float

    @property
    def ball(self) -> float:
        """Round the ball, which was not measured."""
        return BALL_TO_BREADTH * self.breadth

    def foot(self, longer: float = 0.0) -> Foot:
        """The two measures that a request needs."""
        return Foot(ball_circumference_cm=self.ball, length_cm=self.length + longer)


SMALL = (
    Child("3 months", 9.1, 4.0, 11.6, 15.6),
    Child("7 months", 10.0, 4.2, 12.3, 16.9),
    Child("10 months", 10.9, 4.7, 12.9, 18.1),
    Child("13 months", 11.7, 4.9, 13.2, 18.1),
    Child("17 months", 11.9, 5.0, 13.3, 18.4),
    Child("21 months", 12.5, 5.2, 13.6, 19.0),
    Child("3 to 8 years", 16.9, 6.6, 15.5, 22.2),
)
GREAT = Child("9 to 12 years", 22.7, 8.7, 18.8, 28.8)


@pytest.mark.parametrize("child", SMALL, ids=lambda child: child.age)
def test_a_childs_ankle_and_calf_are_estimated_as_they_were_measured(child: Child) -> None:
    assert ANKLE.at(child.foot()) == pytest.approx(child.ankle, abs=0.75)
    assert CALF.at(child.foot()) == pytest.approx(child.calf, abs=1.1)


def test_great_children_are_as_far_from_grown_ones_as_small_ones_are() -> None:
    # A foot of their length may be a small woman's, and is taken for one: they are to be measured.
    grown = GREAT.foot(longer=SMALL_WOMANS_CM - GREAT.length)
    assert ANKLE.at(grown) - ANKLE.childs_less == pytest.approx(GREAT.ankle, abs=0.7)
    assert CALF.at(grown) - CALF.childs_less == pytest.approx(GREAT.calf, abs=0.7)


def test_a_knee_high_for_a_child_that_was_not_measured_stays_up() -> None:
    child = SMALL[-1]
    plan = planned(foot=child.foot().model_dump(), leg={"length_cm": 20}, ease={"circumference_percent": 10})
    under_the_cuff = max(item.after for section in plan.sections if section.key == "leg" for item in section.rounds())
    around = under_the_cuff * 10 / plan.request.gauge.stitches_per_10cm
    assert 0.85 <= around / child.calf <= 0.98, "two percent of ease are the least that stays up"
