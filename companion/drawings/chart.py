"""Colour charts as SVG: squares on chart paper, the bottom row first, each row read from its right end.

static/js/forms/chart/chart-grid.js draws the same in the browser; both are coloured by static/css/lib/chart.css.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from markupsafe import Markup

from ..planning.request.plan_request import Yarn

CELL, LEFT, RIGHT, BELOW = 20, 14, 38, 20
"""A square, and the room for signs at the left, for the rounds' numbers at the right and the stitches' below."""

STRIPE = 4 * CELL
"""Width of a chart that is one stitch wide."""


class Symbol(NamedTuple):
    """How a yarn's squares are told apart without colour: a line from their middle, and how thick it is."""

    line: str
    thick: int


COLOURS = {"A": "#1f6a70", "B": "#f2e7cf", "C": "#c2552d", "D": "#2b2f3a"}
"""What a yarn looks like on a screen when nobody has said."""

SYMBOLS = {
    "A": Symbol("", 0),
    "B": Symbol("h0", 7),
    "C": Symbol("m-5-5l10 10m0-10l-10 10", 2),
    "D": Symbol("m0-6v12", 3),
}

EVEN_CONTRAST = 0.179
"""Relative luminance at which black and white show equally well: (L + 0.05)^2 = 1.05 x 0.05 (WCAG 2.2)."""


def luminance(colour: str) -> float:
    """Relative luminance of "#rrggbb" as WCAG 2.2 defines it, 0 to 1."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def ink_on(colour: str) -> str:
    """Black or white, whichever shows on a colour."""
    return "#000000" if luminance(colour) > EVEN_CONTRAST else "#ffffff"


def colours_of(yarns: Iterable[Yarn]) -> dict[str, str]:
    """What each yarn looks like on a screen, by its letter."""
    return {yarn.key: yarn.colour or COLOURS[yarn.key] for yarn in yarns}


def chart_svg(rows: Sequence[str], colours: Mapping[str, str], title: str) -> Markup:
    """A chart with its numbers; `rows` as they look, the first one worked first, `colours` by the yarns' letters."""
    width, height = len(rows[0]), len(rows)
    across = STRIPE if width == 1 else CELL
    wide = width * across
    parts = [
        *(part for key, colour in colours.items() for part in _squares(key, colour, rows, across)),
        *paper(width, height, across),
        *numbers(width, height, across),
    ]
    return Markup(
        '<svg class="chart" viewBox="0 0 {} {}" width="{}" height="{}" role="img" aria-label="{}">{}</svg>'
    ).format(
        LEFT + wide + RIGHT,
        height * CELL + BELOW,
        LEFT + wide + RIGHT,
        height * CELL + BELOW,
        title,
        Markup("").join(parts),
    )


def yarn_square(key: str, colour: str) -> Markup:
    """One square of a yarn, to stand beside its name."""
    symbol = SYMBOLS[key]
    return Markup(
        '<svg class="yarn-square" viewBox="0 0 {0} {0}" aria-hidden="true"><rect width="{0}" height="{0}" fill="{1}"/>'
        '<path d="M{2} {2}{3}" stroke="{4}" stroke-width="{5}"/></svg>'
    ).format(CELL, colour, CELL // 2, symbol.line, ink_on(colour), symbol.thick)


def _squares(key: str, colour: str, rows: Sequence[str], across: int) -> Iterable[Markup]:
    """One yarn's squares and their symbols, each as one path."""
    symbol = SYMBOLS[key]
    fill = line = ""
    for number, row in enumerate(rows):
        top = (len(rows) - 1 - number) * CELL
        for run in re.finditer(f"{key}+", row):
            wide = len(run[0]) * across
            fill += f"M{LEFT + run.start() * across} {top}h{wide}v{CELL}h-{wide}z"
            for at in range(run.start(), run.end()):
                line += f"M{LEFT + at * across + across // 2} {top + CELL // 2}{symbol.line}"
    if fill:
        yield Markup('<path class="chart-cells" d="{}" fill="{}"/>').format(fill, colour)
        if symbol.line:
            yield Markup('<path class="chart-symbols" d="{}" stroke="{}" stroke-width="{}"/>').format(
                line, ink_on(colour), symbol.thick
            )


def paper(width: int, height: int, across: int) -> Iterable[Markup]:
    """The paper's lines, each fifth one heavier, counted from the first stitch and the first round."""
    upright = [(number, f"M{LEFT + (width - number) * across} 0v{height * CELL}") for number in range(width + 1)]
    level = [(number, f"M{LEFT} {(height - number) * CELL}h{width * across}") for number in range(height + 1)]
    for kind, heavy in (("chart-lines", False), ("chart-lines heavy", True)):
        way = "".join(line for number, line in upright + level if (number % 5 == 0) == heavy)
        yield Markup('<path class="{}" d="{}"/>').format(kind, way)
    yield Markup('<rect class="chart-frame" x="{}" y="0" width="{}" height="{}"/>').format(
        LEFT, width * across, height * CELL
    )


def numbers(width: int, height: int, across: int, *, flat: bool = False) -> Iterable[Markup]:
    """Rounds at the right edge, where they are begun, and stitches below; even rows of a `flat` piece at the left."""
    for row in range(1, height + 1):
        if flat and row % 2 == 0:
            yield Markup('<text class="chart-row" x="{}" y="{}" text-anchor="end">{}</text>').format(
                LEFT - 5, (height - row) * CELL + 14, row
            )
        else:
            yield _text("chart-row", LEFT + width * across + 5, (height - row) * CELL + 14, row)
    if width > 1:
        for stitch in range(1, width + 1):
            yield _text("chart-stitch", LEFT + (width - stitch) * across + across // 2, height * CELL + 15, stitch)


def _text(kind: str, x: int, y: int, words: int) -> Markup:
    return Markup('<text class="{}" x="{}" y="{}">{}</text>').format(kind, x, y, words)
