"""A way to go on with a sock."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from ...plan.document import Plan, Sizes

WayKey: TypeAlias = Literal["leave", "rest", "here", "columns", "rip", "foot", "needle"]


@dataclass(frozen=True)
class Way:
    """A plan to go on with, from `done` rounds on.

    `sizes` are given where they are not those of the plan's document, `unsure` what those still
    ahead may be off by beyond the error of the gauge, as a part of them.
    """

    key: WayKey
    title: str
    why: str
    plan: Plan
    done: int
    recommended: bool = False
    sizes: Sizes | None = None
    unsure: float = 0.0
