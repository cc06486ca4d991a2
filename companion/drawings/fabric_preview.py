"""How the pattern of a sock looks by another plan: the rounds beside the place where its stitches change. Pure.

They are the plan's own rounds: what is worked lies below and what comes lies above it, as on the needles.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from markupsafe import Markup

from ..planning import Plan
from ..planning.construction.constructions import TUBES, parts_of
from ..planning.construction.sections.base import Part
from ..planning.construction.sections.leg import LEG
from ..planning.construction.sizes import leg_is_shaped
from ..planning.fabric.beside_repeats import over_in_words
from ..planning.fit.halves import front_of
from ..planning.fit.targets import fit_of
from ..planning.plan.document import Round
from ..planning.plan.rounds import is_spread, zone_stitches
from ..planning.units import counted
from .fabric_preview_svg import Shown, Stretches, fabric_preview_svg

FEWEST_ROUNDS, MOST_ROUNDS = 8, 12
"""Rounds of a stretch: a whole repeat of most patterns, and few enough for a phone (ours)."""


AT_THE_LINE = "The stitches change at the dashed line; the newest rounds are on top."


class FabricPreview(NamedTuple):
    """How a way to go on looks, and what becomes of the pattern, a sentence for leg and foot."""

    drawing: Markup
    said: str


def fabric_preview(now: Plan, then: Plan, done: int) -> FabricPreview | None:
    """How the pattern goes on by the plan `then` from so many rounds on, instead of by `now`.

    None where no round ahead shows a pattern, or shows one that is the same in every stitch, as stripes are.
    """
    if not _shows_columns(then):
        return None
    tubes = [Tube(now, then, done, part) for part in parts_of(then.request.construction) if part in TUBES.values()]
    shown = [(tube, found) for tube in tubes if (found := tube.stretches())]
    if not shown:
        return None
    fabric = fit_of(then.request).leg.fabric
    drawing = fabric_preview_svg([found for _, found in shown], then.request.yarns, fabric.stitches / fabric.rounds)
    said = [tube.said(found) for tube, found in shown]
    return FabricPreview(drawing, " ".join([*said, *([AT_THE_LINE] if any(found.old for _, found in shown) else [])]))


def _shows_columns(plan: Plan) -> bool:
    leg = plan.request.leg
    return leg.stitch_pattern is not None or (leg.chart is not None and leg.chart.width > 1)


@dataclass(frozen=True)
class Tube:
    """Leg or foot by the plan `then`, from `done` rounds on, where it was to be knitted by `now`."""

    now: Plan
    then: Plan
    done: int
    part: Part

    def stretches(self) -> Stretches | None:
        """What is shown of it: one stretch, or two where its stitches change; None where no pattern is ahead."""
        rounds, span, high = self.then.rounds(), self.then.span(self.part.key), self._high()
        ahead = range(max(self.done, span.start), span.stop)
        begins = next((number for number in ahead if rounds[number].chart_row), None)
        if begins is None:
            return None
        changes = [number for number in ahead if number > span.start and is_spread(rounds[number])]
        last = max(span.start, span.stop - high)
        if changes:
            old, new = range(max(span.start, changes[0] - high), changes[0]), range(changes[-1], span.stop)
        elif rounds[begins].after != rounds[last].after:
            old, new = range(begins, last), range(last, span.stop)
        else:
            old, new = range(0), range(min(begins, last), span.stop)
        planned = self.now.rounds()[self.now.span(self.part.key).stop - 1]
        return Stretches(
            tuple(_shown(self.then, rounds[number]) for number in old[:high]),
            tuple(_shown(self.then, rounds[number]) for number in new[:high]),
            _shown(self.now, planned),
        )

    def _high(self) -> int:
        pattern = self.then.request.leg.pattern
        return max(FEWEST_ROUNDS, min(MOST_ROUNDS, pattern.height if pattern else 0))

    def said(self, found: Stretches) -> str:
        """What becomes of the pattern."""
        new, planned = found.new[-1], found.planned
        if self.part is LEG:
            return f"Leg: {self._on_the_leg(new.round.after, planned.round.after)}."
        if new.front != planned.front:
            return "Instep: the pattern is centred anew."
        return f"Instep: as planned{'' if new.back == planned.back else '; the sole alone changes'}."

    def _on_the_leg(self, stitches: int, planned: int) -> str:
        leg = self.then.request.leg
        if leg.stitch_pattern and leg.stitch_pattern.placement:
            return "as planned" if stitches == planned else "the panel stays, the stitches beside it change"
        whole, over = divmod(stitches, leg.repeat)
        if not over:
            return counted(whole, "whole repeat")
        if leg.stitch_pattern:
            shaped = counted(over, "plain stitch")
            beside = shaped if leg_is_shaped(self.then) else over_in_words(leg.stitch_pattern, stitches)
            return f"{counted(whole, 'repeat')} and {beside} at the centre back"
        return "the repeat breaks off at the centre back"


def _shown(plan: Plan, item: Round) -> Shown:
    """A round with the stitches of its front or instep."""
    if item.work[0].zone != "leg":
        return Shown(item, zone_stitches(item, "instep"), "instep", "sole")
    leg = plan.sizes.leg_stitches if leg_is_shaped(plan) else item.after
    return Shown(item, front_of(leg, plan.request), "front", "back")
