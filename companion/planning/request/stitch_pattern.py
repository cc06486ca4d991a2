"""The stitch pattern of a request: rows as a knitter types them, or the name of one that is ready to choose."""

from __future__ import annotations

from typing import Annotated, Any, TypeAlias

from pydantic import (
    AfterValidator,
    Field,
    SerializerFunctionWrapHandler,
    StringConstraints,
    model_serializer,
    model_validator,
)

from ..frozen_model import FrozenModel
from ..stitches.reading import MOST_ROUNDS, read_row
from ..stitches.ready import READY
from ..stitches.repeat import Rounds, rounds_of, taken
from .entries import Number, Text, few


def _a_row_of_stitches(text: str) -> str:
    read_row(text)
    return text


PatternRow: TypeAlias = Annotated[str, StringConstraints(max_length=300), AfterValidator(_a_row_of_stitches)]


class StitchPattern(FrozenModel):
    """The repeat of a stitch pattern in one yarn, each row a round as it is typed, from its right side.

    A pattern that is ready to choose is given by its name alone, which brings its rows. What was counted over 10 cm of
    it is its own gauge; without it that is estimated from what it is made of.
    """

    name: Text = ""
    rows: Annotated[tuple[PatternRow, ...], few(MOST_ROUNDS)] = Field(min_length=1)
    stitches_per_10cm: Number | None = Field(None, ge=10, le=90)
    rounds_per_10cm: Number | None = Field(None, ge=12, le=150)

    @model_validator(mode="before")
    @classmethod
    def _by_its_name(cls, given: Any) -> Any:
        if not isinstance(given, dict) or "rows" in given or not isinstance(name := given.get("name"), str):
            return given
        if name not in READY:
            *others, last = map(repr, READY)
            raise ValueError(f"allowed: {', '.join(others)} or {last}, or rows of your own")
        return {**given, "rows": READY[name].rows}

    @model_validator(mode="after")
    def _a_repeat(self) -> StitchPattern:
        rounds_of(self.rows)
        if (self.stitches_per_10cm is None) != (self.rounds_per_10cm is None):
            raise ValueError("count stitches and rounds of the pattern, or leave both out")
        return self

    @model_serializer(mode="wrap")
    def _what_was_counted(self, shape: SerializerFunctionWrapHandler) -> dict[str, Any]:
        """Without entries for a gauge that was not counted."""
        entries: dict[str, Any] = shape(self)
        return {key: value for key, value in entries.items() if value is not None}

    @property
    def is_counted(self) -> bool:
        """Whether all of its gauge was counted."""
        return self.stitches_per_10cm is not None and self.rounds_per_10cm is not None

    @property
    def rounds(self) -> Rounds:
        """The operations of each round of the repeat."""
        return rounds_of(self.rows)

    @property
    def width(self) -> int:
        """Stitches of the repeat."""
        return taken(self.rounds[0])

    @property
    def height(self) -> int:
        """Rounds of the repeat."""
        return len(self.rounds)
