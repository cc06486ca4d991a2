"""What a way to go on says of itself: how a count changes, and which sizes it is too late for."""

from __future__ import annotations

from collections.abc import Iterator

from ..construction.constructions import TUBES, depth_of
from ..construction.sections.base import Tube
from ..construction.sections.leg import LEG
from ..construction.sizes import leg_is_shaped
from ..fabric.beside_repeats import in_repeats
from ..fit.targets import fit_of
from ..gauge.observations import listed
from ..plan.document import Plan, Sizes
from ..plan.rounds import is_spread
from ..request.plan_request import PlanRequest
from ..units import both_units, counted
from .foot_again import KnittedFoot

LEG_TOLERANCE = 0.05
"""How far off the leg may be before it is changed: half the usual ease of 10 %, which leaves 5 to 15 % (ours)."""

FELT_LEG = 0.04
"""Less than this part round the leg, or of its rounds, is not worth a change (ours)."""

FOOT_TOLERANCE = 0.015
"""How far off the foot may be before it is changed in its middle: about a stitch of sixty either way (ours)."""

LENGTH_TOLERANCE_CM = 0.5
"""How far off the foot's length may be before ripping back to the foot is offered: half the usual ease (ours)."""

HEEL_PASS_TOLERANCE_CM = 1.5
"""How far off the heel pass may be before ripping back to the heel is offered: 5 % of an adult's (ours)."""


def what_stays(plan: Plan, done: int, sizes: Sizes, foot: KnittedFoot) -> str:
    """A sentence on the sizes that rounds already knitted keep away from the ones asked for; none where all is well.

    The foot comes before the leg. `plan` is the one to go on with, `sizes` are those that it gives, and `foot` is what
    is knitted of the foot.
    """
    left = [
        f"{part} {both_units(is_cm)}{how} where {both_units(asked)} {'were' if part != HEEL_WAY else 'of foot are'}"
        f"{' asked for' if part != HEEL_WAY else ' to go through'}"
        for part, is_cm, how, asked in _too_late(plan, done, sizes, foot)
    ]
    return f"What is knitted leaves {listed(left)}. " if left else ""


HEEL_WAY = "the way round the heel"


def _too_late(plan: Plan, done: int, sizes: Sizes, knitted: KnittedFoot) -> Iterator[tuple[str, float, str, float]]:
    fit = fit_of(plan.request)
    leg, foot = sizes.leg_cm, knitted.width_of_the_worst(plan, done)
    if abs(foot / fit.foot_target - 1) > FOOT_TOLERANCE:
        yield "the foot", foot, " round", fit.foot_target
    if abs(sizes.foot_length_cm - fit.length_target) > LENGTH_TOLERANCE_CM:
        yield "the foot", sizes.foot_length_cm, " long", fit.length_target
    if plan.span(LEG.key).stop <= done and abs(leg / fit.leg_target - 1) > LEG_TOLERANCE:
        yield "the leg", leg, " round", fit.leg_target
    deep = depth_of(plan.request.construction)
    heel = fit.body.heel_diagonal
    if deep and plan.span(deep.key).stop <= done and abs(sizes.heel_pass_cm - heel) > HEEL_PASS_TOLERANCE_CM:
        yield HEEL_WAY, sizes.heel_pass_cm, "", heel


def stitches_in(plan: Plan, tube: Tube) -> int:
    """Stitches that a plan has for the leg or the foot."""
    return plan.sizes.leg_stitches if tube == "leg" else plan.sizes.foot_stitches


def no_room_for(wanted: int, request: PlanRequest) -> str:
    """That a tube does not get so many stitches, and why."""
    return f"{wanted} were wanted: too few rounds are left to finish the rows of the {request.leg.called} before."


def how_it_changes(plan: Plan, done: int, tube: Tube, kept: int, wanted: int) -> str:
    """How a tube comes from the stitches it has to those wanted, and what that does to a pattern."""
    request = plan.request
    fit = fit_of(request)
    if tube == "leg" and fit.leg_target != fit.top_target:
        return f"The leg is shaped again and ends on {wanted} stitches above the heel, where {kept} were planned."
    gets, rounds, span = stitches_in(plan, tube), plan.rounds(), plan.span(TUBES[tube].key)
    times = sum(is_spread(rounds[number]) for number in range(max(done, span.start), span.stop))
    change = "One round with evenly spread changes takes"
    change = change if times <= 1 else f"{times} rounds with evenly spread changes take"
    said = (
        f"{change} the {tube} from {kept} to {gets} stitches; "
        "what is knitted stays, and a slight step may be felt there."
    )
    if gets != wanted:
        said += f" {no_room_for(wanted, request)}"
    pattern, called = request.leg.pattern, request.leg.called
    if pattern is None or not TUBES[tube].shows_the_pattern(request):
        return said
    at = next((number for number in range(done, len(rounds)) if rounds[number].before != rounds[number].after), done)
    begun = any(item.chart_row for item in rounds[:done])
    # Stripes go through, and so does the chart of an instep beside a sole that takes the change.
    if begun and at > done and not rounds[at].chart_row:
        comes = "It comes" if times <= 1 else "The first comes"
        said += f" {comes} {counted(at - done, 'round')} on, where the rows of the {called} are finished."
    return said + (beside_repeats(plan, gets) if tube == "leg" else "")


def beside_repeats(plan: Plan, stitches: int) -> str:
    """What becomes of those of a straight leg's stitches that are over beside whole repeats; nothing without any."""
    leg = plan.request.leg
    if stitches % leg.repeat == 0 or leg_is_shaped(plan):
        return ""
    if leg.stitch_pattern:
        return (
            f" The leg then has {in_repeats(leg.stitch_pattern, stitches)}, which "
            f"{'lies' if stitches % leg.repeat == 1 else 'lie'} out of sight at the centre back."
        )
    return f" {stitches} stitches are no whole number of repeats, so the {leg.called} breaks at the centre back."
