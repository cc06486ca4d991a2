"""The same sock told for the needles at hand: where the stitches lie when a section begins."""

from __future__ import annotations

from .counts import heel_stitches
from .document import Plan, Round, Section
from .request import Arrangement
from .work import zone_stitches

HALVES: dict[Arrangement, tuple[str, str]] = {
    "long circular": ("the front half of the needle", "the back half"),
    "two short circulars": ("needle 1", "needle 2"),
    "flexible double-pointed": ("needle 1", "needle 2"),
}


def needle_notes(plan: Plan) -> dict[str, str]:
    """For each section, by its key: how many stitches lie on which needle when it begins."""
    notes = {}
    instep = 0
    halves: tuple[int, int] | None = None
    for section in plan.sections:
        notes[section.key] = _note(section, halves or _halves(section.rounds()[0], 0), plan.request.needles.arrangement)
        for item in section.rounds():
            if item.side == "round":
                instep = zone_stitches(item, "instep")
        halves = _halves(section.rounds()[-1], instep)
    return notes


def _halves(item: Round, instep: int) -> tuple[int, int]:
    """Stitches in the half of heel or sole, and in that of the instep, after a round; rows leave the instep alone."""
    if instep:
        return item.after - instep, instep
    if item.side != "round":
        lower = zone_stitches(item, "heel")
    else:
        lower = item.after // 2 if item.work[0].zone == "toe" else heel_stitches(item.after)
    return lower, item.after - lower


def _note(section: Section, halves: tuple[int, int], arrangement: Arrangement) -> str:
    first = section.rounds()[0]
    casting_on = not first.before
    lower, upper = _halves(first, 0) if casting_on else halves
    rows = "" if first.side == "round" else " The rows are worked over the first; the rest waits."
    begins = "" if casting_on or rows else " The round begins at the first."
    if arrangement == "short circular":
        if rows:
            return f"Work the rows with a second needle; {upper} stitches wait on the short circular one."
        return f"{lower + upper} stitches, a marker where the round begins and another after {lower}."
    if arrangement == "double-pointed":
        parts = [(lower + 1) // 2, lower // 2, (upper + 1) // 2, upper // 2]
        if rows:
            return f"{lower} stitches on one needle; {parts[2]} and {parts[3]} wait on two others."
        return f"{parts[0]}, {parts[1]}, {parts[2]} and {parts[3]} stitches on four needles.{begins}"
    here, there = HALVES[arrangement]
    return f"{lower} stitches on {here}, {upper} on {there}.{rows}{begins}"
