"""Drawings of socks with a toe that is shaped to one foot: worked from left to right they fit the other one."""

from __future__ import annotations

from collections.abc import Callable

from markupsafe import Markup

from ..planning import Plan


def for_either_hand(draw: Callable[..., Markup], *plans: Plan) -> Markup:
    """What `draw` makes of the plans, and beside it in a template what the left-handed are shown in its place.

    That is the mirror image of the toe (`static/js/lib/mirrored-parts.js`); other socks look the same both ways.
    """
    drawn = draw(*plans)
    if not any(plan.request.construction.for_one_foot for plan in plans):
        return drawn
    return drawn + Markup('<template data-mirrored="">{}</template>').format(draw(*map(_mirrored, plans)))


def _mirrored(plan: Plan) -> Plan:
    """The plan with its toe said to be for the other foot, which is what its rounds make in the other direction."""
    toe = plan.request.construction.for_the_other_foot()
    return plan.model_copy(update={"request": plan.request.model_copy(update={"construction": toe})})
