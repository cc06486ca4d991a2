"""How a stitch of a chart is drawn: lines from the upper left corner of its squares, the same wherever it lies.

The symbols are those of the Craft Yarn Council's standard (craftyarncouncil.com/standards/knit-chart-symbols, compared
with the vector copy of it in github.com/leifrogers/cyc-svgs): a blank square is a knit stitch, a dot a purl, a circle a
yarn over, a slanted line a decrease that leans its way, and stitches that cross are strands, the one behind dark where
it is purled. Where the standard has several we take the one that is clearest when small. It has one symbol for sssk and
sk2p, and none of their own for skp, pfb and m1p beside another M1; those are ours, made from its own, and the key tells
what each means. A square that stands for no stitch is not needed: each round gives back the stitches that it takes.
"""

from __future__ import annotations

from typing import NamedTuple

from ..planning.pattern.abbreviations import ABBREVIATIONS
from ..planning.stitches.operations import CABLES, OPERATIONS, Cable, OpName
from .chart import CELL

CREDIT = "Symbols: the Craft Yarn Council’s standard, www.YarnStandards.com, and a few of our own."
"""The line that the council asks for beside its symbols."""

DOT = "a1 1 0 1 0 2 0a1 1 0 1 0-2 0"
SLASH_OF_THREE = "m-6 6l12-12m-6 6v6m0-6l6 6"
BACKSLASH_OF_THREE = "m-6-6l12 12m-6-6v6m0-6l-6 6"
FRONT_AND_BACK = "m0 6v-6l-5-6m5 6v-6"

SYMBOLS: dict[OpName, str] = {
    "k": "",
    "p": "m-3 0a3 3 0 1 0 6 0a3 3 0 1 0-6 0",
    "yo": "m-6 0a6 6 0 1 0 12 0a6 6 0 1 0-12 0",
    "k2tog": "m-6 6l12-12",
    "ssk": "m-6-6l12 12",
    "s2kpo": "m-6 6l6-12l6 12m-6-12v12",
    "ktbl": "m-4 6c8-6 6-12 4-12s-4 6 4 12",
    "ptbl": "m-4 6c8-6 6-12 4-12s-4 6 4 12m-8 0h8",
    "sl": "m-5-5l5 11l5-11",
    "slwyif": "m-5-5l5 11l5-11m-12 3h14",
    "skp": "m-6-6l12 12m-8 0h4",
    "k3tog": SLASH_OF_THREE,
    "sk2p": BACKSLASH_OF_THREE,
    "sssk": f"{BACKSLASH_OF_THREE}h4",
    "p2tog": f"m-6 6l12-12m-9.5 2{DOT}",
    "ssp": f"m-6-6l12 12m-4.5-10{DOT}",
    "p3tog": f"{SLASH_OF_THREE}m-9.5-10{DOT}",
    "sssp": f"{BACKSLASH_OF_THREE}m7.5-10{DOT}",
    "m1l": "m-6-6l12 12m-6-6l6-6",
    "m1r": "m6-6l-12 12m6-6l-6-6",
    "m1p": "m-2.5 6v-12h2.5a3 3 0 0 1 0 6h-2.5",
    "kfb": FRONT_AND_BACK,
    "pfb": f"{FRONT_AND_BACK}m3 9{DOT}",
}
"""Lines from the middle of the squares, those of the stitches first that most patterns are made of."""

MEANINGS = {
    "ktbl": "knit through the back loop",
    "ptbl": "purl through the back loop",
    "slwyif": "slip purlwise with the yarn in front",
}
"""What the symbols mean whose words in a round are put together."""


class Shape(NamedTuple):
    """A line or an outline: its class in the style sheet, and its way from the corner."""

    kind: str
    way: str


def width_of(name: OpName) -> int:
    """How wide the squares of an operation are: those of the stitches that it makes."""
    return OPERATIONS[name].makes * CELL


def shapes_of(name: OpName) -> tuple[Shape, ...]:
    """What is drawn for an operation; nothing for a knit stitch."""
    if name in CABLES:
        return _crossing(CABLES[name])
    if not SYMBOLS[name]:
        return ()
    kind = "stitch-symbol solid" if name == "p" else "stitch-symbol"
    return (Shape(kind, f"m{width_of(name) // 2} {CELL // 2}{SYMBOLS[name]}"),)


def meaning_of(name: OpName) -> str:
    """What an operation's short name means."""
    return MEANINGS.get(name) or ABBREVIATIONS[name]


def _crossing(cable: Cable) -> tuple[Shape, ...]:
    """Paper over the lines between the stitches, and two strands: the one behind, and over it the one in front."""
    front, behind = cable.front * CELL, cable.behind * CELL
    wide = front + behind

    def strand(below: int, above: int, width: int) -> str:
        return f"m{below} {CELL}l{above - below}-{CELL}h{width}l{below - above} {CELL}z"

    if cable.leans_right:
        behind_way, front_way = strand(front, 0, behind), strand(0, behind, front)
    else:
        behind_way, front_way = strand(0, front, behind), strand(behind, 0, front)
    return (
        Shape("chart-cable", f"h{wide}v{CELL}h-{wide}z"),
        Shape("chart-cable purled" if cable.purled else "chart-cable", behind_way),
        Shape("chart-cable", front_way),
    )
