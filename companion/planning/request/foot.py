"""What is measured of a foot, in cm."""

from __future__ import annotations

from typing import Annotated, Any, Literal, TypeAlias

from pydantic import FailFast, Field, SerializerFunctionWrapHandler, model_serializer

from ..frozen_model import FrozenModel
from .entries import Number

ShoeSystem: TypeAlias = Literal["EU", "UK", "US men", "US women", "Mondopoint"]
Guessed: TypeAlias = Literal["length_cm", "ball_circumference_cm"]


class ShoeSize(FrozenModel):
    """The shoe size that a foot was guessed from, and which of its entries are `guessed` and not measured."""

    system: ShoeSystem
    size: Number = Field(ge=0, le=400)
    guessed: Annotated[tuple[Guessed, ...], FailFast()] = ("length_cm", "ball_circumference_cm")


_BALL: dict[str, Any] = {"ge": 9, "le": 35}
_LENGTH: dict[str, Any] = {"ge": 8, "le": 36}
_ANKLE: dict[str, Any] = {"ge": 9, "le": 40}
_HEEL: dict[str, Any] = {"ge": 12, "le": 50}
_LEG: dict[str, Any] = {"ge": 9, "le": 60}
"""What is allowed of each measurement."""


class Foot(FrozenModel):
    """A measured foot. The heel diagonal goes round the heel and the front of the ankle."""

    ball_circumference_cm: Number = Field(**_BALL)
    length_cm: Number = Field(**_LENGTH)
    ankle_circumference_cm: Number | None = Field(None, **_ANKLE)
    heel_diagonal_cm: Number | None = Field(None, **_HEEL)
    leg_circumference_cm: Number | None = Field(None, **_LEG)
    shoe_size: ShoeSize | None = None


class OtherFoot(FrozenModel):
    """What is measured otherwise on the other foot; what is not given there is as on the first one.

    A measurement given as None was taken on the first foot only.
    """

    ball_circumference_cm: Number | None = Field(None, **_BALL)
    length_cm: Number | None = Field(None, **_LENGTH)
    ankle_circumference_cm: Number | None = Field(None, **_ANKLE)
    heel_diagonal_cm: Number | None = Field(None, **_HEEL)
    leg_circumference_cm: Number | None = Field(None, **_LEG)

    def given(self) -> dict[str, float | None]:
        """The measurements that differ, by their entries."""
        found = {entry: getattr(self, entry) for entry in OtherFoot.model_fields if entry in self.model_fields_set}
        return {entry: cm for entry, cm in found.items() if cm is not None or entry not in NEEDED}

    def of(self, foot: Foot) -> Foot:
        """The other foot beside this one."""
        return foot.model_copy(update={**self.given(), "shoe_size": None} if self.given() else {})

    def seen_from_it(self, foot: Foot) -> OtherFoot:
        """What is otherwise on this foot, seen from the other one."""
        return OtherFoot(**{entry: getattr(foot, entry) for entry in self.given()})

    @model_serializer(mode="wrap")
    def _what_differs(self, shape: SerializerFunctionWrapHandler) -> dict[str, Any]:
        return {entry: value for entry, value in shape(self).items() if entry in self.given()}


NEEDED = ("ball_circumference_cm", "length_cm")
"""The measurements that every foot has."""
