"""What can be said of a foot from the measurements that were taken.

The lines are least squares fits on 6,068 measured adult feet (ANSUR II, 2012 US Army survey, report
NATICK/TR-15/007, approved for public release). Below adult size they are extrapolated.
"""

from __future__ import annotations

from dataclasses import dataclass

from .request import Foot

SHORTEST_FITTED_CM = 19.8
"""The shortest foot in the survey."""

TOE_SHARE = 0.19
"""The toe's share of the foot: 4 to 5 cm on an adult; common practice says 1 1/2 to 2 in."""


@dataclass(frozen=True)
class Line:
    """`constant + by_ball x ball circumference + by_length x foot length`, all cm; `residual` is one deviation."""

    constant: float
    by_ball: float
    by_length: float
    residual: float

    def at(self, foot: Foot) -> float:
        """The estimate for this foot, in cm."""
        return self.constant + self.by_ball * foot.ball_circumference_cm + self.by_length * foot.length_cm


HEEL_DIAGONAL = Line(0.39, 0.570, 0.720, 0.8)
ANKLE = Line(5.4, 0.618, 0.075, 1.1)


@dataclass(frozen=True)
class Body:
    """A foot with nothing missing, in cm; `estimated` names the entries that were not measured."""

    ball: float
    length: float
    heel_diagonal: float
    ankle: float
    leg: float
    estimated: tuple[str, ...]
    leg_from: str

    @property
    def extrapolated(self) -> bool:
        """Whether the estimates reach below the feet that they were fitted on."""
        return bool(self.estimated) and self.length < SHORTEST_FITTED_CM


def body_of(foot: Foot) -> Body:
    """The measured foot, with the missing measurements estimated.

    The leg is as round as was measured; without a measurement as round as the ankle, and without that as the
    ball: craft writing takes ankle and ball as equal within 5 %.
    """
    estimated = []
    if foot.heel_diagonal_cm is None:
        estimated.append("foot.heel_diagonal_cm")
    if foot.ankle_circumference_cm is None:
        estimated.append("foot.ankle_circumference_cm")
    leg, leg_from = foot.ball_circumference_cm, "the ball of the foot"
    if foot.leg_circumference_cm is not None:
        leg, leg_from = foot.leg_circumference_cm, "the leg"
    elif foot.ankle_circumference_cm is not None:
        leg, leg_from = foot.ankle_circumference_cm, "the ankle"
    if foot.leg_circumference_cm is None:
        estimated.append("foot.leg_circumference_cm")
    return Body(
        ball=foot.ball_circumference_cm,
        length=foot.length_cm,
        heel_diagonal=foot.heel_diagonal_cm or HEEL_DIAGONAL.at(foot),
        ankle=foot.ankle_circumference_cm or ANKLE.at(foot),
        leg=leg,
        estimated=tuple(estimated),
        leg_from=leg_from,
    )
