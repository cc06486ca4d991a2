"""The gauges that a group met, against those that were assumed, as a small SVG plot."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import TypeAlias

from markupsafe import Markup

from .plot import line, words

At: TypeAlias = Callable[[float, float], tuple[float, float]]
"""Where a gauge assumed and a gauge met lie in the plot."""

SIDE, FOOT_ROOM, LEFT_ROOM, TOP_ROOM = 260.0, 44.0, 44.0, 14.0
"""The plot in its own units: the square of the field, and the room for what stands beside it."""
MOST_MARKS = 60
"""Marks in the plot: more of them lie on each other (ours). Where there are more gauges, near ones fall together."""
ROUNDED_TO = (0.1, 0.5, 1.0, 2.0)
"""Stitches to which gauges are rounded: as finely as leaves no more marks than that, or else to the last."""
GRID = 2
"""Stitches over 10 cm from one line of the plot to the next."""


def _field(gauges: Sequence[tuple[float, float]]) -> tuple[int, int]:
    """The stitches from which and up to which the plot goes, on lines of its grid."""
    values = [value for pair in gauges for value in pair]
    low, high = GRID * int((min(values) - 1) // GRID), GRID * int(-(-(max(values) + 1) // GRID))
    return low, max(high, low + 3 * GRID)


def gauges_svg(gauges: Mapping[tuple[float, float], int], unit_factor: float = 1.0, over: str = "10 cm") -> Markup:
    """A mark for each pair of gauges, assumed and met, that are there so often; on the slanted line both are the same.

    Marks that fall together carry their number.
    """
    shown = _together(gauges, unit_factor)
    low, high = _field(list(shown))
    scale = SIDE / (high - low)

    def at(assumed: float, met: float) -> tuple[float, float]:
        return LEFT_ROOM + (assumed - low) * scale, TOP_ROOM + SIDE - (met - low) * scale

    return Markup(
        '<svg class="plot" viewBox="0 0 {:.0f} {:.0f}" role="img" aria-labelledby="gauge-plot-title">'
        '<title id="gauge-plot-title">Stitches over {}: found, against assumed. {}.</title>{}{}</svg>'
    ).format(
        LEFT_ROOM + SIDE + 14,
        TOP_ROOM + SIDE + FOOT_ROOM,
        over,
        "; ".join(_describe_point(assumed, met, count) for (assumed, met), count in sorted(shown.items())),
        Markup("").join(_lines(low, high, at, over)),
        Markup("").join(_marks(shown, at)),
    )


def _together(gauges: Mapping[tuple[float, float], int], unit_factor: float) -> Counter[tuple[float, float]]:
    for step in ROUNDED_TO:
        found: Counter[tuple[float, float]] = Counter()
        for pair, count in gauges.items():
            assumed, met = (round(round(gauge * unit_factor / step) * step, 1) for gauge in pair)
            found[assumed, met] += count
        if len(found) <= MOST_MARKS:
            break
    return found


def _describe_point(assumed: float, met: float, count: int) -> str:
    times = f" ({count} times)" if count > 1 else ""
    return f"{met:g} found where {assumed:g} was assumed{times}"


def _lines(low: int, high: int, at: At, over: str) -> Iterator[Markup]:
    for value in range(low, high + 1, GRID):
        (x, bottom), (_, top) = at(value, low), at(value, high)
        (left, y), (right, _) = at(low, value), at(high, value)
        yield line("grid", x, bottom, x, top)
        yield line("grid", left, y, right, y)
        yield words(value, left - 6, y + 5, "end")
        yield words(value, x, bottom + 18, "middle")
    yield line("same", *at(low, low), *at(high, high))
    yield words(f"stitches over {over}, assumed", LEFT_ROOM + SIDE / 2, TOP_ROOM + SIDE + 38, "middle")
    yield words("found", LEFT_ROOM + 6, TOP_ROOM + 16)


def _marks(shown: Mapping[tuple[float, float], int], at: At) -> Iterator[Markup]:
    for (assumed, met), count in sorted(shown.items()):
        x, y = at(assumed, met)
        radius = 6 if count == 1 else 6 + 4 * len(str(count))
        yield Markup('<circle class="mark" cx="{:.1f}" cy="{:.1f}" r="{}"/>').format(x, y, radius)
        if count > 1:
            yield words(count, x, y + 5, "many middle")
