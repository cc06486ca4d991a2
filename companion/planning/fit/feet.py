"""The measures of a foot: those taken, and estimates of the others.

The lines are least squares fits on 6,068 measured adult feet (ANSUR II, 2012 US Army survey, report
NATICK/TR-15/007, approved for public release). Ankles and calves of children lie below them by as much at every size
from newborn to twelve years (Snyder and others, Anthropometry of Infants, Children, and Youths to Age 18 for Product
Safety Design, UM-HSRI-77-17, 1977). No public table of children's heels was found: a heel is taken to have the
proportions of an adult's, within what is usual among these feet.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..request.foot import Foot
from ..request.plan_request import PlanRequest

SHORTEST_FITTED_CM = 19.8
"""The shortest foot in the survey."""

SMALL_WOMANS_CM = 22.6
"""The length that nineteen in twenty women's feet of the survey have: a shorter one is the likelier a child's."""

TOE_SHARE = 0.19
"""The toe's share of the foot: 4 to 5 cm on an adult; common practice says 1 1/2 to 2 in."""


@dataclass(frozen=True)
class Line:
    """`constant + by_ball x ball circumference + by_length x foot length`, all cm; `residual` is one deviation.

    A child's measure is less by `childs_less` cm. `least` and `most` are parts of the ball circumference that hold nine
    in ten of the measured feet, where nothing is known of children.
    """

    constant: float
    by_ball: float
    by_length: float
    residual: float
    childs_less: float = 0.0
    least: float = 0.0
    most: float = math.inf

    def at(self, foot: Foot) -> float:
        """The estimate for this foot, in cm; below the measured ones the line may lead away from any likely foot."""
        ball = foot.ball_circumference_cm
        found = self.constant + self.by_ball * ball + self.by_length * foot.length_cm
        found -= self.childs_less * _as_a_childs(foot.length_cm)
        if foot.length_cm >= SHORTEST_FITTED_CM:
            return found
        return max(self.least * ball, min(self.most * ball, found))


def _as_a_childs(length_cm: float) -> float:
    """How far a foot is taken for a child's: from the shortest of the grown ones on less and less (ours)."""
    return max(0.0, min(1.0, (SMALL_WOMANS_CM - length_cm) / (SMALL_WOMANS_CM - SHORTEST_FITTED_CM)))


HEEL_DIAGONAL = Line(0.39, 0.570, 0.720, 0.8, least=1.29, most=1.45)
ANKLE = Line(5.4, 0.618, 0.075, 1.1, childs_less=1.0)
CALF = Line(11.4, 1.19, -0.07, 2.4, childs_less=7.1)
"""The calf at its widest."""

LONG_LEG_CM = 18
"""A longer leg reaches up to the calf, and is shaped for it (ours; a leg of 6 to 8 in is common practice)."""


def long_leg_cm(foot: Foot) -> float:
    """The length from which on a leg is shaped: that of grown ones, or where a child's calf is widest."""
    return min(LONG_LEG_CM, foot.length_cm)


NEARLY_AS_WIDE = 0.95
"""The part of the ball from which on a leg gets the foot's stitches: a foot up to 5 % wider is knitted on one count."""

STRAIGHT_CM = 5
"""From the heel up so far a leg is no wider than the foot: above it the calf begins (common practice)."""


@dataclass(frozen=True)
class Body:
    """A foot with nothing missing, in cm; `estimated` names the entries that were not measured.

    `leg` is as round as the leg is where the cuff sits, or as the ball where a short leg was not measured or is nearly
    as wide.
    """

    ball: float
    length: float
    heel_diagonal: float
    ankle: float
    leg: float
    estimated: tuple[str, ...]

    @property
    def extrapolated(self) -> bool:
        """Whether the estimates reach below the feet that they were fitted on."""
        return bool(self.estimated) and self.length < SHORTEST_FITTED_CM


def calf_at(foot: Foot, height_cm: float) -> float:
    """How round a leg that was not measured is so far above the heel, in cm.

    It is widest a foot's length up (ours), and as round as the ball up to where the calf begins; between them it
    widens evenly.
    """
    ball, widest = foot.ball_circumference_cm, CALF.at(foot)
    share = (height_cm - STRAIGHT_CM) / (foot.length_cm - STRAIGHT_CM)
    return ball + max(0.0, min(1.0, share)) * max(0.0, widest - ball)


def body_of(request: PlanRequest) -> Body:
    """The measured foot, with the missing measurements estimated.

    A leg that was not measured is as round as the ball, and a long one as the calf where its cuff sits. A measured
    ankle says nothing of the leg: it is the narrowest place, and a sock cut to it has too small a heel.
    """
    foot = request.foot
    optional = ("heel_diagonal_cm", "ankle_circumference_cm", "leg_circumference_cm")
    return Body(
        ball=foot.ball_circumference_cm,
        length=foot.length_cm,
        heel_diagonal=foot.heel_diagonal_cm or HEEL_DIAGONAL.at(foot),
        ankle=foot.ankle_circumference_cm or ANKLE.at(foot),
        leg=_leg(request),
        estimated=tuple(f"foot.{entry}" for entry in optional if getattr(foot, entry) is None),
    )


def _leg(request: PlanRequest) -> float:
    ball, measured, leg = request.foot.ball_circumference_cm, request.foot.leg_circumference_cm, request.leg
    if measured is not None:
        return ball if NEARLY_AS_WIDE * ball <= measured < ball else measured
    long = leg.until == "length" and leg.length_cm > long_leg_cm(request.foot)
    return calf_at(request.foot, leg.length_cm) if long else ball
