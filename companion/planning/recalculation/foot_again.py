"""A foot that is knitted too wide or too narrow to be left: ripping back just so far that all of it fits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..construction.sections.foot import FOOT
from ..fit.targets import Fit
from ..gauge.decision import MATTERS
from ..plan.document import Plan, Round
from ..plan.rounds import zone_stitches

STAYS_OFF = 0.04
"""The part by which a knitted round of the foot may stay off before the foot is knitted again (ours)."""

FITS = 0.02
"""The part by which every round of a foot that is knitted again may be off (ours)."""

LENGTH_RIP_WORTH_CM = 1.0
"""How far off the length may be before the foot is ripped: 4 % of an adult's, all of the usual ease (ours)."""

SURELY = 2.0
"""Deviations of the gauge that are taken off a misfit before it is believed (ours)."""


@dataclass(frozen=True)
class KnittedFoot:
    """The fabric of what is knitted of the foot: its plain stitches per cm, and how unsure width and length are.

    The errors are one deviation, as a part. The `fit` has the width wanted, and how wide an instep in pattern is.
    """

    fit: Fit
    stitches_per_cm: float
    error: float
    length_error: float

    @property
    def target_cm(self) -> float:
        """The width wanted."""
        return self.fit.foot_target

    def farthest_off(self, plan: Plan, done: int) -> float:
        """The part by which the worst of the foot's first `done` rounds is too wide, below zero too narrow."""
        return max((self._off(item) for item in _knitted(plan, done)), key=abs, default=0.0)

    def width_of_the_worst(self, plan: Plan, done: int) -> float:
        """The width of that round in cm."""
        return (1 + self.farthest_off(plan, done)) * self.target_cm

    def is_to_be_knitted_again(self, plan: Plan, done: int, *, ripped: bool) -> bool:
        """Whether a round stays so far off, and so surely, that the foot is worth ripping.

        Where it is `ripped` into anyway it is enough that it would be felt.
        """
        off = abs(self.farthest_off(plan, done))
        return off > MATTERS["stitches"] if ripped else off > STAYS_OFF and off - SURELY * self.error > FITS

    def is_surely_too_long_or_short(self, off_cm: float, is_cm: float) -> bool:
        """Whether a length so far off is worth ripping the foot, however far it is behind the needles."""
        return off_cm > LENGTH_RIP_WORTH_CM and off_cm - SURELY * self.length_error * is_cm > LENGTH_RIP_WORTH_CM / 2

    def fits_up_to(self, plan: Plan, done: int) -> int:
        """The rounds of the sock to which ripping back leaves none of the foot that does not fit."""
        start = plan.span(FOOT.key).start
        wrong = (number for number, item in enumerate(_knitted(plan, done)) if abs(self._off(item)) > FITS)
        return start + next(wrong, 0)

    def fits(self, cm: float) -> bool:
        """Whether a foot that is knitted anew is as wide as wanted."""
        return abs(cm / self.target_cm - 1) <= FITS

    def _off(self, item: Round) -> float:
        stitches = self.fit.foot_as_plain(item.after, zone_stitches(item, "instep"))
        return stitches / self.stitches_per_cm / self.target_cm - 1


def _knitted(plan: Plan, done: int) -> Sequence[Round]:
    span = plan.span(FOOT.key)
    return plan.rounds()[span.start : min(done, span.stop)]
