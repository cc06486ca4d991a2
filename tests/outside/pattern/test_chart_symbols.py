"""The symbols of a chart of stitches beside the standard of the yarn trade."""

from __future__ import annotations

import re

import pytest

from companion.drawings.stitch_symbols import SYMBOLS
from companion.planning.stitches.operations import OpName

# The Craft Yarn Council's knit chart symbols (craftyarncouncil.com/standards/knit-chart-symbols), as they are copied in
# github.com/leifrogers/cyc-svgs, dist/knitSymbols.json: lines in a square of 100 by 100. Of several for one stitch the
# one that we take; the dot of a purl is left out.
STANDARD: dict[OpName, str] = {
    "k2tog": "m32 72 40-40",
    "ssk": "m28 32 40 40",
    "k3tog": "M50 50v16.87M29.13 74l41.74-48M50 50l20.87 24",
    "p2tog": "m32 68 36-32",
    "ssp": "m32 36 36 32",
    "p3tog": "M50.713 50.5v15.815M30.609 73l40.208-45M50.713 50.5 70.817 73",
    "sssp": "M50 50v15.112M68.696 71.5l-37.392-43M50 50 31.304 71.5",
    "sk2p": "M50 50v18.978M73.478 77 26.522 23M50 50 26.522 77",
    "s2kpo": "M50 71.25v-42.5l-25 42.5 25-42.5 25 42.5",
    "m1l": "m20 15.5 60 69M50 50l30-34.5",
    "m1r": "m80 15.5-60 69M50 50 20 15.5",
    "kfb": "M50 79.5v-28l-22-27m22 27v-31",
    "sl": "m30 32 20 32 20-32",
    "slwyif": "m30 32 20 32 20-32M22 42h56",
}
NEARLY = 0.06
"""Of the square's side: what lies so near to a middle line is taken to lie on it."""


def corners(way: str, middle: float, side: float) -> set[tuple[int, int]]:
    """Where the points of lines lie: left, in the middle or right, and above, in the middle or below."""
    x = y = 0.0
    found: set[tuple[int, int]] = set()
    for command, numbers in re.findall(r"([mMlLhv])([^a-zA-Z]*)", way):
        values = [float(each) for each in re.findall(r"-?\d+(?:\.\d+)?", numbers)]
        if command in "hv":
            steps = [(value, 0.0) if command == "h" else (0.0, value) for value in values]
        else:
            steps = list(zip(values[::2], values[1::2], strict=True))
        for right, down in steps:
            x, y = (right, down) if command in "ML" else (x + right, y + down)
            found.add((_sign((x - middle) / side), _sign((y - middle) / side)))
    return found


def _sign(share: float) -> int:
    return 0 if abs(share) < NEARLY else 1 if share > 0 else -1


@pytest.mark.parametrize("name", STANDARD)
def test_a_symbol_has_its_lines_where_the_standard_has_them(name: OpName) -> None:
    lines = re.sub("m[^a-z]*a.*", "", SYMBOLS[name])
    assert corners(lines, 0, 20) == corners(STANDARD[name], 50, 100)


def test_the_others_of_the_standard_are_blank_a_dot_and_a_ring() -> None:
    assert not SYMBOLS["k"]
    assert "a3 3" in SYMBOLS["p"]
    assert "a6 6" in SYMBOLS["yo"]
