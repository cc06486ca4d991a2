"""The base of all values of the planning core that are read from JSON or written to it."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class FrozenModel(BaseModel):
    """An immutable value that refuses entries it does not know, infinities and NaN."""

    model_config = ConfigDict(
        extra="forbid", frozen=True, allow_inf_nan=False, serialize_by_alias=True, validate_by_name=True
    )
