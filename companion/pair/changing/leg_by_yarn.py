"""A leg as long as the yarn allows, once some of it was weighed. Pure."""

from __future__ import annotations

from ...planning.recalculation.changes import changes_between
from ...planning.recalculation.leg_length import LegReach, leg_reach, with_leg
from ..state import PairState, SockPosition
from ..yarn.forecast import forecast
from .accepted import Accepted

BY_YARN = "leg by yarn"
"""The option of a revision that gives the leg another length."""


def leg_allowed(pair: PairState) -> LegReach | None:
    """How long the leg may become; None where that is settled."""
    return leg_reach(*forecast(pair))


def rounds_allowed(leg: LegReach) -> range:
    """The rounds that the leg may have: as many as are knitted, up to the longest that a plan can have."""
    return range(max(1, leg.knitted), leg.most_allowed + 1)


def leg_taken(pair: PairState, rounds: str) -> Accepted | None:
    """The plan with a leg of so many rounds from here on, the one there is where it has as many; None for no such.

    Raises CannotKnitError where the leg cannot become so long.
    """
    leg = leg_allowed(pair)
    allowed = {str(number): number for number in rounds_allowed(leg)} if leg else {}
    if leg is None or rounds not in allowed:
        return None
    wanted, before, done = allowed[rounds], pair.plan(1), pair.position(1).done
    plan = before if wanted == leg.planned.rounds else with_leg(before, done, wanted)
    return Accepted(
        sock=1,
        done=done,
        title=f"{SockPosition(1, before, done).behind()}: Leg of {wanted} rounds, for the yarn",
        plan=plan,
        changes=changes_between(before, plan, before.sizes, plan.sizes),
        option=BY_YARN,
        other_done=pair.position(2).done,
    )
