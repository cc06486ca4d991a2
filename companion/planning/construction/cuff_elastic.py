"""How a sock that reaches over the calf is held up: elastic in its cuff, as long as the cuff lies by itself.

Elastic thread is sewn through the knit stitches of every second round, or a flat elastic of 6 to 10 mm is drawn through
a hem (knotions.com, "how to elastic thread").
"""

from __future__ import annotations

from ..fit.targets import fit_of
from ..plan.document import Plan
from ..units import both_units
from .sections.cuff import CUFF
from .sections.edge_rounds import hem_rounds
from .sections.leg import LEG

ROUNDS_OF_ELASTIC = 4
"""Rounds at the top with elastic thread in them, every second one (ours): about two centimetres."""

OVERLAP_CM = 2.0
"""By how much the ends of a flat elastic lie over each other where they are sewn together (common practice)."""

NO_MARK = "It holds without leaving a mark, or is too tight; with poor circulation ask a professional first."


def reaches_over_the_calf(plan: Plan) -> bool:
    """Whether the cuff sits above the widest place of the calf, which is a foot's length up, as the fit has it."""
    leg = next(section for section in plan.sections if section.key == LEG.key)
    return leg.length_cm > plan.request.foot.length_cm


def elastic_advice(plan: Plan) -> tuple[str, ...]:
    """What to do so that the sock stays up, in a sentence for the knitter; nothing where ribbing is enough."""
    if not reaches_over_the_calf(plan):
        return ()
    cuff = next(section for section in plan.sections if section.key == CUFF.key).rounds()
    around = fit_of(plan.request).fabric.width(max(item.after for item in cuff))
    above = "The cuff sits above the calf, from where ribbing alone slips down:"
    if hem_rounds(cuff):
        way = (
            f"draw a flat elastic, {both_units(around + OVERLAP_CM)} long with its ends overlapping by "
            f"{both_units(OVERLAP_CM)}, through the hem before its last stitches are closed."
        )
    else:
        way = (
            f"sew elastic thread through the backs of the knit stitches, in {ROUNDS_OF_ELASTIC} rounds at the top, "
            f"every second one, {both_units(around)} for each."
        )
    return (f"{above} {way} {NO_MARK}",)
