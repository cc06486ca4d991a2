"""Where the parts of a sock that a leader speaks of lie among the sections of a plan. Pure."""

from __future__ import annotations

from collections.abc import Mapping

from ..plan.design import Design
from ..plan.document import PartOfSock, Plan
from .constructions import built, parts_by_key


def notes_by_section(design: Design, plan: Plan) -> dict[str, str]:
    """The leader's notes by the keys of the plan's sections; a part without a note, or without rounds, has none."""
    return {section.key: design.notes[part.of] for section, part in built(plan) if design.notes.get(part.of)}


def section_ends(plan: Plan) -> dict[str, int]:
    """How many rounds of a sock are done when each of its sections is, by the sections' keys in their order."""
    return {section.key: span.stop for section, span in plan.spans()}


def rounds_until(ends: Mapping[str, int], part: PartOfSock) -> int:
    """How many rounds of a sock are done when a part of it is, given where its sections end.

    A part that the sock does not have, like the gusset of a plain short-row heel, is done with the heel.
    """
    belongs = parts_by_key()

    def last(part: PartOfSock) -> int:
        return max((end for key, end in ends.items() if belongs.get(key) == part), default=0)

    return last(part) or last("heel")
