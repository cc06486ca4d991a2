"""What is measured of a foot, in cm."""

from __future__ import annotations

from typing import Annotated, Literal, TypeAlias

from pydantic import FailFast, Field

from ..frozen_model import FrozenModel
from .entries import Number

ShoeSystem: TypeAlias = Literal["EU", "UK", "US men", "US women", "Mondopoint"]
Guessed: TypeAlias = Literal["length_cm", "ball_circumference_cm"]


class ShoeSize(FrozenModel):
    """The shoe size that a foot was guessed from, and which of its entries are `guessed` and not measured."""

    system: ShoeSystem
    size: Number = Field(ge=0, le=400)
    guessed: Annotated[tuple[Guessed, ...], FailFast()] = ("length_cm", "ball_circumference_cm")


class Foot(FrozenModel):
    """A measured foot. The heel diagonal goes round the heel and the front of the ankle."""

    ball_circumference_cm: Number = Field(ge=9, le=35)
    length_cm: Number = Field(ge=8, le=36)
    ankle_circumference_cm: Number | None = Field(None, ge=9, le=40)
    heel_diagonal_cm: Number | None = Field(None, ge=12, le=50)
    leg_circumference_cm: Number | None = Field(None, ge=9, le=60)
    shoe_size: ShoeSize | None = None
