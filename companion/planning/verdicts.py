"""How the sock will sit on the foot, in plain words."""

from __future__ import annotations

from .document import Sizes, Verdict
from .feet import Body
from .units import both_units

GOOD_PASS, SNUG_PASS = 1.15, 1.30
"""Heel diagonal over heel pass up to which the sock goes on well, and at all. These two limits are ours."""

LOOSE_EASE, GOOD_EASE, SNUG_EASE = 2.0, 16.0, 25.0
"""Ease in percent: below the first it slips, up to the second it sits well, above the third it does not go on.

10 % is the usual negative ease and 10 to 15 % the usual range (common practice); the limits round them are ours.
"""

MORE_ROOM = {
    "short-row": "A heel with a gusset has more room.",
    "afterthought": "A heel with a gusset has more room.",
    "short-row with gusset": "Measure the heel diagonal again, or take a heel flap.",
    "flap": "Measure the heel diagonal again.",
}
"""What helps where a sock with this heel does not go on (common practice)."""


def _over_the_heel(sizes: Sizes, body: Body, heel: str) -> Verdict:
    stretch = body.heel_diagonal / sizes.heel_pass_cm
    verdict = "good" if stretch <= GOOD_PASS else "snug" if stretch <= SNUG_PASS else "will not go on"
    known = "estimated" if "foot.heel_diagonal_cm" in body.estimated else "measured"
    how = f"has to stretch by {100 * (stretch - 1):.0f} %" if stretch > 1.005 else "goes on without stretching"
    remedy = f" {MORE_ROOM[heel]}" if verdict == "will not go on" else ""
    return Verdict.model_validate(
        {
            "what": "Over the heel",
            "verdict": verdict,
            "why": f"{both_units(body.heel_diagonal)} round the heel, {known}, pass through "
            f"{both_units(sizes.heel_pass_cm)} of sock, which {how}.{remedy}",
        }
    )


def smaller_by(percent: float) -> str:
    """How much smaller the sock is than what it goes round; less than 0 is larger."""
    if percent == 0:
        return "as large"
    return f"{abs(percent):g} % {'smaller' if percent > 0 else 'larger'}"


def _round_about(what: str, finished: float, around: float, known: str) -> Verdict:
    ease = 100 * (1 - finished / around)
    verdict = (
        "loose"
        if ease < LOOSE_EASE
        else "good"
        if ease <= GOOD_EASE
        else "snug"
        if ease <= SNUG_EASE
        else "will not go on"
    )
    remedy = " Take more stitches, or allow less ease." if verdict == "will not go on" else ""
    return Verdict.model_validate(
        {
            "what": what,
            "verdict": verdict,
            "why": f"{both_units(finished)} of sock for {both_units(around)}, {known}: "
            f"{smaller_by(round(ease))}.{remedy}",
        }
    )


def verdicts_of(sizes: Sizes, body: Body, heel: str) -> tuple[Verdict, ...]:
    """Heel, foot and leg, each with its reason."""
    ankle = "estimated" if "foot.ankle_circumference_cm" in body.estimated else "measured"
    ball = "a guess" if "foot.ball_circumference_cm" in body.estimated else "measured"
    return (
        _over_the_heel(sizes, body, heel),
        _round_about("Round the foot", sizes.foot_circumference_cm, body.ball, ball),
        _round_about("Round the ankle", sizes.leg_cm, body.ankle, ankle),
    )
