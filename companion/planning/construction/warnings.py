"""What a knitter is warned of before casting on."""

from __future__ import annotations

from collections.abc import Mapping

from ..fabric.chart import LONGEST_FLOAT_CM, LONGEST_FLOAT_STITCHES, long_floats
from ..fit.feet import ANKLE, CALF, HEEL_DIAGONAL
from ..fit.shoe_sizes import Span, guessed
from ..fit.stitch_counts import Counts
from ..fit.targets import Fabric, Fit
from ..plan.document import Sizes
from ..request.construction import SoleFabric
from ..request.foot import Guessed
from ..request.plan_request import PlanRequest
from ..stitches.fabric import fabric_by_kind
from ..units import both_units, in_tenths
from .sections.base import Aim, Progress

USUAL_LENGTH_TO_BALL = (0.85, 1.35)
"""Foot length over ball circumference. The 6,068 feet of ANSUR II lie between 0.91 and 1.29."""

USUAL_HEEL = (0.8, 1.25)
"""Measured heel diagonal over its estimate; beyond, a slip is likelier than such a foot (ours).

All feet that the estimate was fitted on lie between 0.90 and 1.12.
"""

USUAL_ANKLE = (0.75, 1.35)
"""Measured ankle over its estimate; beyond, a slip is likelier than such a foot (ours)."""

SHORTEST_CIRCULAR_CM = 20.0
"""The shortest circular needles are 20 to 23 cm long (8 to 9 in; common practice)."""

STRETCHED = 1.15
"""How far knitting is drawn out on such a needle before it is no pleasure to work (ours)."""

WIDE_ENOUGH = 0.08
"""How far a leg may miss the measured one before the plan says so (ours): nearly the usual ease again."""

ESTIMATED_SMALL = (
    "What was not measured is estimated, and a heel from the proportions of adult feet, which a foot this small may "
    "not have: measure the heel and the ankle if you can."
)
"""Said of a foot below adult size."""

LEAST_NYLON = 15
"""Percent; 15 to 25 % is usual in sock yarn (common practice)."""


def foot_length_warnings(aim: Aim, finished: Progress) -> tuple[str, ...]:
    """A warning when the foot will not have the length asked for, to a round."""
    long_by = aim.foot_cm(finished.foot_rounds) - aim.fit.length_target
    if abs(long_by) <= aim.fabric.height(1):
        return ()
    off = f"{both_units(abs(long_by))} {'longer' if long_by > 0 else 'shorter'}"
    return (
        f"The foot becomes {off} than asked: what is knitted, heel and toe leave no other length at this gauge. "
        "Try the sock on as soon as it can be.",
    )


def measurement_warnings(request: PlanRequest, fit: Fit) -> tuple[str, ...]:
    """What to measure again before casting on: a foot that hardly anybody has, or one that is partly a guess."""
    found = []
    ratio = fit.body.length / fit.body.ball
    if not USUAL_LENGTH_TO_BALL[0] <= ratio <= USUAL_LENGTH_TO_BALL[1]:
        found.append(
            f"A foot {both_units(fit.body.length)} long is seldom {both_units(fit.body.ball)} round the ball: "
            "measure both again before casting on."
        )
    usual_heel = HEEL_DIAGONAL.at(request.foot)
    if not USUAL_HEEL[0] <= fit.body.heel_diagonal / usual_heel <= USUAL_HEEL[1]:
        found.append(
            f"A foot of this size is usually about {both_units(usual_heel)} round the heel, and "
            f"{both_units(fit.body.heel_diagonal)} are given: measure the heel diagonal again before casting on."
        )
    usual_ankle = ANKLE.at(request.foot)
    if not USUAL_ANKLE[0] <= fit.body.ankle / usual_ankle <= USUAL_ANKLE[1]:
        found.append(
            f"A foot of this size is usually about {both_units(usual_ankle)} round the ankle, and "
            f"{both_units(fit.body.ankle)} are given: measure the ankle again."
        )
    if fit.body.extrapolated:
        found.append(ESTIMATED_SMALL)
    if guesses := guessed(request.foot):
        found.append(_describe_guess(request, guesses))
    return tuple(found)


def calf_warnings(request: PlanRequest, fit: Fit, counts: Counts, leg_cm: float) -> tuple[str, ...]:
    """A long leg that was not measured, and a measured one that is too wide for its length, which is `leg_cm`."""
    body, leg = fit.body, request.leg
    top = fit.leg.width(counts.top)
    if request.foot.leg_circumference_cm is None:
        if counts.top == counts.leg:
            return ()
        off = both_units(2 * CALF.residual)
        how_long = f"as long as half of the yarn, about {both_units(leg_cm)}," if leg.until != "length" else ""
        return (
            f"A leg {how_long or f'{both_units(leg.length_cm)} long'} reaches the calf, which was not measured: it is "
            f"shaped for one of about {both_units(body.leg)} under the cuff, and may be {off} off. Measure round the "
            "leg there.",
        )
    if leg.until == "length" and fit.top_target - top > WIDE_ENOUGH * fit.top_target:
        return (
            f"A leg of {both_units(leg.length_cm)} is too short to widen to the {both_units(body.leg)} that were "
            f"measured: under the cuff it is {both_units(top)} round. Measure the leg at the height of the cuff.",
        )
    return ()


_GUESSED = {"length_cm": "its length", "ball_circumference_cm": "the way round its ball"}


