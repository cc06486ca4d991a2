"""How the stitches of a leg are divided between the heel and the front, which becomes the instep."""

from __future__ import annotations

from ..request.plan_request import PlanRequest


def even_down(count: int) -> int:
    """The even number at or just below."""
    return count - count % 2


def heel_stitches(leg: int) -> int:
    """Stitches of the heel: half the leg, made even so that slipped and knit stitches alternate to the end."""
    return even_down(leg // 2)


def front_of(leg: int, request: PlanRequest) -> int:
    """Stitches of a leg above the instep: half of them from the toe up, else what the heel leaves."""
    return leg - (leg // 2 if request.construction.direction == "toe-up" else heel_stitches(leg))
