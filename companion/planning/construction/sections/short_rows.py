"""Short rows with double stitches: the hourglass of a heel or a toe."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from ...plan.document import Round, Side, Zone
from ...plan.rounds import Ops, op, row
from ..shaping import short_row_middle

CORNERS = (
    "A gap may open at each end of the short rows: in this round pick up one or two strands there, and knit them "
    "together with the stitch beside them, so that the count stays."
)
"""How the corners of an hourglass are closed, in the first round over all stitches (common practice)."""


@lru_cache(maxsize=256)
def hourglass(zone: Zone, stitches: int, sides: int, live: int, resting: int = 0) -> tuple[Round, ...]:
    """Rows over some of the `live` stitches, with `sides` stitches on either side that only the outer rows work.

    Two rows over everything; one stitch fewer each row, each turn made a double stitch, until the middle is left;
    then one more each row until all are worked. The stitch at the left end is still double after the last row.
    """
    middle = short_row_middle(stitches)
    narrower = stitches - middle
    rows = [
        _row(zone, live, 0, op("k", stitches + 2 * sides)),
        _row(zone, live, 1, op("slwyif") + op("p", stitches + sides - 1)),
    ]
    rows += [_row(zone, live, number, op("ds") + _plain(number, stitches - 1 - number)) for number in range(narrower)]
    for number in range(narrower):
        again = op("kds" if number % 2 == 0 else "pds", 1 if number == 0 else 2)
        ops = op("ds") + _plain(number, middle - 1 if number == 0 else middle - 2 + number) + again
        last = number == narrower - 1
        rows.append(_row(zone, live, number, ops + (op("p", sides) if last else ())))
    return tuple(replace(item, resting=resting) for item in rows) if resting else tuple(rows)


def _plain(number: int, stitches: int) -> Ops:
    return op("k" if number % 2 == 0 else "p", stitches)


def _row(zone: Zone, live: int, number: int, ops: Ops) -> Round:
    side: Side = "RS" if number % 2 == 0 else "WS"
    return row((zone, ops + op("turn")), before=live, kind="short-row", side=side)


def rows_to_the_fold(stitches: int) -> int:
    """Rows of the hourglass from its first to the narrowest, over its middle."""
    return 2 + stitches - short_row_middle(stitches)


def rows_from_the_fold(stitches: int) -> int:
    """Rows of the hourglass that widen it again, over its middle, and the round that closes it."""
    return stitches - short_row_middle(stitches) + 1
