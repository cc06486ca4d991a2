"""Mystery by stages: parts of a sock that followers see only from a day on, with stand-ins until then. Pure.

What a leader lays down is the whole design. Its versions, of which alone followers are sent anything, are the design
as it is seen on a day; those of the days to come wait for them. So a hidden part is in nothing that can be sent.
"""

from __future__ import annotations

from datetime import date

from ..planning.plan.design import Design
from ..planning.plan.document import PartOfSock
from ..planning.plan.stand_ins import with_stand_ins
from ..words import day_words


def as_seen(whole: Design, day: date) -> Design:
    """The design as it is seen on a day: of each part whose day is later a stand-in, and a note that says so."""
    left = {part: until for part, until in whole.hidden_until.items() if until > day}
    seen = with_stand_ins(whole, left.keys()).model_copy(update={"hidden_until": left})
    notes = {**whole.notes, **{part: _note(until) for part, until in seen.hidden.items()}}
    return seen.model_copy(update={"notes": notes})


def seen_later(whole: Design, day: date) -> list[tuple[date, Design]]:
    """What is seen from each later day on that reveals something, in their order; from the last one on all is."""
    days = sorted({until for until in whole.hidden_until.values() if until > day})
    return [(until, as_seen(whole, until)) for until in days]


def hidden_words(design: Design) -> list[tuple[PartOfSock, str]]:
    """The hidden parts in the order of their days, each with it in words."""
    return [(part, day_words(day)) for part, day in sorted(design.hidden_until.items(), key=lambda one: one[1])]


def _note(until: date) -> str:
    return f"Kept secret until {day_words(until)}. Knit no further before that: what stands here is a stand-in."
