"""A gauge check: stitches, rounds and lengths as they were counted and measured on the knitting."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, ValidationError, model_validator

from ..faults import Fault, faults_of
from ..frozen_model import FrozenModel
from ..request.entries import Number, Text


class Spot(FrozenModel):
    """One count over a length of fabric."""

    count: Number = Field(ge=4, le=400)
    over_cm: Number = Field(ge=2, le=60)


class Stretch(FrozenModel):
    """A length by tape: so many rounds of a section are so long."""

    section: Text = "leg"
    rounds: int = Field(ge=4, le=2000)
    length_cm: Number = Field(ge=2, le=80)


class Ratio(FrozenModel):
    """What a fabric has of stitches and rounds for each of those of an `other` one, over the same length.

    None for a kind that was counted on the other one itself. `error` is one deviation, as a part of it.
    """

    stitches: float | None = Field(gt=0)
    rounds: float | None = Field(gt=0)
    error: float = Field(ge=0)
    other: Text = "plain knitting"


class Check(FrozenModel):
    """What was found on the knitting; every part may be left out but not all of them.

    Stitches over a width and rounds over a height, each at one or more spots; lengths by tape. `round` is how many
    rounds of the pair were knitted then: a check on sock two adds the rounds of sock one. `sock_round` is how many of
    the sock in question, where it was made on that one. `needle_mm` is what the fabric was knitted with, where that is
    not the needle of the plan any more. `in_pattern` says whether it was counted in a stitch pattern, where its place
    does not tell, `rounds_in_pattern` the same of its rounds where they differ, and `ratio` what that has for each
    stitch of the fabric that the check is to speak of.
    """

    stitches: tuple[Spot, ...] = Field((), max_length=20)
    rounds: tuple[Spot, ...] = Field((), max_length=20)
    tape: tuple[Stretch, ...] = Field((), max_length=20)
    round: int | None = Field(None, ge=0, le=10_000)
    sock_round: int | None = Field(None, ge=0, le=10_000)
    needle_mm: Number | None = Field(None, ge=1, le=8)
    in_pattern: bool | None = None
    rounds_in_pattern: bool | None = None
    ratio: Ratio | None = None

    @model_validator(mode="after")
    def _something_was_counted(self) -> Check:
        if not self.stitches and not self.rounds and not self.tape:
            raise ValueError("count stitches over a width, rounds over a height, or both")
        return self

    def spots(self, what: Literal["stitches", "rounds"]) -> tuple[Spot, ...]:
        """The counted spots of one kind."""
        return self.stitches if what == "stitches" else self.rounds

    def counts(self, what: Literal["stitches", "rounds"]) -> bool:
        """Whether it says anything of the one or the other."""
        return bool(self.spots(what)) or (what == "rounds" and bool(self.tape))


def read_check(data: object) -> tuple[Check | None, list[Fault]]:
    """A check from parsed JSON, or what is wrong with it."""
    try:
        return Check.model_validate(data), []
    except ValidationError as error:
        return None, faults_of(error)
