"""Stretches of a sock's rounds as SVG, small: ribs, holes, slants and crossing strands rather than a chart's symbols.

A round lies as the outside of the sock shows it, from its right end on: the back or the sole, then the front or the
instep, each in a half of its own. The newest round is on top. Coloured by css/lib/fabric-preview.css.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import groupby
from typing import NamedTuple

from markupsafe import Markup

from ..planning.plan.document import Round
from ..planning.plan.rounds import one_by_one
from ..planning.request.plan_request import Yarn
from ..planning.stitches.operations import CABLES, OPERATIONS, OpName
from .chart import colours_of

WIDE, APART = 320, 10
"""Width of the drawing in its own units, and room between its halves."""

HALF = (WIDE - APART) / 2
MIDDLES = (HALF / 2, WIDE - HALF / 2)
"""Width of a half, and where both have their middles."""

WIDEST_STITCH = 8.0
LETTERS, SEAM = 20, 6
"""Heights of a line of words, and of the line where stitches change."""

SUNK: frozenset[OpName] = frozenset({"p", "ptbl", "p2tog", "ssp", "p3tog", "sssp", "m1p", "pfb"})
"""Stitches that lie behind their neighbours."""

MARKS: Mapping[str, Mapping[OpName, str]] = {
    "hole": {"yo": "m.1 .5a.4 .45 0 1 0 .8 0a.4 .45 0 1 0-.8 0"},
    "line": {
        **dict.fromkeys(("ssk", "skp", "ssp", "sssk", "sssp", "sk2p", "m1l"), "m0 .1l1 .8"),
        **dict.fromkeys(("k2tog", "p2tog", "k3tog", "p3tog", "m1r"), "m1 .1l-1 .8"),
        **dict.fromkeys(("s2kpo", "ktbl", "ptbl", "sl", "slwyif", "kfb", "pfb", "m1p"), "m.5 0v1"),
    },
}
"""What is drawn on a stitch from its upper left corner: a hole, or a line that leans its way."""


class Shown(NamedTuple):
    """A round, the stitches that it leaves in its front half, and what both halves are called."""

    round: Round
    front: int
    front_name: str
    back_name: str

    @property
    def back(self) -> int:
        """Stitches in the other half."""
        return self.round.after - self.front


class Stretches(NamedTuple):
    """Rounds of a tube in the order of knitting: up to where its stitches change (none where they do not), and on.

    `planned` is the last one that was planned before.
    """

    old: tuple[Shown, ...]
    new: tuple[Shown, ...]
    planned: Shown


class Cell(NamedTuple):
    """What was worked, its left edge and width in stitches, and its yarn."""

    name: OpName
    left: float
    wide: int
    yarn: str | None


class Rows(NamedTuple):
    """Rows of a half that are alike: their stitches, the highest of them, how many they are, and where the half ends.

    A cable may go on beyond that end, into the other half.
    """

    cells: Sequence[Cell]
    top: int
    times: int
    end: float


def fabric_preview_svg(tubes: Sequence[Stretches], yarns: Sequence[Yarn], flat: float) -> Markup:
    """The stretches of leg and foot in the order of knitting; `flat` is how high a stitch is as a part of its width."""
    most = max(max(one.front, one.back) for tube in tubes for one in (*tube.old, *tube.new))
    wide = min(WIDEST_STITCH, HALF / most)
    pen = _Pen(wide, wide * flat, colours_of(yarns))
    parts = [part for tube in reversed(tubes) for part in pen.tube(tube)]
    return Markup('<svg class="fabric-preview" viewBox="0 0 {} {:.0f}" role="img" aria-label="{}">{}</svg>').format(
        WIDE, pen.top, "; ".join(map(_in_words, tubes)), Markup("").join(parts)
    )


def _in_words(tube: Stretches) -> str:
    """The stitches of both halves, for those who do not see them."""
    ends = (*tube.old[-1:], tube.new[-1])
    return ", then ".join(f"{one.front_name} {one.front}, {one.back_name} {one.back}" for one in ends)


class _Pen:
    """Puts tubes one below the other; `top` is how far down it has come."""

    def __init__(self, wide: float, high: float, colours: Mapping[str, str]) -> None:
        """A stitch is `wide` and `high`; `colours` are those of the yarns by their letters."""
        self.wide, self.high, self.colours, self.top = wide, high, colours, 0.0

    def tube(self, tube: Stretches) -> Iterator[Markup]:
        """A tube: its counts, what comes, and below a line what is worked before that."""
        yield from self._counts(tube.new[-1], tube.new[-1] if tube.old else tube.planned)
        yield from self._stretch(tube.new)
        if tube.old:
            yield Markup('<path class="seam" d="M0 {:.1f}h{}"/>').format(self.top + SEAM / 2, WIDE)
            self.top += SEAM
            yield from self._stretch(tube.old)
            yield from self._counts(tube.old[-1], tube.old[-1])
        self.top += SEAM

    def _counts(self, shown: Shown, planned: Shown) -> Iterator[Markup]:
        """The stitches of both halves, with those planned where they were others."""
        self.top += LETTERS
        halves = ((shown.front_name, planned.front, shown.front), (shown.back_name, planned.back, shown.back))
        for middle, (name, was, stitches) in zip(MIDDLES, halves, strict=True):
            moved = f"{stitches}" if was == stitches else f"{was} → {stitches}"
            yield Markup('<text x="{:.0f}" y="{:.1f}">{} {}</text>').format(middle, self.top - 6, name, moved)

    def _stretch(self, rounds: Sequence[Shown]) -> Iterator[Markup]:
        for middle, half in zip(MIDDLES, _halves(rounds), strict=True):
            yield Markup('<g transform="translate({:.1f} {:.1f}) scale({:.3f} {:.3f})">{}</g>').format(
                middle, self.top, self.wide, self.high, Markup("").join(self._stitches(half))
            )
        self.top += len(rounds) * self.high

    def _stitches(self, half: Sequence[Rows]) -> Iterator[Markup]:
        """The stitches of a half, each kind as one path."""
        main, *others = self.colours
        used = {cell.yarn for rows in half for cell in rows.cells} - {None}
        colour = Markup('fill="{}"').format(self.colours[main]) if used else Markup('class="fabric"')
        yield Markup('<path d="{}" {}/>').format(_squares(half), colour)
        for key in others:
            if key in used:
                yield Markup('<path d="{}" fill="{}"/>').format(_squares(half, yarns={key}), self.colours[key])
        kinds = {"sunk": _squares(half, names=SUNK), **{kind: _marks(half, marks) for kind, marks in MARKS.items()}}
        yield from (Markup('<path class="{}" d="{}"/>').format(kind, way) for kind, way in kinds.items() if way)
        strands = {"strand behind": _strands(half, front=False), "strand": _strands(half, front=True)}
        yield from (Markup('<path class="{}" d="{}"/>').format(kind, way) for kind, way in strands.items() if way)


def _halves(rounds: Sequence[Shown]) -> tuple[list[Rows], list[Rows]]:
    """Front and back of rounds, the newest first, those that are alike together."""
    halves: tuple[list[Rows], list[Rows]] = [], []
    top = 0
    for one, alike in groupby(reversed(rounds)):
        times = sum(1 for _ in alike)
        for half, begins, stitches in ((halves[0], one.back, one.front), (halves[1], 0, one.back)):
            half.append(Rows(tuple(_cells(one.round, begins, stitches)), top, times, -stitches / 2))
        top += times
    return halves


def _cells(item: Round, begins: int, stitches: int) -> Iterator[Cell]:
    """So many stitches of a round from the one that begins a half; the middle of the half is at 0.

    A cable that goes on into the other half crosses where it begins, and is knitted there.
    """
    at = -begins
    for worked in one_by_one(item.ops):
        wide = OPERATIONS[worked.op].makes
        if wide and 0 <= at < stitches:
            yield Cell(worked.op, stitches / 2 - at - wide, wide, worked.yarn)
        elif at < 0 < at + wide:
            yield Cell("k", stitches / 2 - at - wide, at + wide, worked.yarn)
        at += wide


def _squares(
    half: Sequence[Rows], *, names: Collection[OpName] | None = None, yarns: Collection[str] | None = None
) -> str:
    """The squares of the stitches of these names and in these yarns, those side by side in one."""

    def wanted(cell: Cell) -> bool:
        return (names is None or cell.name in names) and (yarns is None or cell.yarn in yarns)

    way = ""
    for rows in half:
        for shown, run in groupby(rows.cells, wanted):
            if shown:
                cells = list(run)
                left = max(rows.end, cells[-1].left)
                wide = int(cells[0].left + cells[0].wide - left)
                way += f"M{left:g} {rows.top}h{wide}v{rows.times}h-{wide}z"
    return way


def _marks(half: Sequence[Rows], marks: Mapping[OpName, str]) -> str:
    return "".join(
        f"M{cell.left:g} {row}{marks[cell.name]}"
        for rows in half
        for cell in rows.cells
        if cell.name in marks
        for row in range(rows.top, rows.top + rows.times)
    )


def _strands(half: Sequence[Rows], *, front: bool) -> str:
    """The strands of cables, those in front or those behind: as tall as a crossing is from afar."""
    way = ""
    for rows in half:
        for cell in rows.cells:
            if cable := CABLES.get(cell.name):
                to_right = cable.leans_right == front
                wide, aside = (cable.front, cable.behind) if front else (cable.behind, cable.front)
                begins = cell.left + (0 if to_right else aside)
                lean = aside if to_right else -aside
                corners = begins, begins + lean, begins + lean + wide, begins + wide
                first, second, third, last = (max(rows.end, corner) for corner in corners)
                for row in range(rows.top, rows.top + rows.times):
                    tall = min(row + 1, max(1, cell.wide // 2))
                    way += f"M{first:g} {row + 1}l{second - first:g}-{tall}h{third - second:g}l{last - third:g} {tall}z"
    return way
