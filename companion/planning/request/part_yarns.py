"""Cuff, heel and toe in yarns of their own."""

from __future__ import annotations

from typing import Any, Literal, TypeAlias

from pydantic import SerializerFunctionWrapHandler, model_serializer

from ..frozen_model import FrozenModel
from .entries import YarnKey

OwnPart: TypeAlias = Literal["cuff", "heel", "toe"]
"""The parts of a sock that are knitted in another colour, or in a stronger yarn (common practice)."""


class PartYarns(FrozenModel):
    """The yarn of each part that has one of its own; None for the main one."""

    cuff: YarnKey | None = None
    heel: YarnKey | None = None
    toe: YarnKey | None = None

    def given(self) -> dict[OwnPart, YarnKey]:
        """The yarns that are given, by their parts."""
        yarns: dict[OwnPart, YarnKey | None] = {"cuff": self.cuff, "heel": self.heel, "toe": self.toe}
        return {part: yarn for part, yarn in yarns.items() if yarn}

    @model_serializer(mode="wrap")
    def _what_is_given(self, shape: SerializerFunctionWrapHandler) -> dict[str, Any]:
        return {part: yarn for part, yarn in shape(self).items() if yarn}
