"""How a stitch pattern's fabric differs from plain knitting: what it has of stitches and rounds for each plain one.

Cables draw in: the six stitches of a simple cable take the width of five (heartstringsfiberarts.com/cable-takeup.shtm).
A ribbing is taken as lightly stretched, as it is worn: its leg has the stitches of a plain one (common practice). Lace
gives, and where knit and purl lie over one another the rounds pull together, up to the two rounds for each stitch that
garter and moss stitch have (docslib.org/doc/5694404, knitting proportions). How much lace and such a fabric give in
width, and how high moss stitch is as it is worn, are from memory.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from .operations import CABLES, OPERATIONS, Names, Rounds

CABLED = 6 / 5
"""Stitches of a fabric that is all cables, for each plain stitch as wide."""

LACE = 0.95
"""The same of lace (from memory)."""

BROKEN, BROKEN_ROUNDS = 0.95, 1.25
"""Stitches and rounds of a fabric in which every stitch lies on one of the other kind (from memory)."""

PURLED = frozenset({"p", "ptbl", "p2tog", "ssp", "p3tog", "sssp", "pfb", "m1p"})


class PatternFabric(NamedTuple):
    """Stitches and rounds of a pattern for each of plain knitting, over the same length, and why in a few words."""

    stitches: float
    rounds: float
    why: str


@lru_cache(maxsize=256)
def fabric_by_kind(rounds: Rounds) -> PatternFabric:
    """What a pattern's fabric is likely to be by what it is made of."""
    looks = [tuple(_looks(names)) for names in rounds]
    width = len(looks[0])
    crossed = sum(any(row[at] == "cable" for row in looks) for at in range(width)) / width
    above = [*looks[1:], looks[0]]
    pairs = [each for below, over in zip(looks, above, strict=True) for each in zip(below, over, strict=True)]
    broken = sum(set(pair) == {"k", "p"} for pair in pairs) / len(pairs)
    lace = any(name == "yo" for names in rounds for name in names)
    why = [
        *(["cables draw in"] if crossed else []),
        *(["lace gives"] if lace else []),
        *(["purl over knit pulls the rounds together"] if broken else []),
    ]
    return PatternFabric(
        (1 + (CABLED - 1) * crossed) * (LACE if lace else 1) * (1 - (1 - BROKEN) * broken),
        1 + (BROKEN_ROUNDS - 1) * broken,
        ", ".join(why) or "lightly stretched as it is worn",
    )


def _looks(names: Names) -> Iterator[str]:
    """How each stitch of a round looks that is taken: knitted, purled, or crossed by a cable."""
    for name in names:
        yield from ["cable" if name in CABLES else "p" if name in PURLED else "k"] * OPERATIONS[name].takes
