"""Whole repeats of a pattern, counted instead of stitches and rounds: seen at a glance, with no part left over."""

from __future__ import annotations

from ..frozen_model import FrozenModel
from ..plan.document import Plan
from .observations import What


class Repeat(FrozenModel):
    """The repeat of a chart or a stitch pattern: so many stitches wide and so many rounds high."""

    stitches: int
    rounds: int

    def size(self, what: What) -> int:
        """Stitches across one repeat, or rounds up it."""
        return self.stitches if what == "stitches" else self.rounds


def repeat_knitted(plan: Plan, done: int) -> Repeat | None:
    """The repeat that can be counted after so many rounds; None while no round of a pattern is knitted."""
    pattern = plan.request.leg.pattern
    if pattern is None or not any(item.chart_row for item in plan.rounds()[:done]):
        return None
    return Repeat(stitches=pattern.width, rounds=pattern.height)
