"""What was measured: a line of a benchmark's table, with its target."""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass

WIDTH = 52
"""Letters that the longest name of a line takes."""


@dataclass(frozen=True)
class Line:
    """A line of the table. 95 % of the values stay under the target, where there is one."""

    what: str
    values: Sequence[float]
    target: float | None = None

    @property
    def high(self) -> float:
        """The value that 95 % of the values do not exceed."""
        return sorted(self.values)[max(0, math.ceil(0.95 * len(self.values)) - 1)]

    @property
    def missed(self) -> bool:
        """Whether the target is missed."""
        return self.target is not None and self.high >= self.target

    def __str__(self) -> str:
        figures = (statistics.median(self.values), self.high, max(self.values))
        target = "" if self.target is None else f"{self.target:8.0f}{'  MISSED' if self.missed else ''}"
        return f"{self.what:<{WIDTH}}{''.join(f'{figure:8.1f}' for figure in figures)}{target}"
