"""Whether needle and yarn go with a gauge: all three say how thick a fabric is, and a slip in one shows.

The standard yarn weight system of the Craft Yarn Council (as reprinted by hertzoffjo.blogspot.com, 2019/02) has for
each weight of yarn the stitches over 10 cm and the needles. Socks are knitted more firmly than that, on needles one to
three sizes smaller (common practice).
"""

from __future__ import annotations

from typing import NamedTuple

from ..gauge.observations import per_10cm
from ..request.plan_request import PlanRequest
from ..units import both_needle_sizes, both_yardages


class Weight(NamedTuple):
    """A standard weight of yarn: stitches over 10 cm in plain knitting, and needles in mm."""

    stitches: tuple[float, float]
    needles_mm: tuple[float, float]


WEIGHTS = (
    Weight((33, 40), (1.5, 2.25)),
    Weight((27, 32), (2.25, 3.25)),
    Weight((23, 26), (3.25, 3.75)),
    Weight((21, 24), (3.75, 4.5)),
    Weight((16, 20), (4.5, 5.5)),
    Weight((12, 15), (5.5, 8.0)),
)

FIRMER, LOOSER = 0.7, 1.3
"""How far below and above the needles of the table one may be (ours): a firm sock, and a loose one."""

THIN, THICK = 0.9, 0.22
"""Metres in 100 g over the square of the stitches in 10 cm, beyond which a yarn is too thin or too thick (ours).

The usual yarns of all weights have 0.4 to 0.65 (twistedyarnshop.com, yarn weights, in yards and ounces).
"""


def needles_for(stitches_per_10cm: float) -> tuple[float, float]:
    """The needles in mm that the table has for a gauge; near a border between weights those of both."""
    near = [each for each in WEIGHTS if each.stitches[0] - 1 <= stitches_per_10cm <= each.stitches[1] + 1]
    near = near or [WEIGHTS[0]]
    return min(each.needles_mm[0] for each in near), max(each.needles_mm[1] for each in near)


def thickness_warnings(request: PlanRequest) -> tuple[str, ...]:
    """A warning for a needle, and one for a main yarn, that hardly give the gauge of a request."""
    return (*_needle(request), *_yarn(request))


def _needle(request: PlanRequest) -> tuple[str, ...]:
    gauge, size = request.gauge.stitches_per_10cm, request.needles.size_mm
    least, most = needles_for(gauge)
    if FIRMER * least <= size <= LOOSER * most:
        return ()
    small = size < least
    return (
        f"A gauge of {per_10cm(gauge)} is seldom knitted on {both_needle_sizes(size)}: needles of "
        f"{both_needle_sizes(least)} to {both_needle_sizes(most)} are usual for it, and somewhat smaller ones for "
        f"firm socks. Count the gauge again, or take a {'larger' if small else 'smaller'} needle.",
    )


def _yarn(request: PlanRequest) -> tuple[str, ...]:
    gauge, yarn = request.gauge.stitches_per_10cm, request.yarns[0]
    long = yarn.metres_per_100g / gauge**2
    if THICK <= long <= THIN:
        return ()
    how = "thin" if long > THIN else "thick"
    return (
        f"A yarn of {both_yardages(yarn.metres_per_100g)} is {how} for a gauge of {per_10cm(gauge)}: look at the ball "
        "band again. What the socks take is calculated from it.",
    )
