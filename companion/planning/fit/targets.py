"""From a request to sizes: what the finished sock should measure, and at which gauge it is knitted."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

from ..plan.document import PartOfSock
from ..request.plan_request import ROUNDS_PER_STITCH, PlanRequest
from ..request.stitch_pattern import StitchPattern
from ..stitches.columns import over_of
from ..stitches.fabric import fabric_by_kind
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

    def width(self, stitches: float) -> float:
        """Width of so many stitches in cm."""
        return stitches / self.stitches

    def height(self, rounds: int) -> float:
        """Height of so many rounds in cm."""
        return rounds / self.rounds


@dataclass(frozen=True)
class Patterned:
    """A leg or an instep that may be in a stitch pattern, whose fabric is not that of plain knitting.

    All of it is, in repeats so wide, or as many stitches as a `panel` has; those over or beside it are as wide as plain
    ones. It is as high as the pattern makes it where all of it is in pattern, and else as what is plain.
    """

    plain: Fabric
    fabric: Fabric
    panel: int | None = None
    repeat: int = 1

    def as_plain(self, stitches: int) -> float:
        """The stitches of plain knitting that are as wide as so many."""
        if self.fabric.stitches == self.plain.stitches:
            return stitches
        in_repeats = stitches - over_of(stitches, self.repeat)
        in_pattern = in_repeats if self.panel is None else min(self.panel, stitches)
        return stitches - in_pattern + in_pattern * self.plain.stitches / self.fabric.stitches

    def width(self, stitches: int) -> float:
        """Width of so many stitches in cm."""
        return self.plain.width(self.as_plain(stitches))

    def stitches_for(self, cm: float) -> float:
        """The stitches that are so wide, in repeats; not yet a whole number."""
        if self.panel is None:
            return cm * self.fabric.stitches
        return cm * self.plain.stitches + self.panel - self.as_plain(self.panel)

    @property
    def rounds(self) -> float:
        """Rounds in a cm."""
        return self.fabric.rounds if self.panel is None else self.plain.rounds

    def height(self, rounds: int) -> float:
        """Height of so many rounds in cm."""
        return rounds / self.rounds


@dataclass(frozen=True)
class Fit:
    """What the sock should measure, in cm; the targets are of the finished, unstretched sock.

    `top_target` is for the leg below the cuff, `leg_target` for the leg above the heel. A leg that is wider than the
    ball of the foot is narrowed to it, so that heel and instep suit the foot. `fabric` is that of plain knitting, `leg`
    and `instep` those of the leg and of the instep of the foot, which may be in a stitch pattern.
    """

    body: Body
    fabric: Fabric
    top_target: float
    leg_target: float
    foot_target: float
    length_target: float
    toe_target: float
    rounds_estimated: bool
    leg: Patterned
    instep: Patterned

    def rounds_of(self, of: PartOfSock) -> float:
        """Rounds in a cm of a part of the sock; a foot is as high as its plain sole."""
        return self.leg.rounds if of == "leg" else self.fabric.rounds

    def foot_as_plain(self, foot: int, instep: int) -> float:
        """The stitches of plain knitting that are as wide as a foot, of whose stitches so many are the instep's."""
        return foot - instep + self.instep.as_plain(instep)

    def around_foot(self, foot: int, instep: int) -> float:
        """The way round such a foot in cm."""
        return self.fabric.width(self.foot_as_plain(foot, instep))


@lru_cache(maxsize=64)  # each way to go on with a sock asks for that of the same few requests
def fit_of(request: PlanRequest) -> Fit:
    """Targets from the foot, the ease and the gauge of a request."""
    body = body_of(request)
    body = replace(body, estimated=(*(f"foot.{entry}" for entry in guessed(request.foot)), *body.estimated))
    stitches = request.gauge.stitches_per_10cm
    rounds = request.gauge.rounds_per_10cm
    smaller = 1 - request.ease.circumference_percent / 100
    plain = Fabric(stitches / 10, (rounds or stitches * ROUNDS_PER_STITCH) / 10)
    pattern = request.leg.stitch_pattern
    own = fabric_in(pattern, plain) if pattern else plain
    on_front, on_leg = _in_panels(pattern)
    leg, instep = Patterned(plain, own, on_leg, request.leg.repeat), Patterned(plain, own, on_front)
    return Fit(
        body=body,
        fabric=plain,
        top_target=body.leg * smaller,
        leg_target=min(body.leg, body.ball) * smaller,
        foot_target=body.ball * smaller,
        length_target=body.length - request.ease.length_cm,
        toe_target=body.length * TOE_SHARE,
        rounds_estimated=rounds is None,
        leg=leg,
        instep=instep if request.instep_follows else Patterned(plain, plain),
    )


def _in_panels(pattern: StitchPattern | None) -> tuple[int | None, int | None]:
    """The stitches of a panel on the front, and of all panels of a leg; None where it is all in pattern."""
    if pattern is None or pattern.panel is None or pattern.placement is None:
        return None, None
    width = pattern.panel.width
    return width, width * (2 if pattern.placement.on == "front and back" else 1)


def fabric_in(pattern: StitchPattern, plain: Fabric) -> Fabric:
    """The fabric of a stitch pattern: what was counted of it, and else what its kind makes of plain knitting."""
    likely, stitches, rounds = fabric_by_kind(pattern.rounds), pattern.stitches_per_10cm, pattern.rounds_per_10cm
    return Fabric(
        stitches / 10 if stitches else plain.stitches * likely.stitches,
        rounds / 10 if rounds else plain.rounds * likely.rounds,
    )
