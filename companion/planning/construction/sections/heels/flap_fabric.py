"""The fabrics of a heel flap, row by row. The first stitch of every row is slipped: it is the edge to pick up along.

After a row that ends with a knit stitch the yarn is in front when the work is turned, and stays there while the first
stitch is slipped: brought round the edge it would lie over the chain. So both rows of a garter edge slip it so.
"""

from __future__ import annotations

from ....plan.rounds import Ops, op, repeat
from ....request.construction import FlapFabric

GARTER_STITCHES = 3
"""Stitches of a garter edge on either side, the slipped one among them (common practice)."""


def _slipped(stitches: int, *, offset: bool) -> Ops:
    """Every second stitch slipped, from the first on, or from the fourth where the row is offset."""
    if not offset:
        return repeat(stitches // 2, op("sl"), op("k")) + op("sl", stitches % 2)
    inner = stitches - 3
    return op("sl") + op("k", 2) + repeat(inner // 2, op("sl"), op("k")) + op("k", inner % 2)


def _right_side(fabric: FlapFabric, stitches: int, pair: int) -> Ops:
    if fabric == "plain":
        return op("sl") + op("k", stitches - 1)
    return _slipped(stitches, offset=fabric == "offset slipped" and pair % 2 == 1)


def flap_row(fabric: FlapFabric, stitches: int, number: int, *, garter_edge: bool = False) -> Ops:
    """The operations of a flap row, counted from 0; even rows are on the right side.

    A garter edge needs four stitches more than its own two; without them the flap has none.
    """
    edge = GARTER_STITCHES if garter_edge and stitches >= 2 * GARTER_STITCHES + 4 else 0
    middle = stitches - 2 * edge
    if number % 2:
        if not edge:
            return op("slwyif") + op("p", stitches - 1)
        return op("slwyif") + op("k", edge - 1) + op("p", middle) + op("k", edge)
    if not edge:
        return _right_side(fabric, stitches, number // 2)
    if fabric == "plain":
        return op("slwyif") + op("k", stitches - 1)
    return op("slwyif") + op("k", edge - 1) + _inner(fabric, middle, number // 2) + op("k", edge)


def _inner(fabric: FlapFabric, stitches: int, pair: int) -> Ops:
    """Slipped stitches of a right-side row between garter edges, which have the slipped edge themselves."""
    if fabric == "offset slipped" and pair % 2:
        return repeat(stitches // 2, op("k"), op("sl")) + op("k", stitches % 2)
    return repeat(stitches // 2, op("sl"), op("k")) + op("sl", stitches % 2)
