"""What a logbook entry carries beside a place: notes, try-ons, checks, decisions and others. Pure."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Annotated, Any, Literal, TypeAlias

from pydantic import BaseModel, Field, StringConstraints

from ..planning import Check
from ..planning.frozen_model import FrozenModel
from ..planning.recalculation.try_on import Feels, Where
from ..planning.request.entries import Number

MOST_LETTERS = 1000
"""Characters of a note: a page of a small notebook (ours)."""

MOST_BYTES = 4096
"""Of a remark as JSON in UTF-8 (ours)."""

MOST_CM = 200
"""Of a length by tape: longer than any sock (ours)."""

MOST_GRAMS = 5000
"""Of a weighing: more than any kitchen scale takes (common practice)."""

LIMITS = {"data-most-cm": MOST_CM, "data-most-grams": MOST_GRAMS, "data-most-letters": MOST_LETTERS}
"""What may be written down while knitting, for the pages that write it down also without network."""

Remark: TypeAlias = Literal["note", "try-on", "check", "weighing", "length", "decision", "withdrawal"]


Since: TypeAlias = Literal["section", "cast-on", "back of heel", "tip of toe"]


class Note(FrozenModel):
    """Something worth remembering, in the knitter's words."""

    text: Annotated[str, StringConstraints(strict=True, min_length=1, max_length=MOST_LETTERS)]


class TryOn(FrozenModel):
    """How the sock felt on the foot, at one part of it."""

    where: Where
    feels: Feels


class Weighing(FrozenModel):
    """Grams of one yarn that are left, by the yarn's key."""

    grams: Number = Field(ge=0, le=MOST_GRAMS)
    yarn: Literal["A", "B", "C", "D"] = "A"


class Length(FrozenModel):
    """How long the knitting is in cm, laid flat, from one end (or where this section begins) to the needles."""

    cm: Number = Field(gt=0, le=MOST_CM)
    since: Since = Field("cast-on", alias="from")


class Decision(FrozenModel):
    """To knit on by the plan as it is, knowing what was counted and measured until then."""

    way: Literal["as it is"]


class Withdrawal(FrozenModel):
    """An earlier remark that was a mistake and does not count any more, by its id."""

    entry: Annotated[str, StringConstraints(strict=True, min_length=36, max_length=36)]


SHAPES: Mapping[str, type[BaseModel]] = {
    "note": Note,
    "try-on": TryOn,
    "check": Check,
    "weighing": Weighing,
    "length": Length,
    "decision": Decision,
    "withdrawal": Withdrawal,
}
"""What each kind of remark carries."""


def checked_remark(kind: str, data: dict[str, Any] | None) -> dict[str, Any] | None:
    """What an entry of this kind carries, as it was given; None for the kinds that carry nothing.

    None is also what a remark carries that was taken back: its words are gone everywhere. Raises ValueError or
    ValidationError with what is allowed.
    """
    shape = SHAPES.get(kind)
    if shape is None:
        if data is not None:
            raise ValueError("only remarks carry more than a place")
        return None
    if data is None:
        if kind == "withdrawal":
            raise ValueError("needed, but missing")
        return None
    if len(json.dumps(data, ensure_ascii=False).encode("utf-8", "surrogatepass")) > MOST_BYTES:
        raise ValueError(f"at most {MOST_BYTES} bytes are allowed")
    shape.model_validate(data)
    return data