def _describe_guess(request: PlanRequest, guesses: Mapping[Guessed, Span]) -> str:
    shoe = request.foot.shoe_size
    assert shoe is not None
    spans = (
        f"{_GUESSED[entry]} may be anything from {both_units(span.low)} to {both_units(span.high)}"
        for entry, span in guesses.items()
    )
    return (
        f"The foot is a guess from shoe size {shoe.system} {shoe.size:g}: {', and '.join(spans)}. "
        "Measure it before casting on, or try the sock on as soon as it can be."
    )


def wear_warnings(request: PlanRequest) -> tuple[str, ...]:
    """A warning for each yarn of heel or toe that wears soon."""
    worn: dict[str, list[str]] = {}
    for part, own in (("heel", request.parts.heel), ("toe", request.parts.toe)):
        if part in request.reinforcing_thread.parts:
            continue
        worn.setdefault(own or request.yarns[0].key, []).append(part)
    return tuple(
        f"{yarn.name or 'Yarn'} has {yarn.nylon_percent:g} % nylon; sock yarn usually has 15 to 25 %. "
        f"{' and '.join(worn[yarn.key]).capitalize()} will wear sooner: consider a reinforcing thread there."
        for yarn in request.yarns
        if yarn.key in worn and yarn.nylon_percent < LEAST_NYLON
    )


def needle_length_warnings(request: PlanRequest, narrowest_cm: float) -> tuple[str, ...]:
    """A warning where the sock does not reach round a short circular needle."""
    if request.needles.arrangement != "short circular" or STRETCHED * narrowest_cm >= SHORTEST_CIRCULAR_CM:
        return ()
    return (
        f"The sock is {both_units(narrowest_cm)} round, and does not reach round a short circular needle, which is at "
        f"least {both_units(SHORTEST_CIRCULAR_CM)} long: take double-pointed needles, or a long circular one.",
    )


def stitch_pattern_warnings(request: PlanRequest, fit: Fit) -> tuple[str, ...]:
    """What to mind with a stitch pattern whose gauge was not counted, which is then estimated from its kind."""
    pattern = request.leg.stitch_pattern
    if pattern is None or pattern.is_counted:
        return ()
    likely, own, plain = fabric_by_kind(pattern.rounds), fit.leg.fabric, fit.fabric
    wide, high = (in_tenths(10 * there / here) for there, here in zip(_both(own), _both(plain), strict=True))
    return (
        f"The gauge in the pattern was not counted. It is taken from its kind, {likely.why}: where plain knitting has "
        f"10 stitches and 10 rounds, it has {wide} and {high}. Count it on a swatch in the pattern, washed and laid "
        "flat, ribbing lightly stretched, and try the sock on early.",
    )


SHORTER_SOLES: dict[SoleFabric, str] = {
    "slipped": "a padded sole",
    "offset slipped": "a padded sole",
    "garter": "a sole in garter stitch",
}
"""Soles that become shorter than plain knitting on as many rounds, in words.

b-ark.ca, 2023/10/22: heel stitch on the sole has more rows than plain knitting beside it; rows are added on the sole.
"""


def sole_warnings(request: PlanRequest) -> tuple[str, ...]:
    """What to mind with a sole that draws up: its rounds are those of the plain instep, which decides the length."""
    sole = SHORTER_SOLES.get(request.construction.sole)
    if sole is None:
        return ()
    return (
        f"The rounds of {sole} lie closer than those of the instep, and lengths are calculated by the instep: count "
        "the gauge there, knit the sole loosely, and try the sock on. Where the sole comes out short, knit two rows "
        "more over its stitches alone every 3 cm (1 1/4 in), and close their turns as in a short-row heel.",
    )


FELT = 0.025
"""The part by which the foot is wider or narrower where a pattern ends before it is said (ours): it is then felt."""


def pattern_end_warnings(request: PlanRequest, fit: Fit, sizes: Sizes) -> tuple[str, ...]:
    """A warning where the foot becomes wider or narrower as its pattern ends before the toe."""
    pattern = request.leg.stitch_pattern
    if pattern is None or not pattern.ends_before_toe_cm or not request.instep_follows:
        return ()
    plain, in_pattern = fit.fabric.width(sizes.foot_stitches), sizes.foot_circumference_cm
    if abs(plain / in_pattern - 1) <= FELT:
        return ()
    becomes = "wider" if plain > in_pattern else "narrower"
    return (
        f"Where the pattern ends the foot becomes {becomes}: on the same stitches it is {both_units(plain)} round, and "
        f"in pattern {both_units(in_pattern)}. Let the pattern go on to the toe, or make it a panel.",
    )


def _both(fabric: Fabric) -> tuple[float, float]:
    return fabric.stitches, fabric.rounds


def colour_warnings(request: PlanRequest, fabric: Fabric) -> tuple[str, ...]:
    """What to mind with the chart: long floats, and a gauge that stranding changes."""
    chart = request.leg.chart
    if chart is None or not chart.stranded:
        return ()
    floats = [
        f"row {each.row}: {each.yarn} behind {each.stitches} stitches, {both_units(fabric.width(each.stitches))}"
        for each in long_floats(chart, fabric)
    ]
    tells = f"more than {LONGEST_FLOAT_STITCHES} stitches or {both_units(LONGEST_FLOAT_CM)}"
    long = (f"Long floats ({tells}), to be caught every few stitches: {'; '.join(floats)}.",) if floats else ()
    return (
        *long,
        "Stranded knitting is tighter than plain and stretches less; how much less is assumed. Count the gauge on a "
        "stranded swatch, and where plain and stranded parts differ take a larger needle for the stranded one.",
    )
