"""What a way to go on says of itself: how a count changes, and which sizes it is too late for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, TypeAlias

from .choices import leg_repeat
from .document import Plan
from .fit import fit_of
from .observed import listed
from .units import both_units

LEG_TOLERANCE = 0.05
"""How far off the leg may be before it is changed: half the usual ease of 10 %, which leaves 5 to 15 % (ours)."""

FOOT_TOLERANCE = 0.015
"""How far off the foot may be before it is changed in its middle: about a stitch of sixty either way (ours)."""

LENGTH_TOLERANCE_CM = 0.5
"""How far off the foot's length may be before ripping back to the foot is offered: half the usual ease (ours)."""

HEEL_PASS_TOLERANCE_CM = 1.5
"""How far off the heel pass may be before ripping back to the heel is offered: 5 % of an adult's (ours)."""

Tube: TypeAlias = Literal["leg", "foot"]

DEEP = {
    ("cuff-down", "flap"): "heel-flap",
    ("toe-up", "flap"): "gusset",
    ("cuff-down", "short-row with gusset"): "gusset-increases",
    ("toe-up", "short-row with gusset"): "gusset-increases",
}
"""The section that makes a heel as deep as the foot asks for, where the heel has one."""


def what_stays(plan: Plan, done: int) -> str:
    """A sentence on the sizes that rounds already knitted keep away from the ones asked for; none where all is well.

    `plan` is the one to go on with, at the measured gauge.
    """
    left = [
        f"{part} {both_units(is_cm)}{how} where {both_units(asked)} {'were' if part != HEEL_WAY else 'of foot are'}"
        f"{' asked for' if part != HEEL_WAY else ' to go through'}"
        for part, is_cm, how, asked in _too_late(plan, done)
    ]
    return f" What is knitted leaves {listed(left)}." if left else ""


HEEL_WAY = "the way round the heel"


def _too_late(plan: Plan, done: int) -> Iterator[tuple[str, float, str, float]]:
    fit, sizes, made = fit_of(plan.request), plan.sizes, plan.request.construction
    leg, foot = sizes.leg_cm, sizes.foot_circumference_cm
    if plan.span("leg").stop <= done and abs(leg / fit.leg_target - 1) > LEG_TOLERANCE:
        yield "the leg", leg, " round", fit.leg_target
    # The foot just finished can still go on with another count.
    if plan.span("foot").stop < done and abs(foot / fit.foot_target - 1) > FOOT_TOLERANCE:
        yield "the foot", foot, " round", fit.foot_target
    if abs(sizes.foot_length_cm - fit.length_target) > LENGTH_TOLERANCE_CM:
        yield "the foot", sizes.foot_length_cm, " long", fit.length_target
    deep = DEEP.get((made.direction, made.heel))
    heel = fit.body.heel_diagonal
    if deep and plan.span(deep).stop <= done and abs(sizes.heel_pass_cm - heel) > HEEL_PASS_TOLERANCE_CM:
        yield HEEL_WAY, sizes.heel_pass_cm, "", heel


def how_it_changes(plan: Plan, done: int, tube: Tube, kept: int, wanted: int) -> str:
    """How a tube comes from the stitches it has to those wanted, and what that does to a chart."""
    request = plan.request
    fit = fit_of(request)
    if tube == "leg" and fit.leg_target != fit.top_target:
        return f"The leg is shaped anew and ends on {wanted} stitches above the heel, where {kept} were planned."
    said = (
        f"One round with evenly spread changes takes the {tube} from {kept} to {wanted} stitches; "
        "what is knitted stays, and a slight step may be felt there."
    )
    chart = request.leg.chart
    if chart is None or not (tube == "leg" or request.foot_pattern == "instep follows the leg"):
        return said
    rounds = plan.rounds()
    at = next((number for number in range(done, len(rounds)) if rounds[number].before != rounds[number].after), done)
    if any(item.chart_row for item in rounds[at : at + 1]):
        # Stripes go through, and so does the chart of an instep beside a sole that takes the change.
        return said
    row = next((item.chart_row for item in reversed(rounds[:at]) if item.chart_row), len(chart.rows))
    if row < len(chart.rows):
        said += f" There is no room to finish the chart first: its motif breaks off after row {row}."
    elif at > done:
        said += f" It comes {at - done} rounds on, where the rows of the chart are finished."
    if tube == "leg" and wanted % leg_repeat(request):
        said += f" {wanted} stitches are no whole number of repeats, so the chart breaks at the centre back."
    return said
