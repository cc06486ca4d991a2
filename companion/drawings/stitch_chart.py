"""The chart of a stitch pattern as SVG: a symbol a stitch, cables as crossing strands, with a key.

The bottom row is the first round and each row is read from its right end, as the outside of the sock shows it. A blank
square is a knit stitch, a dot a purl, a circle a yarn over, and a slanted line a decrease that leans its way: these are
the symbols of the Craft Yarn Council's standard for charts (from memory). Those it has none for are ours; the key tells
what each means.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from markupsafe import Markup

from ..planning.pattern.abbreviations import ABBREVIATIONS
from ..planning.pattern.stitch_pattern_text import pattern_lines
from ..planning.request.stitch_pattern import StitchPattern
from ..planning.stitches.operations import CABLES, OPERATIONS, Cable, Names, OpName
from .chart import BELOW, CELL, LEFT, RIGHT, numbers, paper

SYMBOLS: dict[OpName, str] = {
    "k": "",
    "p": "m-3 0a3 3 0 1 0 6 0a3 3 0 1 0-6 0",
    "ktbl": "m-4 6c8-6 6-12 4-12s-4 6 4 12",
    "ptbl": "m-4 6c8-6 6-12 4-12s-4 6 4 12m-8 0h8",
    "sl": "m-5-5l5 11l5-11",
    "slwyif": "m-5-5l5 11l5-11m-9 3h8",
    "k2tog": "m-6 6l12-12",
    "ssk": "m-6-6l12 12",
    "skp": "m-6-6l12 12m-8 0h4",
    "p2tog": "m-6 6l12-12m0 9v4",
    "ssp": "m-6-6l12 12m-12-3v4",
    "k3tog": "m-6 6l12-12m-6 6v6",
    "sssk": "m-6-6l12 12m-6-6v6",
    "s2kpo": "m-6 6l6-12l6 12m-6-12v12",
    "sk2p": "m-6-6l12 12m-6-6l-6 6",
    "yo": "m-6 0a6 6 0 1 0 12 0a6 6 0 1 0-12 0",
    "m1l": "m0 6v-6l-5-6m5 6h5",
    "m1r": "m0 6v-6l5-6m-5 6h-5",
    "m1p": "m0 6v-6m-5 0h10",
    "kfb": "m-6-5l6 11l6-11m-6 0v11",
    "pfb": "m-6-5l6 11l6-11m-6 0v11m-4 0h8",
}
"""How a stitch is drawn: lines from the middle of its square."""

MEANINGS = {
    "ktbl": "knit through the back loop",
    "ptbl": "purl through the back loop",
    "slwyif": "slip purlwise with the yarn in front",
}
"""What the symbols mean whose words in a round are put together."""


def stitch_chart_svg(pattern: StitchPattern, title: str) -> Markup:
    """The repeat of a pattern with its numbers."""
    width, height = pattern.width, pattern.height
    parts = [
        *(part for number, names in enumerate(pattern.rounds) for part in _row(names, (height - 1 - number) * CELL)),
        *paper(width, height, CELL),
        *_cables_over_the_paper(pattern),
        *numbers(width, height, CELL),
    ]
    size = LEFT + width * CELL + RIGHT, height * CELL + BELOW
    return Markup(
        '<svg class="chart" viewBox="0 0 {} {}" width="{}" height="{}" role="img" aria-label="{}">{}</svg>'
    ).format(*size, *size, title, Markup("").join(parts))


class StitchesShown(NamedTuple):
    """A pattern as pages show it: its chart, the key of that, and its size and rounds in words."""

    chart: Markup
    key: list[tuple[Markup, str]]
    size: str
    rounds: list[str]


def stitches_shown(pattern: StitchPattern | None) -> StitchesShown | None:
    """The stitch pattern of a leg; None where it has none."""
    if pattern is None:
        return None
    size, *rounds = pattern_lines(pattern)
    title = f"The chart of the stitch pattern, {pattern.width} by {pattern.height}; its rounds are described below"
    return StitchesShown(stitch_chart_svg(pattern, title), stitch_key(pattern), size, rounds)


def stitch_key(pattern: StitchPattern) -> list[tuple[Markup, str]]:
    """The symbols of a pattern's chart, each with its short name and what it means."""
    used: dict[OpName, None] = dict.fromkeys(name for names in pattern.rounds for name in names)
    return [(_square(name), f"{name}: {MEANINGS.get(name) or ABBREVIATIONS[name]}") for name in used]


def _square(name: OpName) -> Markup:
    """The squares of one operation, to stand beside its meaning."""
    wide = OPERATIONS[name].makes * CELL
    drawn = _cable(CABLES[name], wide, 0) if name in CABLES else _symbol(name, wide // 2, 0)
    return Markup(
        '<svg class="stitch-square" viewBox="0 0 {0} {1}" width="{0}" height="{1}" aria-hidden="true">'
        '<rect width="{0}" height="{1}"/>{2}</svg>'
    ).format(wide, CELL, drawn)


def _placed(names: Names, width: int) -> Iterator[tuple[OpName, int]]:
    """The operations of a round, each with the right end of its squares; the first one lies at the right."""
    right = LEFT + width * CELL
    for name in names:
        yield name, right
        right -= OPERATIONS[name].makes * CELL


def _row(names: Names, top: int) -> Iterable[Markup]:
    width = sum(OPERATIONS[name].makes for name in names)
    for name, right in _placed(names, width):
        if SYMBOLS.get(name):
            yield _symbol(name, right - OPERATIONS[name].makes * CELL // 2, top)


def _symbol(name: OpName, middle: int, top: int) -> Markup:
    solid = " solid" if name == "p" else ""
    return Markup('<path class="stitch-symbol{}" d="M{} {}{}"/>').format(solid, middle, top + CELL // 2, SYMBOLS[name])


def _cables_over_the_paper(pattern: StitchPattern) -> Iterable[Markup]:
    """Cables hide the lines between the stitches that cross."""
    for number, names in enumerate(pattern.rounds):
        top = (pattern.height - 1 - number) * CELL
        for name, right in _placed(names, pattern.width):
            if name in CABLES:
                yield _cable(CABLES[name], right, top)


def _cable(cable: Cable, right: int, top: int) -> Markup:
    """Two strands that cross over their squares: the one behind, and over it the one in front."""
    wide = (cable.front + cable.behind) * CELL
    left, bottom = right - wide, top + CELL
    front, behind = cable.front * CELL, cable.behind * CELL

    def strand(below: int, above: int, width: int) -> str:
        return f"M{below} {bottom}L{above} {top}h{width}L{below + width} {bottom}z"

    if cable.leans_right:
        behind_way, front_way = strand(right - behind, left, behind), strand(left, right - front, front)
    else:
        behind_way, front_way = strand(left, right - behind, behind), strand(right - front, left, front)
    return Markup(
        '<path class="chart-cable" d="M{} {}h{}v{}h-{}z"/><path class="chart-cable{}" d="{}"/>'
        '<path class="chart-cable" d="{}"/>'
    ).format(left, top, wide, CELL, wide, " purled" if cable.purled else "", behind_way, front_way)
