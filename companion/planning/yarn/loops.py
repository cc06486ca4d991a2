"""Yarn in one stitch: of plain knitting by its gauge, and of a stitch pattern by how each of its stitches is worked.

Needle and hand make a loop as long as it is, whatever the fabric then does. So a knit and a purl stitch take the same,
and what a pattern gives or draws in shows in how many stitches are as wide (Munden). What an operation takes more or
less than a knit stitch is estimated from Peirce's geometry of a loop (the estimates are ours); a scale corrects them.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import NamedTuple

from ..fit.targets import Fabric
from ..plan.document import Op, Repeat, Round
from ..stitches.fabric import PURLED
from ..stitches.operations import CABLES, OPERATIONS, OpName

MUNDEN_WET_RELAXED = 21.6
"""ks of plain knitting after a wash: stitches per area = ks / (loop length squared).

D. L. Munden, J. Textile Inst. 50 (1959) T448; wet-relaxed value.
"""

PEIRCE = 5.94
"""Yarn diameters of a loop that go round the loops above and below it (F. T. Peirce, Textile Research J. 17, 1947).

The rest is twice the height of a round and once the width of a stitch.
"""

THICK = 2
"""Yarn diameters that plain knitting is thick (from memory of the same geometry)."""


def loop_length(fabric: Fabric) -> float:
    """Yarn in one stitch, in cm, from Munden's relation."""
    return math.sqrt(MUNDEN_WET_RELAXED / (fabric.stitches * fabric.rounds))


def yarn_diameter(fabric: Fabric) -> float:
    """How thick the yarn of a fabric is, in cm, as it lies in its loops."""
    return (loop_length(fabric) - 2 / fabric.rounds - 1 / fabric.stitches) / PEIRCE


class LoopsInPattern:
    """How much yarn rounds of a stitch pattern take in one fabric, plain knitting by the same hands."""

    def __init__(self, fabric: Fabric) -> None:
        self._fabric, self._through = fabric, _through(fabric)
        self._cm: dict[OpName, float] = {}

    def cm(self, item: Round) -> float:
        """Centimetres of yarn in a round of a stitch pattern in one yarn."""
        worked = sum(times * self._cm_of(name) for (name, _), times in item.tally.items())
        return worked + _turns(item) * self._through

    def _cm_of(self, name: OpName) -> float:
        if name not in self._cm:
            self._cm[name] = _cm(name, self._fabric)
        return self._cm[name]


def _cm(name: OpName, fabric: Fabric) -> float:
    """Yarn in one working of an operation.

    A yarn over goes round no loop below it, which is half of what Peirce counts. A decrease goes round one more loop
    for each that it takes away, a diameter at its two legs together; so do legs that cross. The yarn passes a slipped
    stitch. Stitches of a cable take no more: they pull it out of those beside them, and draw the fabric in.
    """
    takes, _, loops = OPERATIONS[name]
    diameter = yarn_diameter(fabric)
    if name in ("sl", "slwyif"):
        return fabric.width(1)
    if name == "yo":
        return loop_length(fabric) - PEIRCE / 2 * diameter
    more = takes - loops if loops else 0
    crossed = name in ("ktbl", "ptbl", "m1l", "m1r", "m1p")
    return loops * loop_length(fabric) + (max(0, more) + crossed) * diameter


def _through(fabric: Fabric) -> float:
    """What the yarn takes more from one stitch to the next when it comes through the fabric on its way."""
    half = fabric.width(1) / 2
    return math.hypot(half, THICK * yarn_diameter(fabric)) - half


class _Sides(NamedTuple):
    """Whether the yarn lies in front with the first and with the last of some stitches, and how often it turns."""

    first: bool
    last: bool
    turns: int

    def then(self, after: _Sides) -> _Sides:
        """With other stitches after these."""
        return _Sides(self.first, after.last, self.turns + after.turns + (self.last != after.first))

    def times(self, number: int) -> _Sides:
        """The same stitches so many times."""
        if self.first == self.last and not self.turns:
            return self
        return _Sides(self.first, self.last, number * self.turns + (number - 1) * (self.last != self.first))


def _turns(item: Round) -> int:
    """How often the yarn comes through the fabric in a round, which closes."""
    sides = _sides(item.ops)
    return sides.turns + (sides.first != sides.last) if sides else 0


def _sides(ops: Iterable[Op | Repeat]) -> _Sides | None:
    """The sides of stitches one after the other; None where none of them is drawn through with the yarn."""
    found: _Sides | None = None
    for item in ops:
        if isinstance(item, Repeat):
            inner = _sides(item.ops)
            here = inner.times(item.times) if inner else None
        else:
            here = _side(item.op).times(item.n) if OPERATIONS[item.op].loops and item.op != "yo" else None
        if here:
            found = found.then(here) if found else here
    return found


def _side(name: OpName) -> _Sides:
    """Where the yarn lies in one working; a cable on a purled ground is half of each."""
    cable = CABLES.get(name)
    if cable and cable.purled:
        return _Sides(not cable.leans_right, cable.leans_right, 1)
    return _Sides(name in PURLED, name in PURLED, 0)
