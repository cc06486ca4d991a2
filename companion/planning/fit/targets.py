"""From a request to sizes: what the finished sock should measure, and at which gauge it is knitted."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from ..request.plan_request import ROUNDS_PER_STITCH, PlanRequest
from .feet import TOE_SHARE, Body, body_of
from .shoe_sizes import guessed


def nearest(value: float) -> int:
    """The nearest whole number; a half goes up, because one more stitch or round is the kinder mistake."""
    return math.floor(value + 0.5)


def nearest_multiple(value: float, of: int) -> int:
    """The multiple of `of` nearest to the value, half way up, and at least one of them."""
    return max(of, nearest(value / of) * of)


@dataclass(frozen=True)
class Fabric:
    """Gauge per cm: stitches across and rounds up."""

    stitches: float
    rounds: float

    def width(self, stitches: int) -> float:
        """Width of so many stitches in cm."""
        return stitches / self.stitches

    def height(self, rounds: int) -> float:
        """Height of so many rounds in cm."""
        return rounds / self.rounds


@dataclass(frozen=True)
class Fit:
    """What the sock should measure, in cm; the targets are of the finished, unstretched sock.

    `top_target` is for the leg below the cuff, `leg_target` for the leg above the heel. A leg that is wider than the
    ball of the foot is narrowed to it, so that heel and instep suit the foot.
    """

    body: Body
    fabric: Fabric
    top_target: float
    leg_target: float
    foot_target: float
    length_target: float
    toe_target: float
    rounds_estimated: bool


def fit_of(request: PlanRequest) -> Fit:
    """Targets from the foot, the ease and the gauge of a request."""
    body = body_of(request)
    body = replace(body, estimated=(*(f"foot.{entry}" for entry in guessed(request.foot)), *body.estimated))
    stitches = request.gauge.stitches_per_10cm
    rounds = request.gauge.rounds_per_10cm
    smaller = 1 - request.ease.circumference_percent / 100
    return Fit(
        body=body,
        fabric=Fabric(stitches / 10, (rounds or stitches * ROUNDS_PER_STITCH) / 10),
        top_target=body.leg * smaller,
        leg_target=min(body.leg, body.ball) * smaller,
        foot_target=body.ball * smaller,
        length_target=body.length - request.ease.length_cm,
        toe_target=body.length * TOE_SHARE,
        rounds_estimated=rounds is None,
    )
