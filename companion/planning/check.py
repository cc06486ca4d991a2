"""A gauge check: stitches and rounds counted on the knitting, and how sure that makes us."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from pydantic import Field, ValidationError, model_validator

from .faults import Fault, faults_of
from .request import Asked, Number

COUNTING_ERROR = 0.29
"""One deviation of a count that is read to the nearest whole, in stitches: half a stitch either way, 1 / sqrt(12)."""

GIVE_OR_TAKE = 2.0
"""Deviations within which a difference is put down to counting: about one check in twenty falls outside by chance."""


class Spot(Asked):
    """One count over a length of fabric."""

    count: Number = Field(ge=4, le=400)
    over_cm: Number = Field(ge=2, le=60)


class Check(Asked):
    """Stitches counted over a width and rounds over a height, each at one or more spots; one may be left out."""

    stitches: tuple[Spot, ...] = Field((), max_length=20)
    rounds: tuple[Spot, ...] = Field((), max_length=20)

    @model_validator(mode="after")
    def _something_was_counted(self) -> Check:
        if not self.stitches and not self.rounds:
            raise ValueError("count stitches over a width, rounds over a height, or both")
        return self


def read_check(data: object) -> tuple[Check | None, list[Fault]]:
    """A check from parsed JSON, or what is wrong with it."""
    try:
        return Check.model_validate(data), []
    except ValidationError as error:
        return None, faults_of(error)


@dataclass(frozen=True)
class Estimate:
    """A gauge over 10 cm and one deviation of it."""

    per_10cm: float
    deviation: float

    @property
    def give_or_take(self) -> float:
        """How far off the true gauge may well be, per 10 cm."""
        return GIVE_OR_TAKE * self.deviation

    def tells_apart(self, planned: float) -> bool:
        """Whether the fabric differs from the plan by more than counting errors explain."""
        return abs(self.per_10cm - planned) > self.give_or_take


def estimate(spots: Sequence[Spot]) -> Estimate:
    """All counts over all lengths; the deviation has the counting error and the spread between the spots.

    Raises ValueError without a spot.
    """
    if not spots:
        raise ValueError("no spot was counted")
    length = sum(spot.over_cm for spot in spots)
    gauge = sum(spot.count for spot in spots) / length * 10
    counting = COUNTING_ERROR * math.sqrt(len(spots)) / length * 10
    if len(spots) == 1:
        return Estimate(gauge, counting)
    each = [spot.count / spot.over_cm * 10 for spot in spots]
    mean = sum(each) / len(each)
    between = sum((value - mean) ** 2 for value in each) / (len(each) - 1) / len(each)
    return Estimate(gauge, math.hypot(counting, math.sqrt(between)))
