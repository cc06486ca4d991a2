"""The sock of a plan as it lies flat, in cm: where each of its parts begins and ends."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import accumulate, groupby
from typing import NamedTuple

from ..planning import Plan
from ..planning.construction.constructions import beside_the_heel, built
from ..planning.construction.sections.base import Part
from ..planning.construction.sections.edge_rounds import adds_height, hem_rounds
from ..planning.construction.sections.foot import FOOT
from ..planning.construction.sections.heels.afterthought_heel import HEEL_OPENING
from ..planning.construction.sections.leg import LEG
from ..planning.construction.sections.toes.toe_common import one_ended
from ..planning.construction.sizes import round_the_top
from ..planning.plan.rounds import zone_stitches

CUP_CM = 2.0
"""How far a heel whose turn goes up the back is drawn rounded, below and before it."""

BEND_CM = 2.5
"""How far before and after the ankle the front of the sock is drawn rounded."""


class Stretch(NamedTuple):
    """A measured part of an edge: what it is, and where it starts and ends along the edge in cm."""

    name: str
    start: float
    end: float


@dataclass(frozen=True)
class Outline:
    """The flat sock: x runs from the back of the heel to the toe, y from the edge of the cuff down.

    A tube that lies flat is half as wide as it is round, and its side edge runs along its middle. On the back come
    cuff, leg, the gusset's part on the leg, and the flap if there is one; along the sole the heel, the gusset's part
    on the foot, the foot and the toe. A `mitred` heel narrows and widens again, or is closed like a toe: it reaches as
    far down as forward, and its seam runs to its tip. A turned one cups under the flap by half of its length; one that
    is `turned_up` is turned where others have their flap.
    A hem is the cuff down to `hem_end`. The leg is `top_wide` below the cuff and `leg_wide` above the heel.
    `toe` is how far along the foot each width of the toe lies, and how far it reaches up and down from the side edge:
    a toe shaped to one foot lies as it is seen from above, a left one with its big toe below.
    """

    top_wide: float
    leg_wide: float
    foot_wide: float
    hem_end: float
    cuff_end: float
    leg_end: float
    heel_top: float
    flap_end: float
    mitred: bool
    turned_up: bool
    heel_front: float
    gusset_end: float
    toe_start: float
    length: float
    toe: tuple[tuple[float, float, float], ...]

    @property
    def heel_end(self) -> float:
        """How far down the heel reaches."""
        return self.flap_end + self.heel_front * (1 if self.mitred else 0.5)

    @property
    def sole(self) -> float:
        """Where the sole lies. On a very short leg it is drawn lower, so that the foot stays below the cuff."""
        return max(self.heel_end, self.foot_wide + self.cuff_end + BEND_CM)

    @property
    def instep(self) -> float:
        """The upper edge of the foot."""
        return self.sole - self.foot_wide

    @property
    def middle(self) -> float:
        """The side edge of the foot."""
        return self.sole - self.foot_wide / 2

    @property
    def side(self) -> float:
        """The side edge of the leg."""
        return self.leg_wide / 2

    @property
    def widest(self) -> float:
        """How far the sock reaches from the back of the heel."""
        return max(self.length, self.top_wide, self.leg_wide)

    def wide_at(self, y: float) -> float:
        """How wide the leg is at a height: a shaped one changes evenly between cuff and heel."""
        down = (y - self.cuff_end) / (self.leg_end - self.cuff_end)
        return self.top_wide + (self.leg_wide - self.top_wide) * min(max(down, 0.0), 1.0)

    @property
    def ankle(self) -> tuple[float, float]:
        """Where the front of the leg meets the foot."""
        return min(self.leg_wide, self.toe_start - BEND_CM), min(self.leg_end, self.instep)

    @property
    def rounding(self) -> float:
        """Where the back begins to round off into the sole."""
        return self.sole - self.heel_front / 2

    def round_the_heel(self, share: float) -> tuple[float, float]:
        """A point on the heel's rounding, between its beginning on the back (0) and its end on the sole (1)."""
        return self.heel_front * share**2, self.sole - self.heel_front / 2 * (1 - share) ** 2

    @property
    def back(self) -> tuple[Stretch, ...]:
        """What is measured down the back."""
        turned = "heel turn" if self.turned_up else "heel flap"
        heel = ("heel", self.heel_end) if self.mitred else (turned, self.flap_end)
        all_parts = (
            Stretch("cuff", 0.0, self.cuff_end),
            Stretch("leg", self.cuff_end, self.leg_end),
            Stretch("gusset above the heel", self.leg_end, self.heel_top),
            Stretch(heel[0], self.heel_top, heel[1]),
        )
        return tuple(part for part in all_parts if part.end > part.start)

    @property
    def bottom(self) -> tuple[Stretch, ...]:
        """What is measured along the sole."""
        return (
            Stretch("back of the heel to toe", 0.0, self.toe_start),
            Stretch("toe", self.toe_start, self.length),
            Stretch("foot", 0.0, self.length),
        )


