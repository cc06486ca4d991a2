"""What is known of the two fabrics of a sock in a stitch pattern: of plain knitting, and of the pattern on its leg.

A check speaks of the fabric that it was counted on. It says something of the other one as well, for both come from the
same hands, but only as surely as it is known what the one has for each stitch and round of the other.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from ..construction.sections.leg import LEG
from ..fit.targets import Patterned, fit_of
from ..gauge.check import Check, Ratio
from ..gauge.decision import Planned
from ..gauge.estimate import Gauges, gauges_of
from ..gauge.observations import Assumed, AssumedPattern, Evidence, assumed
from ..plan.document import Plan
from .fabric_to_count import counted_span

RATIO_ERROR = {True: 0.02, False: 0.07}
"""One deviation of what a pattern has for each plain stitch and round, as a part of it, by whether it was counted.

These are ours. Both swatches are of the same hands and the same day. What is known of a kind spreads as widely as
what ball bands say.
"""


@dataclass(frozen=True)
class Known:
    """All the evidence of a gauge, for a sock with so many rounds done."""

    plan: Plan
    evidence: Sequence[Evidence]
    done: int

    @cached_property
    def pattern(self) -> AssumedPattern | None:
        """What was assumed of the pattern; None where the leg has none."""
        told = next((item for item in self.evidence if isinstance(item, Assumed)), assumed(self.plan.request))
        return told.pattern if self.plan.request.leg.stitch_pattern else None

    @property
    def in_pattern(self) -> bool:
        """Whether what would be counted on now is the pattern."""
        return self.pattern is not None and counts_the_pattern(self.plan, self.done)

    @cached_property
    def of_plain(self) -> Sequence[Evidence]:
        """The evidence as it speaks of plain knitting."""
        return tuple(self._of_fabric(in_pattern=False))

    @cached_property
    def of_leg(self) -> Sequence[Evidence]:
        """The evidence as it speaks of the leg's fabric."""
        return tuple(self._of_fabric(in_pattern=True)) if self.pattern else self.of_plain

    @cached_property
    def plain(self) -> Gauges:
        """The gauge of plain knitting."""
        return gauges_of(self.of_plain, self.plan.request.needles.size_mm)

    @cached_property
    def leg(self) -> Gauges:
        """The gauge of the leg's fabric."""
        return gauges_of(self.of_leg, self.plan.request.needles.size_mm) if self.pattern else self.plain

    @property
    def here(self) -> Gauges:
        """The gauge of what would be counted on now."""
        return self.leg if self.in_pattern else self.plain

    @property
    def of_here(self) -> Sequence[Evidence]:
        """The evidence as it speaks of that."""
        return self.of_leg if self.in_pattern else self.of_plain

    @cached_property
    def pattern_was_counted(self) -> bool:
        """Whether anything but the pattern's kind tells its gauge."""
        checks = (item for item in self.evidence if isinstance(item, Check))
        return self.pattern is not None and (self.pattern.counted or any(map(self._is_in_pattern, checks)))

    def _is_in_pattern(self, check: Check) -> bool:
        if check.in_pattern is not None:
            return check.in_pattern
        at = check.sock_round if check.sock_round is not None else check.round
        at = self.done if at is None else at
        return counts_the_pattern(self.plan, at if at <= self.plan.count else at - self.plan.count)

    def _of_fabric(self, *, in_pattern: bool) -> Iterator[Evidence]:
        """The evidence of one fabric, each check on the other with what it says of this one."""
        for item in self.evidence:
            if self.pattern is None:
                yield item
            elif isinstance(item, Assumed):
                yield self.pattern.alone(item) if in_pattern else item
            else:
                across = self._is_in_pattern(item)
                up = across if item.rounds_in_pattern is None else item.rounds_in_pattern
                ratio = self._ratio(of_pattern=not in_pattern, stitches=across != in_pattern, rounds=up != in_pattern)
                yield item.model_copy(update={"ratio": ratio}) if ratio else item

    def _ratio(self, *, of_pattern: bool, stitches: bool, rounds: bool) -> Ratio | None:
        """What the fabric counted on, the pattern or the plain one, has for each of the other.

        Of stitches and rounds where those were counted on it; None where neither was.
        """
        assert self.pattern is not None
        if not (stitches or rounds):
            return None
        each, high = self.pattern.stitches_ratio, self.pattern.rounds_ratio
        if not of_pattern:
            each, high = 1 / each, 1 / high
        return Ratio(
            stitches=each if stitches else None,
            rounds=high if rounds else None,
            error=RATIO_ERROR[self.pattern.counted],
            other="plain knitting" if of_pattern else "the pattern",
        )


def counts_the_pattern(plan: Plan, done: int) -> bool:
    """Whether the fabric that can be counted on after so many rounds is the leg in its stitch pattern.

    Beside a panel there is plain fabric to count on.
    """
    leg = plan.span(LEG.key)
    span = counted_span(plan, done)
    pattern = plan.request.leg.stitch_pattern
    return pattern is not None and pattern.placement is None and span is not None and leg.start in span


def planned_gauge(plan: Plan, *, in_pattern: bool = False) -> Planned:
    """The gauge that the rounds of a plan were calculated with; estimated rounds included."""
    leg: Patterned = fit_of(plan.request).leg
    fabric = leg.fabric if in_pattern else leg.plain
    return Planned(stitches=fabric.stitches * 10, rounds=fabric.rounds * 10)
