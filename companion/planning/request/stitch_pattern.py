"""The stitch pattern of a request: rows as a knitter types them, or the name of one that is ready to choose."""

from __future__ import annotations

from typing import Annotated, Any, Literal, TypeAlias

from pydantic import (
    AfterValidator,
    Field,
    SerializerFunctionWrapHandler,
    Strict,
    StringConstraints,
    model_serializer,
    model_validator,
)

from ..frozen_model import FrozenModel
from ..stitches.labels import MOST_ROUNDS
from ..stitches.operations import Names, OpName, Rounds, taken
from ..stitches.panel import Panel, panel_with
from ..stitches.reading import read_row
from ..stitches.ready import READY
from ..stitches.repeat import rounds_of
from ..units import counted
from .entries import Number, Text, few
from .rib import parse_rib


def _a_row_of_stitches(text: str) -> str:
    read_row(text)
    return text


MOST_LETTERS = 1000
"""Of a row: the widest repeat with a decrease and a yarn over in turn, each written by itself (ours)."""

PatternRow: TypeAlias = Annotated[str, StringConstraints(max_length=MOST_LETTERS), AfterValidator(_a_row_of_stitches)]


def _beside(text: str) -> str:
    columns_beside(text)
    return text


class Placement(FrozenModel):
    """A pattern that is a panel of so many repeats on the middle of the front, or of the front and the back.

    Beside it are plain or purl stitches, or the columns of a ribbing, which begin next to the panel.
    """

    on: Literal["front", "front and back"] = "front"
    repeats: Annotated[int, Strict()] = Field(1, ge=1, le=20)
    beside: Annotated[str, StringConstraints(max_length=40), AfterValidator(_beside)] = "plain"


def columns_beside(text: str) -> Names:
    """The stitches beside a panel, outwards: "plain", "purl" or a ribbing. Raises ValueError where it is neither."""
    if text in ALL_OVER:
        return (ALL_OVER[text],)
    try:
        return tuple(name for name, times in parse_rib(text) for _ in range(times))
    except ValueError as error:
        raise ValueError(f"allowed: plain, purl, or a ribbing: {error}") from error


ALL_OVER: dict[str, OpName] = {"plain": "k", "purl": "p"}
"""What is the same in every stitch."""


class StitchPattern(FrozenModel):
    """The repeat of a stitch pattern in one yarn, each row as it is typed: a round, or a row of a flat piece.

    A pattern that is ready to choose is given by its name alone, which brings its rows. What was counted over 10 cm of
    it is its own gauge; without it that is estimated from what it is made of. Without a `placement` it goes all round
    the leg. On an instep it ends where the toe begins, or so far before it.
    """

    name: Text = ""
    rows: Annotated[tuple[PatternRow, ...], few(MOST_ROUNDS)] = Field(min_length=1)
    stitches_per_10cm: Number | None = Field(None, ge=10, le=90)
    rounds_per_10cm: Number | None = Field(None, ge=12, le=150)
    placement: Placement | None = None
    ends_before_toe_cm: Number = Field(0, ge=0, le=30)

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
    def _what_was_asked(self, shape: SerializerFunctionWrapHandler) -> dict[str, Any]:
        """Without entries for a gauge that was not counted, and a placement that was not asked for."""
        entries: dict[str, Any] = shape(self)
        return {key: value for key, value in entries.items() if value or key in ("name", "rows")}

    @property
    def panel(self) -> Panel | None:
        """The panel that it is placed as; None where it goes all round."""
        placed = self.placement
        return panel_with(self.rounds, placed.repeats, columns_beside(placed.beside)) if placed else None

    @property
    def in_words(self) -> str:
        """What it is and where it lies, in one line: "lace rib all round", "cable rib, a panel on the front"."""
        name, placed = self.name or "a stitch pattern", self.placement
        if placed is None:
            return f"{name} all round"
        if placed.on == "front":
            return f"{name}, a panel of {counted(placed.repeats, 'repeat')} on the front, {placed.beside} beside it"
        return f"{name}, panels of {counted(placed.repeats, 'repeat')} on front and back, {placed.beside} beside them"

    @property
    def described(self) -> Rounds:
        """The operations of each round of what is drawn and described of it: the repeat, or all of a panel."""
        return self.panel.rounds if self.panel else self.rounds

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
