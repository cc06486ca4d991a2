"""Lengths by tape in the logbook: where on a sock one can be taken, and what it says of the gauge. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import islice
from typing import get_args

from pydantic import ValidationError

from ..planning import Check, Plan
from ..planning.construction.constructions import built, heel_of
from ..planning.construction.heights import heights
from ..planning.construction.sections.cuff import CUFF
from ..planning.construction.sections.edge_rounds import lies_open
from ..planning.construction.sections.leg import LEG
from ..planning.fit.targets import fit_of, nearest
from ..planning.gauge.check import Stretch
from ..planning.gauge.observations import listed
from ..planning.recalculation.recalculate import FARTHEST_OFF
from .logbook import Entry
from .remarks import Length, Since

SINCE_WORDS: Mapping[Since, str] = {
    "section": "where this part begins",
    "cast-on": "the cast-on",
    "back of heel": "the back of the heel",
    "tip of toe": "the tip of the toe",
}
"""The ends that a length is taken from, in words."""


def lengths_as_checks(plan: Plan, entries: Iterable[Entry]) -> list[Check]:
    """What the lengths in the logbook of socks that follow this plan say of its gauge.

    Of several lengths of the same stretch the newest counts. One is left out that says nothing of the fabric: taken
    where no straight tape goes, over too few rounds, or so far off that it must be a misreading.
    """
    newest = {}
    for entry in sorted(entries, key=Entry.order):
        if entry.kind == "length" and entry.data:
            newest[entry.sock, entry.round, entry.data.get("from")] = entry
    return [check for entry in newest.values() if (check := _as_check(plan, entry))]


def taken_from(plan: Plan, at: int) -> tuple[Since, ...]:
    """The ends that a length up to the needles can be taken from in one of the sections, the usual one first."""
    return tuple(since for since in get_args(Since) if _goes_straight(plan, at, since))


def _goes_straight(plan: Plan, at: int, since: Since) -> bool:
    """Whether a tape from this end to needles in the section with this number goes round no corner."""
    *before, here = [part for _, part in islice(built(plan), at + 1)]
    made = plan.request.construction
    if here.turns or here.flat:
        return False
    past_the_heel = any(part.turns for part in before)
    match since:
        case "section":
            return here.straight
        case "back of heel":
            # A heel that is worked last has no back before the sock is nearly done.
            return made.direction == "cuff-down" and not heel_of(made).last and past_the_heel
        case _:
            return not past_the_heel and (since == "tip of toe") == (made.direction == "toe-up")


def stretch(plan: Plan, done: int, since: Since) -> tuple[str, int] | None:
    """What lies between an end and the needles: its name and its height in rounds; None where no straight tape goes."""
    at = _section_of_the_last_round(plan, done)
    if at is None or not _goes_straight(plan, at, since) or _in_an_open_hem(plan, at, done):
        return None
    high = list(heights(plan))
    if since == "section":
        section = plan.sections[at]
        return section.title.lower(), nearest(sum(high[plan.span(section.key).start : done]))
    if since == "back of heel":
        whole = plan.sizes.foot_length_cm * fit_of(plan.request).fabric.rounds
        return "foot", nearest(whole - sum(high[done:]))
    return listed([section.title.lower() for section in plan.sections[: at + 1]]), nearest(sum(high[:done]))


def _in_an_open_hem(plan: Plan, at: int, done: int) -> bool:
    """Whether the needles are in a hem that is not yet folded up: a tape would take its inside too."""
    section = plan.sections[at]
    return section.key == CUFF.key and lies_open(section.rounds(), done - plan.span(section.key).start)


def _section_of_the_last_round(plan: Plan, done: int) -> int | None:
    """Which of the sections was knitted last; None before the first round and for a place outside the sock."""
    return next((number for number, (_, span) in enumerate(plan.spans()) if done - 1 in span), None)


def _as_check(plan: Plan, entry: Entry) -> Check | None:
    taken = Length.model_validate(entry.data)
    found = stretch(plan, entry.round, taken.since)
    if found is None:
        return None
    section, rounds = found
    fit, in_leg = fit_of(plan.request), section == LEG.title.lower()
    if not in_leg and LEG.title.lower() in section and fit.leg.rounds != fit.fabric.rounds:
        return None  # cuff and leg together are of two fabrics
    planned = fit.leg.rounds if in_leg else fit.fabric.rounds
    if abs(rounds / taken.cm / planned - 1) > FARTHEST_OFF:
        return None
    try:
        taped = Stretch(section=section, rounds=rounds, length_cm=taken.cm)
    except ValidationError:
        return None
    earlier = plan.count if entry.sock == 2 else 0
    in_pattern = in_leg and plan.request.leg.stitch_pattern is not None
    return Check(tape=(taped,), round=earlier + entry.round, in_pattern=in_pattern)
