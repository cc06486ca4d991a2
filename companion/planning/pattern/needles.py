"""The same sock described for the needles at hand: where the stitches lie when a section begins, and what to move.

The heel and the sole are one half of the stitches, the instep is the other; the round begins with the heel's half.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeAlias

from ..fit.halves import heel_stitches
from ..fit.targets import nearest_multiple
from ..plan.document import Plan, Round, Section
from ..plan.rounds import is_spread, makes, one_by_one, takes, zone_stitches
from ..request.rib import rib_width
from .needle_text import NOTES, Moment

CROWDED_CM = 18
"""More knitting than this crowds one double-pointed needle, which is 15 to 20 cm long (common practice)."""

UNEVEN = 2
"""How far a needle's end may be moved to a whole repeat of the ribbing (ours), in stitches."""


Quarters: TypeAlias = tuple[int, int, int, int]
"""The stitches on each of four needles."""


@dataclass(frozen=True)
class StitchLayout:
    """How the stitches lie when a section begins: those of the heel's half, `lower`, and those of the instep's.

    `moved` of them came in the other half from the section before; less than 0 when they go to the instep's.
    """

    lower: int
    upper: int
    moment: Moment
    moved: int = 0


def needle_notes(plan: Plan) -> dict[str, str]:
    """For each section, by its key: how many stitches lie on which needle when it begins, and what to move."""
    notes = {}
    quarters: Quarters = (0, 0, 0, 0)
    for section, layout in _layouts(plan):
        ribbed = section.rounds()[0].work[0].zone == "leg"
        shared = _quarters(layout, rib_width(plan.request.cuff.rib) if ribbed else 1)
        quarters = shared if ribbed else _kept_as_before(quarters, shared, layout.moment)
        notes[section.key] = _note(plan, section, layout, quarters)
    return notes


def _kept_as_before(before: Quarters, shared: Quarters, moment: Moment) -> Quarters:
    """The quarters of a half stay as they were while its count does; those of the heel only if it was not in rows.

    The edges of an opening are put on needles again.
    """
    if moment == "opening":
        return shared
    lower = before[:2] if moment == "round" and sum(before[:2]) == sum(shared[:2]) else shared[:2]
    upper = before[2:] if sum(before[2:]) == sum(shared[2:]) else shared[2:]
    return (*lower, *upper)


def _note(plan: Plan, section: Section, layout: StitchLayout, quarters: Quarters) -> str:
    words = NOTES[plan.request.needles.arrangement]
    rounds = section.rounds()
    sentences = [words.at[layout.moment]]
    if layout.moved:
        sentences.insert(0, words.to_the_heel if layout.moved > 0 else words.to_the_instep)
    if layout.moment == "rows" and layout.lower * 10 > CROWDED_CM * plan.request.gauge.stitches_per_10cm:
        sentences.append(words.crowded)
    if layout.moment != "opening" and rounds[-1].uses("graft", "draw"):
        sentences += [words.closed, words.grafted if rounds[-1].uses("graft") else ""]
    if plan.request.needles.two_at_a_time and section == plan.sections[0]:
        sentences.append(words.two)
    counts = dict(zip(("one", "two", "three", "four"), quarters, strict=True))
    total = layout.lower + layout.upper
    counts |= {"lower": layout.lower, "upper": layout.upper, "total": total, "moved": abs(layout.moved)}
    return " ".join(filter(None, sentences)).format_map(counts)


def _layouts(plan: Plan) -> Iterator[tuple[Section, StitchLayout]]:
    lower = instep = 0
    rows_before = False
    for section in plan.sections:
        rounds = section.rounds()
        first = rounds[0]
        moment = _moment(first, rows_before=rows_before)
        came = lower
        if not first.before:
            came = lower = _cast_on(plan, first, moment)
        elif moment == "rows":
            lower = first.before - instep if instep else heel_stitches(first.before)
        elif not _undivided(first) and first.side == "round":
            lower = sum(takes(work.ops) for work in first.work if work.zone != "instep")
        elif first.work[0].zone == "toe":
            # A round toe has no sides, so both halves can be alike; then no decrease lies across their border.
            lower = first.before // 2
        yield section, StitchLayout(lower, (first.before or first.after) - lower, moment, lower - came)
        for item in rounds:
            lower = _after(item, lower) if item.before else lower
            instep = zone_stitches(item, "instep") if item.side == "round" else instep
        rows_before = any(item.side != "round" for item in rounds)


def _moment(first: Round, *, rows_before: bool) -> Moment:
    if not first.before:
        if first.uses("resume"):
            return "opening"
        if first.resting:
            return "provisional"
        return "tip" if first.work[0].zone == "toe" else "cast on"
    if first.side != "round":
        return "more rows" if rows_before else "rows"
    if first.uses("pu"):
        return "pick up"
    return "after rows" if rows_before else "round"


def _cast_on(plan: Plan, first: Round, moment: Moment) -> int:
    """Stitches of a first round that go to the heel's half."""
    match moment:
        case "opening":
            return zone_stitches(first, "heel")
        case "provisional":
            return first.after
        case "tip":
            return first.after // 2
        case "cast on" if _shaped(plan):
            # The back of a leg is narrowed, so that it begins with all that the instep's half will not have.
            return first.after - (plan.sizes.leg_stitches - heel_stitches(plan.sizes.leg_stitches))
        case _:
            return heel_stitches(first.after)


def _shaped(plan: Plan) -> bool:
    """Whether a leg is narrowed along its back rather than changed once and evenly."""
    changes = [item for item in plan.rounds() if item.work[0].zone == "leg" and item.before not in {0, item.after}]
    return len(changes) > 1


def _undivided(item: Round) -> bool:
    """Whether a round goes over both halves in the same way, so that it does not matter where they meet."""
    return item.side == "round" and {work.zone for work in item.work} <= {"leg", "toe"}


def _after(item: Round, lower: int) -> int:
    """Stitches in the heel's half after a round that began with `lower` there; rows leave the instep alone."""
    if item.side != "round":
        return item.after - (item.before - lower)
    if item.work[0].zone == "leg" and not is_spread(item):
        # A leg is shaped along its back; a decrease of its pattern may lie across the border, and moves nothing.
        return lower + item.after - item.before
    if _undivided(item):
        return lower if item.before == item.after else _made_of(item, lower)
    return item.after - zone_stitches(item, "instep")


def _made_of(item: Round, lower: int) -> int:
    """Stitches that a round makes of the first `lower` ones."""
    taken = made = 0
    for each in one_by_one(item.ops):
        if takes((each,)) and taken >= lower:
            break
        taken += takes((each,))
        made += makes((each,))
    return made


def _quarters(layout: StitchLayout, repeat: int) -> Quarters:
    """The stitches on each of four needles: halves of the halves, between whole repeats where one is near."""
    total = layout.lower + layout.upper
    ends = [(layout.lower + 1) // 2, layout.lower + (layout.upper + 1) // 2]
    if total % repeat == 0:
        whole = [nearest_multiple(end, repeat) for end in ends]
        ends = [there if abs(there - here) <= UNEVEN else here for here, there in zip(ends, whole, strict=True)]
    return ends[0], layout.lower - ends[0], ends[1] - layout.lower, total - ends[1]
