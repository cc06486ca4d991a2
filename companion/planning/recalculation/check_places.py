"""Where a gauge check pays: where there is fabric enough to count on, and something left to be decided."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, TypeAlias

from ..construction.constructions import built
from ..construction.sections.foot import FOOT
from ..fit.targets import fit_of
from ..frozen_model import FrozenModel
from ..plan.document import Plan

FABRIC_CM = 4
"""Plain fabric that a count wants below it (common practice: the first rounds of a tube still pull)."""

AGAIN_CM = 6
"""A tube longer than this is worth a second check at its end (ours)."""


APART_CM = 8
"""More foot than this between two places is worth a third half way: at its end it could only be ripped (ours)."""


CheckReason: TypeAlias = Literal[
    "first fabric", "while the foot can change", "before the next part", "before the gusset ends"
]


class CheckPlace(FrozenModel):
    """A place for a check: after `round` rounds of the sock, in which section, and why there."""

    round: int
    section: str
    why: CheckReason


def check_places(plan: Plan) -> tuple[CheckPlace, ...]:
    """The places in order: early in leg and foot, at the end of a long one, and in the middle of the gusset.

    A long foot has one more half way. From the toe up the middle of the toe is fabric to count on, so the foot is begun
    with the stitches that suit it.
    """
    fit = fit_of(plan.request)
    places: list[CheckPlace] = []
    below = 0.0
    for section, part in built(plan):
        span = plan.span(section.key)
        if part.countable and part.tube:
            places += _in_a_tube(section.key, span, fit.rounds_of(part.of), below)
        elif part.countable and part.of == "gusset" and len(span) > 1:
            middle = span.start + len(span) // 2
            places.append(CheckPlace(round=middle, section=section.key, why="before the gusset ends"))
        below = section.length_cm if part.of == "toe" else 0.0
    return tuple(places)


def next_check_place(plan: Plan, done: int) -> CheckPlace | None:
    """The first place at which there is fabric enough that was not there after `done` rounds; None without one."""
    return next(check_places_after(plan, done), None)


def check_places_after(plan: Plan, done: int) -> Iterator[CheckPlace]:
    """The places at which there is fabric enough that was not there after `done` rounds, in order.

    Before a part ends half of it is enough: there something can still be decided.
    """
    fit, parts = fit_of(plan.request), {section.key: part.of for section, part in built(plan)}
    for place in check_places(plan):
        new_cm = (place.round - done) / fit.rounds_of(parts[place.section])
        if new_cm >= FABRIC_CM / (1 if place.why == "first fabric" else 2):
            yield place


def _in_a_tube(section: str, span: range, per_cm: float, below: float) -> list[CheckPlace]:
    """The places in a tube that begins on so many cm of plain fabric."""
    early = min(len(span), max(0, round((FABRIC_CM - below) * per_cm)))
    found = [CheckPlace(round=span.start + early, section=section, why="first fabric")] if early or below else []
    if section == FOOT.key and len(span) - early > APART_CM * per_cm:
        half_way = span.start + (early + len(span)) // 2
        found.append(CheckPlace(round=half_way, section=section, why="while the foot can change"))
    if len(span) >= AGAIN_CM * per_cm:
        found.append(CheckPlace(round=span.stop, section=section, why="before the next part"))
    return found
