"""Stitch counts to choose from: those near the target that suit the ribbing and the pattern."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from ..faults import CannotKnitError, Fault
from ..plan.document import Choice
from ..request.plan_request import PlanRequest
from ..request.rib import rib_width
from ..units import both_units
from .feet import STRAIGHT_CM
from .halves import front_of
from .targets import Fit, nearest, nearest_multiple

FEWEST_STITCHES = 16
"""A heel of eight stitches is the smallest that the round turn can be worked on."""

MISS = 0.04
"""How far a count that suits the ribbing may miss the target before the leg gets a count of its own (ours)."""

ALIKE = 2
"""Stitches by which counts for one size may differ and still be made one: the leg's, which suits the ribbing."""

WIDER_THAN_RIB = 1.1
"""Times a ribbing's stitches that the leg may have before the next wider ribbing is taken (ours): ribbing stretches."""

STEEPEST = 3
"""Rounds from one pair of changes to the next at the steepest (ours). The widest calves of ANSUR II take as many."""

LEAST_EASE, MOST_EASE = -5.0, 25.0
"""Ease in percent outside which a count is not offered; the limits of the request."""

LEG_TO_FOOT = (0.75, 1.3)
"""Leg stitches for each foot stitch between which a heel over half of the leg makes a sock (ours)."""

MOST_LEG_TO_ANKLE = 2.2
"""How many times the ankle a leg may be. The widest calf of ANSUR II is about twice its ankle; the limit is ours."""

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
    """The number that the leg's stitches must be a multiple of: the pattern's repeat, and even."""
    return math.lcm(request.leg.repeat, 2)


def in_whole_repeats(stitches: float, request: PlanRequest, *, straight: bool = True) -> int:
    """The count of whole repeats nearest to so many stitches.

    It is even, unless no even number is near and an odd number of a stitch pattern's repeats is nearer: heel, foot and
    toe make up for a single stitch. A leg that is not `straight` is shaped by pairs, and stays even.
    """
    even = nearest_multiple(stitches, leg_repeat(request))
    odd_too = straight and request.leg.stitch_pattern is not None and request.leg.repeat > 1
    if _near(even, stitches) or not odd_too:
        return even
    return min(even, nearest_multiple(stitches, request.leg.repeat), key=lambda count: abs(count - stitches))


def repeat_of(request: PlanRequest) -> int:
    """The number that one count for cuff and leg must be a multiple of: ribbing and pattern, and even."""
    return math.lcm(rib_width(request.cuff.rib), leg_repeat(request))


def _near(count: float, wanted: float) -> bool:
    return abs(count - wanted) <= MISS * wanted


def foot_stitches(request: PlanRequest, fit: Fit, leg: int) -> int:
    """The even count nearest to what the foot asks for, below a `leg` of so many stitches.

    An instep in pattern has those of the leg's front, and the sole what is still missing; from the toe up both halves
    have as many.
    """
    wanted = fit.foot_target * fit.fabric.stitches
    if fit.instep.fabric.stitches == fit.fabric.stitches:
        return nearest_multiple(wanted, 2)
    if request.construction.direction == "toe-up":
        around = nearest_multiple(wanted, 2)
        return min(
            range(2, 2 * around, 2), key=lambda foot: abs(fit.foot_as_plain(foot, front_of(foot, request)) - wanted)
        )
    instep = front_of(leg, request)
    return instep + nearest_multiple(wanted - fit.instep.as_plain(instep), 2)


def foot_stitches_after_heel(request: PlanRequest, fit: Fit, leg: int) -> int:
    """The count nearest to what a foot asks for that comes after its heel; odd or even where it has no pattern.

    A toe brings uneven halves together, and a single stitch is half of what a pair is off by. From the toe up heel and
    leg come after the foot, and want it even.
    """
    if request.construction.direction == "toe-up" or request.instep_follows:
        return foot_stitches(request, fit, leg)
    return nearest(fit.foot_target * fit.fabric.stitches)


def ribbing_for(leg: int, request: PlanRequest, fit: Fit) -> int:
    """The ribbing's count over or under a leg of so many stitches: its own, or the next whole repeat below.

    Where the leg's pattern is far narrower or wider than ribbing, that for a plain leg as wide.
    """
    rib = math.lcm(rib_width(request.cuff.rib), 2)
    if not _shares_its_count(fit):
        return _ribbing_of_its_own(leg, request, fit)
    below = leg // rib * rib
    return below if leg <= WIDER_THAN_RIB * below else nearest_multiple(leg, rib)


def _shares_its_count(fit: Fit) -> bool:
    """Whether ribbing and leg can have one count: a leg whose pattern is as wide as plain knitting, or nearly so."""
    return _near(fit.leg.stitches_for(fit.leg_target), fit.leg_target * fit.fabric.stitches)


def _cuff_and_leg(cm: float, request: PlanRequest, fit: Fit, *, straight: bool) -> tuple[int, int]:
    """One count for ribbing and leg where one is near the stitches for so many cm, else one for each."""
    wanted = fit.leg.stitches_for(cm)
    one = nearest_multiple(wanted, _repeat_for_both(request, fit))
    leg = one if _near(one, wanted) else in_whole_repeats(wanted, request, straight=straight)
    return ribbing_for(leg, request, fit), leg


