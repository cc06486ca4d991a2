"""How the sock will sit on the foot, in plain words."""

from __future__ import annotations

from typing import Literal

from ..fit.feet import ANKLE, HEEL_DIAGONAL, Body
from ..plan.document import Sizes, Verdict
from ..units import both_units

GOOD_PASS, SNUG_PASS = 1.15, 1.30
"""Heel diagonal over heel pass up to which the sock goes on well, and at all.

Plain fabric stretches by 30 to 60 % in width (published for plain jersey): up to the least of it any such sock goes on.
That half of it goes on well is ours. A ribbing is not in the way: k1 p1 stretches to 1.96 times its width and k2 p2 to
2.23 (gulfcoastmakers.com, on how ribbing is measured). Of stranded fabric, which stretches less, no published figure
was found: that its usual ease is half of that of plain fabric is common practice, and stands in for one.
"""

EXTREME = 2
"""Deviations of an estimate that hold 95 in 100 feet: a bad fit is reported of an estimate only beyond them."""

LOOSE_EASE, GOOD_EASE, SNUG_EASE = 2.0, 16.0, 25.0
"""Ease in percent: below the first it slips, up to the second it sits well, above the third it does not go on.

10 % is the usual negative ease, 10 to 15 and 10 to 20 % are given as the usual range (knitfrillsfood.blogspot.com,
2014/09; 3sleeves.blogspot.com, 2008/07). 25 % is an assumption: a handbook lets the stretchiest socks be so much
smaller (How to Knit Socks, ISBN 978-1-61212-542-8, on fit, of which only an excerpt was seen), and plain fabric that is
25 % smaller stretches by 33 %, near the least that is published. The other limits are ours.
"""


def _over_the_heel(sizes: Sizes, body: Body, more_room: str, *, stranded: bool) -> Verdict:
    known = "estimated" if "foot.heel_diagonal_cm" in body.estimated else "measured"
    least = body.heel_diagonal if known == "measured" else _least_likely_heel(body)
    stretch = body.heel_diagonal / sizes.heel_pass_cm
    goes_on = least / sizes.heel_pass_cm <= SNUG_PASS
    verdict = "good" if stretch <= GOOD_PASS else "snug" if goes_on else "will not go on"
    so_far = ": that stranded knitting does is assumed" if stranded and goes_on else ""
    how = f"has to stretch by {100 * (stretch - 1):.0f} %{so_far}" if stretch > 1.005 else "goes on without stretching"
    remedy = f" {more_room}" if verdict == "will not go on" else ""
    return Verdict.model_validate(
        {
            "what": "Over the heel",
            "verdict": verdict,
            "why": f"{both_units(body.heel_diagonal)} round the heel, {known}, pass through "
            f"{both_units(sizes.heel_pass_cm)} of sock, which {how}.{remedy}",
        }
    )


def _least_likely_heel(body: Body) -> float:
    """The smallest heel diagonal in cm that a foot may well have; a child's may have any usual proportion."""
    least = body.heel_diagonal - EXTREME * HEEL_DIAGONAL.residual
    return min(least, HEEL_DIAGONAL.least * body.ball) if body.extrapolated else least


def smaller_by(percent: float) -> str:
    """How much smaller the sock is than what it goes round; less than 0 is larger."""
    if percent == 0:
        return "as large"
    return f"{abs(percent):g} % {'smaller' if percent > 0 else 'larger'}"


def _sits(ease: float) -> Literal["loose", "good", "snug", "will not go on"]:
    if ease < LOOSE_EASE:
        return "loose"
    return "good" if ease <= GOOD_EASE else "snug" if ease <= SNUG_EASE else "will not go on"


def _round_about(what: str, finished: float, around: float, known: str) -> Verdict:
    ease = 100 * (1 - finished / around)
    verdict = _sits(ease)
    remedy = " Take more stitches, or allow less ease." if verdict == "will not go on" else ""
    return Verdict(
        what=what,
        verdict=verdict,
        why=f"{both_units(finished)} of sock for {both_units(around)}, {known}: {smaller_by(round(ease))}.{remedy}",
    )


def is_loose(sizes: Sizes, body: Body) -> bool:
    """Whether the leg slips on the ankle."""
    return _sits(100 * (1 - sizes.leg_cm / body.ankle)) == "loose"


def _worth_telling(finished: float, around: float) -> bool:
    """Whether an ankle that was estimated would be a bad fit even where the estimate is far off."""
    off = EXTREME * ANKLE.residual
    at_least, at_most = (100 * (1 - finished / ankle) for ankle in (around - off, around + off))
    return _sits(at_most) == "loose" or _sits(at_least) == "will not go on"


def verdicts_of(sizes: Sizes, body: Body, more_room: str, *, stranded: bool) -> tuple[Verdict, ...]:
    """Heel, foot and ankle, each with its reason. `more_room` is what helps where the heel does not go on.

    Of a `stranded` sock it is said that its stretch is assumed.

    Of an ankle that was not measured nothing is said, unless the leg would be a bad fit on nearly every foot like it.
    """
    ball = "a guess" if "foot.ball_circumference_cm" in body.estimated else "measured"
    estimated = "foot.ankle_circumference_cm" in body.estimated
    ankle = _round_about("Round the ankle", sizes.leg_cm, body.ankle, "estimated" if estimated else "measured")
    return (
        _over_the_heel(sizes, body, more_room, stranded=stranded),
        _round_about("Round the foot", sizes.foot_circumference_cm, body.ball, ball),
        *((ankle,) if not estimated or _worth_telling(sizes.leg_cm, body.ankle) else ()),
    )
