"""Stitch counts to choose from: those near the target that suit the ribbing and the chart."""

from __future__ import annotations

import math
from dataclasses import dataclass

from .document import Choice
from .faults import CannotKnitError, Fault
from .fit import Fit, nearest_multiple
from .request import PlanRequest
from .rib import rib_width
from .units import both_units

FEWEST_STITCHES = 16
"""A heel of eight stitches is the smallest that the round turn can be worked on."""

MISS = 0.04
"""How far a count that suits the ribbing may miss the target before the leg gets a count of its own (ours)."""

LEFT_AS_IT_IS = 0.06
"""How far the foot's stitches may be from those asked for above the heel for a leg from the toe up to begin with them.

A leg that is shaped anyway is not changed first by a few stitches. At the usual ease the ankle still sits well (ours).
"""

LEAST_EASE, MOST_EASE = -5.0, 25.0
"""Ease in percent outside which a count is not offered; the limits of the request."""

LEG_TO_FOOT = (0.75, 1.3)
"""Leg stitches for each foot stitch between which a heel over half of the leg makes a sock (ours)."""

LEG_TO_ANKLE = (0.75, 2.2)
"""How many times the ankle a leg may be. The widest calf of ANSUR II is about twice its ankle; limits ours."""

MOST_CHOICES = 6
"""Counts offered at once: the five nearest, and one in force that is not among them."""


@dataclass(frozen=True)
class Counts:
    """The stitch counts of a sock: the cuff, the leg below it (`top`) and above the heel (`leg`), and the foot."""

    cuff: int
    top: int
    leg: int
    foot: int


def leg_repeat(request: PlanRequest) -> int:
    """The number that the leg's stitches must be a multiple of: the chart's repeat, and even."""
    return math.lcm(request.leg.chart.width if request.leg.chart else 1, 2)


def repeat_of(request: PlanRequest) -> int:
    """The number that one count for cuff and leg must be a multiple of: ribbing and chart, and even."""
    return math.lcm(rib_width(request.cuff.rib), leg_repeat(request))


def _near(count: int, wanted: float) -> bool:
    return abs(count - wanted) <= MISS * wanted


def starting_counts(request: PlanRequest, fit: Fit) -> Counts:
    """The counts nearest to the targets.

    Raises CannotKnitError when the sock would have too few stitches for a heel.
    """
    at_top = fit.top_target * fit.fabric.stitches
    above_the_heel = fit.leg_target * fit.fabric.stitches
    cuff = top = nearest_multiple(at_top, repeat_of(request))
    if not _near(cuff, at_top):
        top = nearest_multiple(at_top, leg_repeat(request))
        # A count of its own for the ribbing helps only where the leg's does not suit it.
        own = nearest_multiple(at_top, math.lcm(rib_width(request.cuff.rib), 2))
        cuff = own if top % repeat_of(request) else top
    shaped = fit.leg_target != fit.top_target
    leg = nearest_multiple(above_the_heel, leg_repeat(request)) if shaped else top
    foot = nearest_multiple(fit.foot_target * fit.fabric.stitches, 2)
    if shaped and request.construction.direction == "toe-up" and foot % leg_repeat(request) == 0:
        leg = foot if abs(foot - above_the_heel) <= LEFT_AS_IT_IS * above_the_heel else leg
    for name, count in (("leg", leg), ("cuff", cuff), ("foot", foot)):
        if count < FEWEST_STITCHES:
            raise CannotKnitError(
                Fault(
                    "gauge.stitches_per_10cm",
                    f"{request.gauge.stitches_per_10cm:g}",
                    f"the {name} would have {count} stitches, and a sock needs {FEWEST_STITCHES} or more; "
                    "take a finer yarn, check the foot's measurements, or allow less ease",
                )
            )
    _a_leg_for_the_ankle(request, fit)
    _heel_on_half_the_leg(request, fit, top, leg / foot)
    return Counts(cuff, top, leg, foot)


MOST_MISS = 0.12
"""How far the chart's repeat may take the leg from the stitches asked for (ours): about the usual ease again."""


def refuse_too_wide_a_repeat(request: PlanRequest, fit: Fit, top: int) -> None:
    """Raises CannotKnitError for a chart so wide that no number of repeats comes near the leg."""
    chart = request.leg.chart
    wanted = fit.top_target * fit.fabric.stitches
    if chart and abs(top - wanted) > MOST_MISS * wanted:
        raise CannotKnitError(
            Fault(
                "leg.chart.width",
                f"{chart.width}",
                f"the leg asks for {wanted:.0f} stitches, and the nearest that the repeat gives is {top}; "
                "take a repeat that is narrower or goes into the leg more evenly",
            )
        )


