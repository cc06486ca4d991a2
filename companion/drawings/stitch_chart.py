"""The chart of a stitch pattern as SVG: a symbol a stitch, cables as crossing strands, with a key.

The bottom row is the first round and each row is read from its right end, as the outside of the sock shows it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from markupsafe import Markup

from ..planning.pattern.stitch_pattern_text import round_lines, said_of_rows, size_line
from ..planning.pattern.swatch import WrittenSwatch
from ..planning.request.stitch_pattern import StitchPattern
from ..planning.stitches.operations import CABLES, OPERATIONS, Names, OpName, Rounds, made
from .chart import BELOW, CELL, LEFT, RIGHT, numbers, paper
from .stitch_symbols import CREDIT, Shape, meaning_of, shapes_of, width_of


def stitch_chart_svg(rounds: Rounds, title: str, *, flat: bool = False) -> Markup:
    """The repeat of a pattern with its numbers; cables hide the lines between the stitches that cross.

    Where it is worked `flat`, even rows are numbered at the left, where they are begun.
    """
    width, height = made(rounds[0]), len(rounds)
    placed = [item for number, names in enumerate(rounds) for item in _placed(names, width, height, number)]
    parts = [
        *(part for name, left, top in placed if name not in CABLES for part in _drawn(name, left, top)),
        *paper(width, height, CELL),
        *(part for name, left, top in placed if name in CABLES for part in _drawn(name, left, top)),
        *numbers(width, height, CELL, flat=flat),
    ]
    more = RIGHT - LEFT if flat else 0
    size = more + LEFT + width * CELL + RIGHT, height * CELL + BELOW
    return Markup(
        '<svg class="chart" viewBox="{} 0 {} {}" width="{}" height="{}" role="img" aria-label="{}">{}</svg>'
    ).format(-more, *size, *size, title, Markup("").join(parts))


class StitchesShown(NamedTuple):
    """A pattern as pages show it: its chart, the key of that with a credit, its size, how it was read, its rounds."""

    chart: Markup
    key: list[tuple[Markup, str]]
    credit: str
    size: str
    said: str
    rounds: list[str]


def stitches_shown(pattern: StitchPattern | None) -> StitchesShown | None:
    """The stitch pattern of a leg; None where it has none."""
    if pattern is None:
        return None
    drawn = pattern.described
    title = f"The chart of the stitch pattern, {made(drawn[0])} by {len(drawn)}; its rounds are described below"
    return StitchesShown(
        stitch_chart_svg(drawn, title),
        stitch_key(pattern),
        CREDIT,
        size_line(pattern),
        said_of_rows(pattern),
        [*round_lines(pattern)],
    )


class SwatchShown(NamedTuple):
    """A swatch as a page shows it: its chart where it is knitted flat, how it is knitted, and its rows."""

    chart: Markup
    how: str
    rows: tuple[str, ...]


FLAT_CHART = (
    "The chart of one repeat of the swatch. Odd rows, from the right side, have their numbers at the right end, even "
    "rows, from the wrong side, at the left end; all of them are described below"
)


def swatch_shown(written: WrittenSwatch | None) -> SwatchShown | None:
    """The swatch of a stitch pattern; None where there is none."""
    if written is None:
        return None
    flat = written.swatch.is_flat
    chart = stitch_chart_svg(written.swatch.rounds, FLAT_CHART, flat=True) if flat else Markup("")
    return SwatchShown(chart, written.how, written.rows)


def stitch_key(pattern: StitchPattern) -> list[tuple[Markup, str]]:
    """The symbols of a pattern's chart, each with its short name and what it means."""
    return [(_square(name), f"{name}: {meaning_of(name)}") for name in _used(pattern)]


class Square(NamedTuple):
    """The squares of one operation: how many, and what is drawn from the upper left corner of them."""

    wide: int
    shapes: tuple[Shape, ...]


class ChartRows(NamedTuple):
    """A chart in pieces, for a page that shows some of its rows: each row by the numbers of its `squares`.

    Each square is `cell` wide and high.
    """

    width: int
    height: int
    cell: int
    squares: tuple[Square, ...]
    rows: tuple[tuple[int, ...], ...]


def chart_rows(pattern: StitchPattern) -> ChartRows:
    """The chart of a pattern in pieces, its rows from the first round on, in the order of working."""
    number = {name: at for at, name in enumerate(_used(pattern))}
    squares = tuple(Square(OPERATIONS[name].makes, shapes_of(name)) for name in number)
    rows = tuple(tuple(number[name] for name in names) for names in pattern.described)
    return ChartRows(made(pattern.described[0]), pattern.height, CELL, squares, rows)


def _used(pattern: StitchPattern) -> Iterable[OpName]:
    """The operations of a pattern, each once."""
    return dict.fromkeys(name for names in pattern.rounds for name in names)


def _square(name: OpName) -> Markup:
    """The squares of one operation, to stand beside its meaning."""
    return Markup(
        '<svg class="stitch-square" viewBox="0 0 {0} {1}" width="{0}" height="{1}" aria-hidden="true">'
        '<rect width="{0}" height="{1}"/>{2}</svg>'
    ).format(width_of(name), CELL, Markup("").join(_drawn(name, 0, 0)))


def _placed(names: Names, width: int, height: int, number: int) -> Iterator[tuple[OpName, int, int]]:
    """The operations of a round (from 0), each with the corner of its squares; the first one lies at the right."""
    left, top = LEFT + width * CELL, (height - 1 - number) * CELL
    for name in names:
        left -= width_of(name)
        yield name, left, top


def _drawn(name: OpName, left: int, top: int) -> Iterable[Markup]:
    return (
        Markup('<path class="{}" d="M{} {}{}"/>').format(shape.kind, left, top, shape.way) for shape in shapes_of(name)
    )
