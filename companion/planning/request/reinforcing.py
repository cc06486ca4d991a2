"""A reinforcing thread, held along with the yarn where a sock wears first."""

from __future__ import annotations

from typing import Any, Literal, TypeAlias

from pydantic import Field, SerializerFunctionWrapHandler, model_serializer

from ..frozen_model import FrozenModel
from .entries import Number

WornPart: TypeAlias = Literal["heel", "toe"]
"""The parts of a sock that wear first (common practice)."""


class ReinforcingThread(FrozenModel):
    """The parts that are knitted with the thread held along, and how long 100 g of it are, where that is known."""

    heel: bool = False
    toe: bool = False
    metres_per_100g: Number | None = Field(None, ge=200, le=6000)

    @property
    def parts(self) -> tuple[WornPart, ...]:
        """The parts that have it."""
        parts: dict[WornPart, bool] = {"heel": self.heel, "toe": self.toe}
        return tuple(part for part, wanted in parts.items() if wanted)

    @model_serializer(mode="wrap")
    def _what_is_asked(self, shape: SerializerFunctionWrapHandler) -> dict[str, Any]:
        return {entry: value for entry, value in shape(self).items() if value}
