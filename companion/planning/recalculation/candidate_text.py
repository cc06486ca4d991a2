"""What a way to go on says of itself: how a count changes, and which sizes it is too late for."""

from __future__ import annotations

from collections.abc import Iterator

from ..construction.constructions import TUBES, depth_of
from ..construction.sections.base import Tube
from ..construction.sections.count_changes import in_steps
from ..construction.sections.leg import LEG
from ..construction.sizes import leg_is_shaped
from ..fabric.beside_repeats import in_repeats
from ..fit.targets import fit_of
from ..gauge.observations import listed
from ..plan.document import Plan, Sizes
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


def how_it_changes(plan: Plan, done: int, tube: Tube, kept: int, wanted: int) -> str:
    """How a tube comes from the stitches it has to those wanted, and what that does to a pattern."""
    request = plan.request
    fit = fit_of(request)
    if tube == "leg" and fit.leg_target != fit.top_target:
        return f"The leg is shaped again and ends on {wanted} stitches above the heel, where {kept} were planned."
    steps = plan.span(TUBES[tube].key).start >= done and (tube == "foot" or request.construction.direction == "toe-up")
    times = len(tuple(in_steps(kept, wanted))) if steps else 1
    change = "One round with evenly spread changes takes"
    change = change if times == 1 else f"{times} rounds with evenly spread changes take"
    said = (
        f"{change} the {tube} from {kept} to {wanted} stitches; "
        "what is knitted stays, and a slight step may be felt there."
    )
    pattern, called = request.leg.pattern, request.leg.called
    if pattern is None or not TUBES[tube].shows_the_pattern(request):
        return said
    at = _next_change(plan, done)
    if any(item.chart_row for item in plan.rounds()[at : at + 1]):
        # Stripes go through, and so does the chart of an instep beside a sole that takes the change.
        return said
    if row := breaks_off_after(plan, done):
        said += f" There is no room to finish the {called} first: its motif breaks off after row {row}."
    elif at > done:
        said += f" It comes {counted(at - done, 'round')} on, where the rows of the {called} are finished."
    return said + (beside_repeats(plan, wanted) if tube == "leg" else "")


def breaks_off_after(plan: Plan, done: int) -> int | None:
    """The row of the pattern after which the next change of the stitches breaks it off; None where it is finished."""
    pattern, rounds = plan.request.leg.pattern, plan.rounds()
    at = _next_change(plan, done)
    if pattern is None or any(item.chart_row for item in rounds[at : at + 1]):
        return None
    row = next((item.chart_row for item in reversed(rounds[:at]) if item.chart_row), pattern.height)
    return row if row < pattern.height else None


def _next_change(plan: Plan, done: int) -> int:
    """The round, from 0, that changes the stitches next; the next one where none does."""
    rounds = plan.rounds()
    return next((number for number in range(done, len(rounds)) if rounds[number].before != rounds[number].after), done)


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