def _repeat_for_both(request: PlanRequest, fit: Fit) -> int:
    """The number that a leg's count must be a multiple of, to suit the cuff as well where the two have one count."""
    return repeat_of(request) if _shares_its_count(fit) else leg_repeat(request)


def _narrowed(request: PlanRequest, fit: Fit) -> tuple[int, int, int] | None:
    """Ribbing, leg below it and leg above the heel where the leg is wider than the foot; None where it is not much.

    It is narrowed to what a straight sock for this foot would have: the published counts, whose halves are alike. A
    short leg is no wider than it can be narrowed from on its way to the heel.
    """
    _, leg = _cuff_and_leg(fit.leg_target, request, fit, straight=False)
    cuff, top = _cuff_and_leg(fit.top_target, request, fit, straight=False)
    if request.leg.until == "length":
        pairs = max(0, int((request.leg.length_cm - STRAIGHT_CM) * fit.leg.rounds) // STEEPEST)
        widest = leg + 2 * pairs // leg_repeat(request) * leg_repeat(request)
        cuff, top = (cuff, top) if top <= widest else (ribbing_for(widest, request, fit), widest)
    return (cuff, top, leg) if top - leg > ALIKE else None


def starting_counts(request: PlanRequest, fit: Fit) -> Counts:
    """The counts nearest to the targets.

    Raises CannotKnitError when the sock would have too few stitches for a heel.
    """
    shaped = _narrowed(request, fit) if fit.top_target > fit.leg_target else None
    if shaped:
        cuff, top, leg = shaped
    else:
        cuff, leg = _cuff_and_leg(fit.leg_target, request, fit, straight=True)
        top = leg
    one_size = fit.leg_target == fit.foot_target and fit.leg.fabric.stitches == fit.fabric.stitches
    foot = foot_stitches(request, fit, leg)
    foot = leg if one_size and abs(leg - foot) <= ALIKE else foot
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
    _heel_on_half_the_leg(request, fit, leg, leg / foot)
    return Counts(cuff, top, leg, foot)


MOST_MISS = 0.12
"""How far the pattern's repeat may take the leg from the stitches asked for (ours): about the usual ease again."""


def refuse_too_wide_a_repeat(request: PlanRequest, fit: Fit, leg: int) -> None:
    """Raises CannotKnitError for a pattern so wide that no number of repeats comes near the leg."""
    pattern = request.leg.pattern
    wanted = fit.leg.stitches_for(fit.leg_target)
    if pattern and abs(leg - wanted) > MOST_MISS * wanted:
        panel = "" if request.leg.charted else ", or make it a panel"
        raise CannotKnitError(
            Fault(
                "leg.chart.width" if request.leg.charted else "leg.stitch_pattern",
                f"{pattern.width}",
                f"the leg asks for {wanted:.0f} stitches, and the nearest that the repeat gives is {leg}; "
                f"take a repeat that is narrower or goes into the leg more evenly{panel}",
            )
        )


def refuse_a_panel_without_room(request: PlanRequest, counts: Counts) -> None:
    """Raises CannotKnitError for a panel wider than the front, or one that leaves a shaped back no stitch beside it."""
    pattern = request.leg.stitch_pattern
    panel = pattern.panel if pattern else None
    if pattern is None or panel is None or pattern.placement is None:
        return
    front = min(front_of(counts.leg, request), counts.leg // 2)
    if panel.width > front:
        raise CannotKnitError(
            Fault(
                "leg.stitch_pattern.placement.repeats",
                f"{pattern.placement.repeats}",
                f"the panel then has {panel.width} stitches, and the front of the leg {front}; take fewer repeats",
            )
        )
    back = min(counts.top, counts.leg) - front_of(counts.leg, request)
    if pattern.placement.on == "front and back" and counts.top != counts.leg and not panel.can_be_shaped_on(back):
        raise CannotKnitError(
            Fault(
                "leg.stitch_pattern.placement.repeats",
                f"{pattern.placement.repeats}",
                f"the panel then has {panel.width} stitches and the back of the leg {back} at its narrowest, and a leg "
                "that reaches the calf is shaped beside it; take fewer repeats, or place it on the front alone",
            )
        )


def _a_leg_for_the_ankle(request: PlanRequest, fit: Fit) -> None:
    leg, most = request.foot.leg_circumference_cm, MOST_LEG_TO_ANKLE * fit.body.ankle
    if leg is not None and leg > most:
        known = "estimated" if "foot.ankle_circumference_cm" in fit.body.estimated else "measured"
        raise CannotKnitError(
            Fault(
                "foot.leg_circumference_cm",
                f"{leg:g}",
                f"a leg over an ankle of {both_units(fit.body.ankle)}, {known}, is up to {both_units(most)} round; "
                "measure both again",
            )
        )


def _heel_on_half_the_leg(request: PlanRequest, fit: Fit, leg: int, leg_to_foot: float) -> None:
    low, high = LEG_TO_FOOT
    if not low <= leg_to_foot <= high:
        refuse_too_wide_a_repeat(request, fit, leg)
        if fit.leg.fabric != fit.fabric:
            raise CannotKnitError(
                Fault(
                    "leg.stitch_pattern",
                    "",
                    f"at its gauge the leg has {leg} stitches over a foot of {round(leg / leg_to_foot)}, too "
                    "many or too few for one heel; let the instep go on in pattern, or count its gauge again",
                )
            )
        given, ball = request.foot.leg_circumference_cm, request.foot.ball_circumference_cm
        raise CannotKnitError(
            Fault(
                "foot.leg_circumference_cm",
                f"{given:g}" if given else "",
                f"a leg suits a foot {both_units(ball)} round the ball from {both_units(low * ball)} up; "
                "measure ball and leg again",
            )
        )


def _ease(stitches: int, fit: Fit) -> float:
    return 100 * (1 - fit.leg.width(stitches) / fit.body.leg)


def _off(stitches: int, fit: Fit) -> str:
    wanted = fit.leg.stitches_for(fit.top_target)
    miss = stitches - wanted
    off = "on" if abs(miss) < 0.05 else f"{round(abs(miss), 1):g} {'over' if miss > 0 else 'under'}"
    return f"{off} the {round(wanted, 1):g} stitches asked for"


def _one_count_for_all(stitches: int, request: PlanRequest, fit: Fit) -> str:
    rib = request.cuff.rib
    if request.leg.repeat == 1:
        repeat = repeat_of(request)
        return f"{stitches // repeat} repeats of {repeat} for {rib}; {_off(stitches, fit)}"
    ribs, repeats = stitches // rib_width(rib), stitches // request.leg.repeat
    called = request.leg.called
    return f"one count for all: {ribs} repeats of {rib} and {repeats} of the {called}; {_off(stitches, fit)}"


def _counts_of_their_own(stitches: int, cuff: int, request: PlanRequest, fit: Fit) -> str:
    change = f"the ribbing on {cuff}, then {stitches} in the leg, changed evenly in one round"
    if request.leg.repeat == 1:
        return f"nearest to the size asked for: {change}"
    repeats = stitches // request.leg.repeat
    return f"{change}, for {repeats} repeats of the {request.leg.called}; {_off(stitches, fit)}"


def choices_of(request: PlanRequest, fit: Fit, counts: Counts, *, begun: bool) -> tuple[Choice, ...]:
    """Three to five counts round the target, with the one in force marked.

    Where ribbing and pattern go into different counts, both ways out are among them: one count for all, and counts of
    their own. Fewer are offered where the next ones would not fit a foot any more. Once a sock is `begun` the count
    in force is what the leg has or gets on the needles.
    """
    if counts.top == counts.leg and fit.top_target > fit.leg_target:
        # A leg too short to widen has the foot's size to choose.
        fit = replace(fit, top_target=fit.leg_target, body=replace(fit.body, leg=fit.body.ball))
    wanted = fit.leg.stitches_for(fit.top_target)
    repeat, one_for_all = repeat_of(request), _shares_its_count(fit)
    offered = {
        count: _one_count_for_all(count, request, fit)
        for count in _round_about(wanted, repeat, counts, fit)
        if one_for_all
    }
    if request.leg.pattern:
        for count in _round_about(wanted, leg_repeat(request), counts, fit):
            # Asked for by its own ease, a count so near to one that suits both would become that one.
            if not (one_for_all and _near(nearest_multiple(count, repeat), count)):
                cuff = counts.cuff if count == counts.top else _ribbing_of_its_own(count, request, fit)
                offered.setdefault(count, _counts_of_their_own(count, cuff, request, fit))
    if begun:
        offered[counts.top] = "the leg of the sock that is on the needles"
    elif counts.top not in offered:
        offered[counts.top] = _counts_of_their_own(counts.top, counts.cuff, request, fit)
    nearest_first = sorted(offered, key=lambda count: (count != counts.top, abs(count - wanted)))
    return tuple(
        Choice(
            stitches=count,
            finished_cm=fit.leg.width(count),
            ease_percent=round(_ease(count, fit), 2),
            chosen=count == counts.top,
            why=offered[count],
        )
        for count in sorted(nearest_first[:MOST_CHOICES])
    )


def _ribbing_of_its_own(leg: int, request: PlanRequest, fit: Fit) -> int:
    """The ribbing's count nearest to a leg of so many stitches."""
    return nearest_multiple(fit.leg.as_plain(leg), math.lcm(rib_width(request.cuff.rib), 2))


def _round_about(wanted: float, repeat: int, counts: Counts, fit: Fit) -> list[int]:
    """Up to five multiples of the repeat that are near the target and would fit a foot."""
    middle = nearest_multiple(wanted, repeat)
    return [
        count
        for count in range(middle - 2 * repeat, middle + 2 * repeat + 1, repeat)
        if count >= FEWEST_STITCHES and (count == counts.top or LEAST_EASE <= _ease(count, fit) <= MOST_EASE)
    ]