def outline_of(plan: Plan) -> Outline:
    """The flat sock of a plan, from its sizes and the lengths of its sections."""
    sizes = plan.sizes
    beside = beside_the_heel(plan.request.construction)

    def long(wanted: Callable[[Part], bool]) -> float:
        """Height of the parts that are wanted."""
        return sum(section.length_cm for section, part in built(plan) if wanted(part))

    cuff_end = long(lambda part: part.of == "cuff")
    leg_end = cuff_end + long(lambda part: part is LEG)
    heel_top = leg_end + long(lambda part: part.key in beside.on_leg)
    toe_start = sizes.foot_length_cm - long(lambda part: part.of == "toe")
    turned_up = any(part.flap and part.widest_before for _, part in built(plan))
    gusset_end = toe_start - long(lambda part: part.key in _before_the_toe(plan))
    return Outline(
        top_wide=round_the_top(plan) / 2,
        leg_wide=sizes.leg_cm / 2,
        foot_wide=sizes.foot_circumference_cm / 2,
        hem_end=_hem(plan),
        cuff_end=cuff_end,
        leg_end=leg_end,
        heel_top=heel_top,
        flap_end=heel_top + long(lambda part: part.flap),
        mitred=not any(part.flap or part.widest_before for _, part in built(plan)),
        turned_up=turned_up,
        heel_front=max(CUP_CM * turned_up, gusset_end - long(lambda part: part.key in beside.on_foot)),
        gusset_end=gusset_end,
        toe_start=toe_start,
        length=sizes.foot_length_cm,
        toe=_toe(plan, toe_start),
    )


def _hem(plan: Plan) -> float:
    """How high the hem of the cuff is; 0 without one."""
    cuff = next(section for section, part in built(plan) if part.of == "cuff")
    return cuff.length_cm * hem_rounds(cuff.rounds()) / max(1, sum(adds_height(cuff.rounds())))


def _before_the_toe(plan: Plan) -> set[str]:
    """The straight of the foot; from the cuff down the round over waste yarn is the first of it."""
    return {FOOT.key} if plan.request.construction.direction == "toe-up" else {FOOT.key, HEEL_OPENING.key}


def _toe(plan: Plan, start: float) -> tuple[tuple[float, float, float], ...]:
    """The toe's shape without the steps of its stitches: each width stands in the middle of its rounds."""
    sizes = plan.sizes
    counts = _counts_to_the_tip(plan)
    wide = sizes.foot_circumference_cm / sizes.foot_stitches / 2
    far = (sizes.foot_length_cm - start) / max(1, len(counts))
    points = []
    passed = 0
    for (count, down), alike in groupby(zip(counts, _leaning(plan, counts), strict=True)):
        rounds = len(list(alike))
        points.append((start + (passed + rounds / 2) * far, (count / 2 - down) * wide, (count / 2 + down) * wide))
        passed += rounds
    return (*points, (sizes.foot_length_cm, *points[-1][1:]))


def _leaning(plan: Plan, counts: list[int]) -> list[int]:
    """How many stitches of a flat toe the middle of each round lies below the side edge; not at all in most toes.

    A round that narrows at the little toe's side alone moves it by one.
    """
    toe = next(section for section, part in built(plan) if part.of == "toe").rounds()
    fabric = [item for item in toe if item.is_fabric]
    way = {"left foot": 1, "right foot": -1}.get(plan.request.construction.toe, 0)
    if not way:
        return [0] * len(counts)
    moved = [way * one_ended(item) for item in fabric]
    if plan.request.construction.direction == "toe-up":
        # From its tip on a toe widens: the round with the count before it comes after it on the way back.
        moved = [0, *moved[:0:-1]]
    return list(accumulate(moved))


def _counts_to_the_tip(plan: Plan) -> list[int]:
    """Stitches round the toe in each round, from the foot to the tip; a short row is on both sides of the toe."""
    toe = next(section for section, part in built(plan) if part.of == "toe").rounds()
    rows = [item for item in toe if item.side != "round"]
    if rows:
        return [2 * zone_stitches(item, "toe") for item in rows[1 : len(rows) // 2 + 1]]
    counts = [item.after for item in toe if item.is_fabric]
    return counts[::-1] if plan.request.construction.direction == "toe-up" else counts
