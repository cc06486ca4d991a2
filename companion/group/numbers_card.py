"""How many stitches for one foot at one gauge: the figures of a design's size grid for a single knitter. Pure."""

from __future__ import annotations

from dataclasses import dataclass

from ..planning import CannotKnitError, PlanRequest, make_plan
from ..planning.construction.construction_words import construction_words
from ..planning.gauge.observations import listed
from ..planning.pattern.size_grid import figures_of, gauge_words
from ..planning.plan.design import Design
from ..planning.request.construction import Construction
from ..planning.request.size_range import over
from ..planning.units import Unit, show_length
from ..words import sentence


@dataclass(frozen=True)
class Numbers:
    """A construction in words, and its figures with their names; without figures, why there is no such sock."""

    construction: str
    figures: tuple[tuple[str, str], ...]
    refusal: str = ""


@dataclass(frozen=True)
class NumbersCard:
    """The figures of a foot at a gauge in each construction; `head` says which foot and gauge."""

    head: str
    each: tuple[Numbers, ...]

    @property
    def text(self) -> str:
        """The same to be pasted into a message."""
        parts = [
            "\n".join([sentence(one.construction), *(f"{name}: {value}" for name, value in one.figures)])
            + (f"\n{one.refusal}" if one.refusal else "")
            for one in self.each
        ]
        return "\n\n".join([self.head, *parts])


def numbers_card(wanted: PlanRequest, design: Design, unit: Unit) -> NumbersCard:
    """The figures for the foot and the gauge of a request in each construction that the design allows, of either sock
    for two feet; the construction of the request comes first."""
    socks = {"": wanted}
    if wanted.two_feet:
        socks = {", sock one": wanted, ", sock two": wanted.for_the_other_foot()}
    feet = (
        f"a foot {show_length(one.foot.ball_circumference_cm, unit)} round the ball and "
        f"{show_length(one.foot.length_cm, unit)} long"
        for one in socks.values()
    )
    head = f"{wanted.title}, for {listed([*feet])}, at {gauge_words(wanted.gauge, unit)} over {over(unit).words}."
    ways = dict.fromkeys((wanted.construction, *design.constructions))
    each = (
        _numbers(one, way, unit, construction_words(way, design.hidden_until) + sock)
        for way in ways
        for sock, one in socks.items()
    )
    return NumbersCard(head, tuple(each))


def _numbers(wanted: PlanRequest, construction: Construction, unit: Unit, words: str) -> Numbers:
    try:
        plan = make_plan(wanted.model_copy(update={"construction": construction}))
    except CannotKnitError as error:
        return Numbers(words, (), sentence(error.fault.message))
    return Numbers(words, tuple(figures_of(plan, unit)))
