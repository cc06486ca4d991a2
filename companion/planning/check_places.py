"""Where a gauge check pays: where there is fabric enough to count on, and something left to be decided."""

from __future__ import annotations

from typing import Literal

from .construction import parts_of
from .document import Plan, Section, Value
from .fit import fit_of

FABRIC_CM = 4
"""Plain fabric that a count wants below it (common practice: the first rounds of a tube still pull)."""

AGAIN_CM = 6
"""A tube longer than this is worth a second check at its end (ours)."""


class CheckPlace(Value):
    """A place for a check: after `round` rounds of the sock, in which section, and why there."""

    round: int
    section: str
    why: Literal["first fabric", "before the next part", "before the gusset ends"]


def check_places(plan: Plan) -> tuple[CheckPlace, ...]:
    """The places in order: early in leg and foot, at the end of a long one, and in the middle of the gusset.

    From the toe up the middle of the toe is fabric to count on, so the foot is begun with the stitches that suit it.
    """
    tubes = {part.key for part in parts_of(plan.request.construction) if part.tube} - {"cuff"}
    per_cm = fit_of(plan.request).fabric.rounds
    places: list[CheckPlace] = []
    start, below = 0, 0.0
    for section in plan.sections:
        count = len(section.rounds())
        if section.key in tubes:
            places += _in_a_tube(section, start, per_cm, below)
        elif section.key == "gusset" and count > 1:
            places.append(CheckPlace(round=start + count // 2, section=section.key, why="before the gusset ends"))
        start += count
        below = section.length_cm if section.key == "toe" else 0.0
    return tuple(places)


def _in_a_tube(section: Section, start: int, per_cm: float, below: float) -> list[CheckPlace]:
    """The places in a tube that begins after so many rounds, on so many cm of plain fabric."""
    count = len(section.rounds())
    early = min(count, max(0, round((FABRIC_CM - below) * per_cm)))
    found = [CheckPlace(round=start + early, section=section.key, why="first fabric")] if early or below else []
    if count >= AGAIN_CM * per_cm:
        found.append(CheckPlace(round=start + count, section=section.key, why="before the next part"))
    return found
