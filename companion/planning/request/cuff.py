"""The cuff: its ribbing, its length, and how its edge is made."""

from __future__ import annotations

from typing import Annotated, Any, Literal, TypeAlias

from pydantic import (
    AfterValidator,
    Field,
    SerializerFunctionWrapHandler,
    StringConstraints,
    model_serializer,
    model_validator,
)

from ..frozen_model import FrozenModel
from .entries import Number
from .rib import parse_rib


def _a_ribbing(text: str) -> str:
    parse_rib(text)
    return text


Rib: TypeAlias = Annotated[str, StringConstraints(max_length=40), AfterValidator(_a_ribbing)]

Edge: TypeAlias = Literal["any stretchy", "twisted", "tubular", "folded hem", "picot hem"]
"""How the edge is cast on or bound off.

A twisted edge has a twist or a yarn-over in every stitch, and a tubular one is rounded, without a ridge. A hem is
folded along purl stitches, or along eyelets that become points. "any stretchy" leaves it to the knitter.
"""

TUBULAR: tuple[tuple[tuple[str, int], ...], ...] = (
    (("k", 1), ("p", 1)),
    (("ktbl", 1), ("p", 1)),
    (("k", 2), ("p", 2)),
)
"""The ribbings that a tubular edge runs into without a break (common practice)."""


class Cuff(FrozenModel):
    """The ribbed edge."""

    rib: Rib = "k2 p2"
    length_cm: Number = Field(4, ge=0.5, le=40)
    edge: Edge = "any stretchy"

    @property
    def in_words(self) -> str:
        """The ribbing, and an edge with a name: "k2 p2, tubular edge", "k2 p2, folded hem"."""
        if self.edge == "any stretchy":
            return self.rib
        return f"{self.rib}, {self.edge}" if self.edge.endswith("hem") else f"{self.rib}, {self.edge} edge"

    @model_validator(mode="after")
    def _an_edge_for_this_ribbing(self) -> Cuff:
        if self.edge == "tubular" and parse_rib(self.rib) not in TUBULAR:
            raise ValueError(
                f"a tubular edge goes with k1 p1, k1tbl p1 or k2 p2, and not with {self.rib}; take one of these, "
                "or another edge"
            )
        return self

    @model_serializer(mode="wrap")
    def _as_before_edges_had_names(self, shape: SerializerFunctionWrapHandler) -> dict[str, Any]:
        entries: dict[str, Any] = shape(self)
        if self.edge == "any stretchy":
            entries.pop("edge", None)
        return entries
