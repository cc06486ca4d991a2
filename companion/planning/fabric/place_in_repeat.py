"""Where a round enters the repeat of a stitch pattern: with which of its stitches the pattern begins there."""

from __future__ import annotations

from ..fit.halves import front_of
from ..plan.document import Plan, Round
from ..plan.rounds import takes
from ..stitches.columns import columns_of, front_columns, instep_columns
from .texture import instep_of


def first_of_the_repeat(plan: Plan, item: Round) -> int | None:
    """The stitch of the repeat, from 1, with which the pattern begins on a leg or instep; 1 where it is a panel.

    None for a round out of the pattern, and for an instep too narrow to show any of it.
    """
    pattern = plan.request.leg.stitch_pattern
    part = next((part for part in item.work if part.zone in ("leg", "instep")), None)
    if pattern is None or part is None or not item.chart_row:
        return None
    columns = columns_of(pattern.rounds)
    if pattern.placement:
        return 1
    if part.zone == "leg":
        first = front_columns(columns, front_over(plan, item.before), below_the_leg(plan)).begins
    else:
        shown = instep_columns(columns, takes(part.ops))
        if not shown.width:
            return None
        first = shown.first
    return first % columns.width + 1


def front_over(plan: Plan, stitches: int) -> int:
    """The front of a leg of so many stitches; of one that is shaped along its back, that above the heel."""
    in_pattern = (each for each in plan.rounds() if each.chart_row and each.work[0].zone == "leg")
    shaped = any(each.before != each.after for each in in_pattern)
    return front_of(plan.sizes.leg_stitches if shaped else stitches, plan.request)


def below_the_leg(plan: Plan) -> int:
    """Stitches of the instep in pattern that the leg comes after, 0 where there is none."""
    if plan.request.construction.direction != "toe-up" or not plan.request.instep_follows:
        return 0
    return next(filter(None, (instep_of(item) for item in plan.rounds() if item.chart_row)), 0)
