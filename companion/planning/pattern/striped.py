"""Parts in stripes under a stitch pattern: the stripes are named once where a part begins, and in none of its rounds.

Pattern and stripes begin again after other rounds, so that together they would have to be written round by round.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ..construction.constructions import built
from ..fabric.own_yarn import in_yarn
from ..fabric.stripes import stripes_of
from ..plan.document import Plan, Round, Section
from ..plan.rounds import map_unique


def said_of_stripes(plan: Plan) -> dict[str, str]:
    """Which stripes the sections in stripes under a stitch pattern have, by their keys; none where there are none.

    A part that was begun in other stripes is left out: its rounds name their yarns.
    """
    stripes = stripes_of(plan.request)
    if stripes is None:
        return {}
    found, before = {}, 0
    for section in _striped(plan):
        rounds = [item for item in section.rounds() if item.side == "round"]
        yarns = (stripes.rows[(before + number) % len(stripes.rows)] for number in range(len(rounds)))
        if all(_drawn(item, stripes.main) <= {yarn} for item, yarn in zip(rounds, yarns, strict=True)):
            found[section.key] = f"Stripes: begin with row {before % len(stripes.rows) + 1}, one row a round."
        before += len(rounds)
    return found


def stripe_of(plan: Plan, item: Round) -> int:
    """The row of the stripes, from 1, that a round of a plan in stripes has where it is knitted first."""
    assert plan.request.leg.chart is not None
    rounds = (each for section in _striped(plan) for each in section.rounds() if each.side == "round")
    number = next((number for number, each in enumerate(rounds) if each is item), 0)
    return number % plan.request.leg.chart.height + 1


def _striped(plan: Plan) -> Iterator[Section]:
    """The sections that are in stripes, also where their pattern ends before them."""
    return (section for section, part in built(plan) if part.shows_the_pattern(plan.request))


def _drawn(item: Round, main: str) -> set[str]:
    return {yarn or main for yarn, loops in item.drawn.items() if loops}


def without_stripes(section: Section) -> Section:
    """A section whose rounds do not name the yarn of their stripe."""
    steps = (replace(step, rounds=tuple(map_unique(step.rounds, _unnamed))) for step in section.steps)
    return replace(section, steps=tuple(steps))


def _unnamed(item: Round) -> Round:
    return in_yarn(item, None) if item.side == "round" else item