def _a_leg_for_the_ankle(request: PlanRequest, fit: Fit) -> None:
    low, high = (limit * fit.body.ankle for limit in LEG_TO_ANKLE)
    if fit.top_target != fit.leg_target and not low <= fit.body.leg <= high:
        known = "estimated" if "foot.ankle_circumference_cm" in fit.body.estimated else "measured"
        raise CannotKnitError(
            Fault(
                "foot.leg_circumference_cm",
                f"{request.foot.leg_circumference_cm:g}",
                f"a leg over an ankle of {both_units(fit.body.ankle)}, {known}, is {both_units(low)} to "
                f"{both_units(high)} round; "
                "measure both again",
            )
        )


def _heel_on_half_the_leg(request: PlanRequest, fit: Fit, top: int, leg_to_foot: float) -> None:
    low, high = LEG_TO_FOOT
    if not low <= leg_to_foot <= high:
        refuse_too_wide_a_repeat(request, fit, top)
        shaped = fit.leg_target != fit.top_target
        entry = "leg" if request.foot.leg_circumference_cm is not None and not shaped else "ankle"
        given = request.foot.ankle_circumference_cm if entry == "ankle" else request.foot.leg_circumference_cm
        ball = request.foot.ball_circumference_cm
        raise CannotKnitError(
            Fault(
                f"foot.{entry}_circumference_cm",
                f"{given:g}" if given else "",
                f"above the heel the leg suits {both_units(low * ball)} to {both_units(high * ball)} on a foot "
                f"{both_units(ball)} round the ball; measure ball and {entry} again",
            )
        )


def _ease(stitches: int, fit: Fit) -> float:
    return 100 * (1 - fit.fabric.width(stitches) / fit.body.leg)


def _off(stitches: int, fit: Fit) -> str:
    wanted = fit.top_target * fit.fabric.stitches
    miss = stitches - wanted
    off = "on" if abs(miss) < 0.05 else f"{abs(miss):.1f} {'over' if miss > 0 else 'under'}"
    return f"{off} the {wanted:.1f} stitches asked for"


def _one_count_for_all(stitches: int, request: PlanRequest, fit: Fit) -> str:
    rib, chart = request.cuff.rib, request.leg.chart
    if chart is None or chart.width == 1:
        repeat = repeat_of(request)
        return f"{stitches // repeat} repeats of {repeat} for {rib}; {_off(stitches, fit)}"
    ribs, charts = stitches // rib_width(rib), stitches // chart.width
    return f"one count for all: {ribs} repeats of {rib} and {charts} of the chart; {_off(stitches, fit)}"


def _counts_of_their_own(stitches: int, cuff: int, request: PlanRequest, fit: Fit) -> str:
    change = f"the ribbing on {cuff}, then {stitches} in the leg, changed evenly in one round"
    chart = request.leg.chart
    if chart is None or chart.width == 1:
        return f"nearest to the size asked for: {change}"
    return f"{change}, for {stitches // chart.width} repeats of the chart; {_off(stitches, fit)}"


def choices_of(request: PlanRequest, fit: Fit, counts: Counts, *, begun: bool) -> tuple[Choice, ...]:
    """Three to five counts round the target, with the one in force marked.

    Where ribbing and chart go into different counts, both ways out are among them: one count for all, and counts of
    their own. Fewer are offered where the next ones would not fit a foot any more. Once a sock is `begun` the count
    in force is what the leg has or gets on the needles.
    """
    wanted = fit.top_target * fit.fabric.stitches
    repeat = repeat_of(request)
    offered = {count: _one_count_for_all(count, request, fit) for count in _round_about(wanted, repeat, counts, fit)}
    if request.leg.chart:
        for count in _round_about(wanted, leg_repeat(request), counts, fit):
            # Asked for by its own ease, a count so near to one that suits both would become that one.
            if not _near(nearest_multiple(count, repeat), count):
                its_own = nearest_multiple(count, math.lcm(rib_width(request.cuff.rib), 2))
                cuff = counts.cuff if count == counts.top else its_own
                offered.setdefault(count, _counts_of_their_own(count, cuff, request, fit))
    if begun:
        offered[counts.top] = "the leg of the sock that is on the needles"
    elif counts.top not in offered:
        offered[counts.top] = _counts_of_their_own(counts.top, counts.cuff, request, fit)
    nearest_first = sorted(offered, key=lambda count: (count != counts.top, abs(count - wanted)))
    return tuple(
        Choice(
            stitches=count,
            finished_cm=round(fit.fabric.width(count), 2),
            ease_percent=round(_ease(count, fit), 2),
            chosen=count == counts.top,
            why=offered[count],
        )
        for count in sorted(nearest_first[:MOST_CHOICES])
    )


def _round_about(wanted: float, repeat: int, counts: Counts, fit: Fit) -> list[int]:
    """Up to five multiples of the repeat that are near the target and would fit a foot."""
    middle = nearest_multiple(wanted, repeat)
    return [
        count
        for count in range(middle - 2 * repeat, middle + 2 * repeat + 1, repeat)
        if count >= FEWEST_STITCHES and (count == counts.top or LEAST_EASE <= _ease(count, fit) <= MOST_EASE)
    ]
