"""The heights of socks by name, and how long leg and cuff of each are on a foot.

For an adult a leg of 6 to 8 in with 1.5 to 2 in of ribbing is usual (yarnbecomewhatyouare.wordpress.com, and common
practice): that is the crew sock. Typical legs have 4 to 8 in (knitting.about.com, "sock leg"), up to the calf; a sock
below the knee keeps up by a deep cuff, 3 in below 12 in of leg for a woman (diananatters.blogspot.com, "making a knee
sock"). The longer ones of two lengths of half hose have 11 to 15 in from the bottom of the heel to the top
(knittingmagic.biz, "types of hosiery", and ho-hose.co.uk): a mid-calf sock. On shortie socks the leg is almost nothing
(knitting.about.com), and an inch of ribbing is the least (slippedstitches.wordpress.com, "cuff down socks"): the ankle
sock, whose leg is from memory, as the footlet is.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import NamedTuple

from ..request.cuff import Cuff
from ..request.plan_request import Leg

ADULTS_FOOT_CM = 25
"""The foot that the lengths are given for; on another they are in proportion to it (ours)."""

LEAST_LEG_CM, LEAST_CUFF_CM = 1.0, 1.5
"""Less is no leg and no cuff that can be knitted and seen (ours)."""


class Height(NamedTuple):
    """Cm of the leg between cuff and heel, and of the cuff, on an adult's foot, and how high the sock comes."""

    leg: float
    cuff: float
    reaches: str


HEIGHTS: Mapping[str, Height] = {
    "footlet": Height(1, 1.5, "below the ankle bone"),
    "ankle": Height(3, 2.5, "above the ankle bone"),
    "crew": Height(Leg().length_cm, Cuff().length_cm, "to the calf"),
    "mid-calf": Height(20, 5, "halfway up the calf"),
    "knee": Height(28, 7, "below the knee"),
}
"""From the lowest to the highest. The crew sock is as long as one that nothing is said of."""


def lengths_of(name: str, foot_length_cm: float) -> tuple[float, float]:
    """Leg and cuff of a sock of this height on a foot, in cm and to the half of one."""
    height, part = HEIGHTS[name], foot_length_cm / ADULTS_FOOT_CM
    return max(LEAST_LEG_CM, _half(height.leg * part)), max(LEAST_CUFF_CM, _half(height.cuff * part))


def _half(cm: float) -> float:
    """The nearest half, up where both are as near."""
    return math.floor(2 * cm + 0.5) / 2
