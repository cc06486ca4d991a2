"""What the small SVG plots share: their lines, words and scale. Colours and strokes are in `css/lib/plot.css`."""

from __future__ import annotations

import math

from markupsafe import Markup


def words(text: object, x: float, y: float, anchor: str = "") -> Markup:
    """Words in a plot, from x on, or with their `middle` or `end` there."""
    return Markup('<text{} x="{:.1f}" y="{:.1f}">{}</text>').format(
        Markup(' class="{}"').format(anchor) if anchor else "", x, y, text
    )


def line(kind: str, x: float, y: float, to_x: float, to_y: float) -> Markup:
    """A straight line of a kind that the style sheet knows."""
    return Markup('<path class="{}" d="M{:.1f} {:.1f}L{:.1f} {:.1f}"/>').format(kind, x, y, to_x, to_y)


def even_steps(low: float, high: float, most: int) -> list[float]:
    """Round numbers from one to the other, at most so many, a step of 1, 2 or 5 times a power of ten apart."""
    rough = max(high - low, 1e-9) / most
    power = 10 ** math.floor(math.log10(rough))
    step = next(factor * power for factor in (1, 2, 5, 10) if factor * power >= rough)
    return [step * number for number in range(math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9) + 1)]
