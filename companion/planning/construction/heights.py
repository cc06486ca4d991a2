"""How high each round of a plan makes the sock."""

from __future__ import annotations

from collections.abc import Iterator

from ..fit.targets import fit_of, nearest
from ..plan.document import Plan
from .constructions import built


def heights(plan: Plan) -> Iterator[float]:
    """For each round, by how many rounds of its fabric worked straight on it makes its section higher.

    That is 1, and less than 1 where short rows go to a tip and back. It is 0 for a cast-on, a bind-off, grafting, and
    what lies folded inside.
    """
    fit = fit_of(plan.request)
    for section, part in built(plan):
        per_cm = fit.rounds_of(part.of)
        fabric = part.adds_height(section.rounds())
        share = round(nearest(section.length_cm * per_cm) / max(1, sum(fabric)), 3)
        yield from (share if makes_fabric else 0 for makes_fabric in fabric)
