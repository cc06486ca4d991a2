"""The ways to turn a short row: how the turn is marked, and how its gap is closed when a later row passes it.

All are common practice; published heels by each of them are in the tests.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ...plan.rounds import Ops, op
from ...request.construction import ShortRows
from ...stitches.operations import OpName


@dataclass(frozen=True)
class ShortRowTurn:
    """A way to turn: what a row `ends` with before the turn, what the next one `begins` with, and how gaps are closed.

    `once` closes a gap that one row was turned at, on the right side and on the wrong side, and `twice` one that two
    rows were. A gap is closed with the stitch beyond it, or, where it is `on_the_last`, lies beside the stitch that
    the row worked last. `how` and `how_closed` are said where it is first done; empty where the meanings of the
    abbreviations say enough.
    """

    begins: Ops
    ends: Ops
    once: tuple[OpName, OpName]
    twice: tuple[OpName, OpName]
    on_the_last: bool = False
    how: str = ""
    how_closed: str = ""

    def closed(self, number: int, times: int = 1, *, twice: bool = False) -> Ops:
        """So many gaps closed in a row, counted from 0; even rows are on the right side."""
        return op((self.twice if twice else self.once)[number % 2], times)

    def marks(self) -> set[OpName]:
        """The operations that mark a turn."""
        return {item.op for item in (*self.begins, *self.ends) if hasattr(item, "op")}

    def closes(self) -> set[OpName]:
        """The operations that close a gap."""
        return {*self.once, *self.twice}


_YARN_OVER = (
    "A yarn over at the beginning of a row bridges the gap of the turn: before a knit stitch have the yarn in front, "
    "before a purl in back, and working that stitch lays it over the needle."
)
_YARN_OVER_CLOSED = (
    "From here on the stitch beyond each gap is worked together with the yarn over before it, or with both where there "
    "are two. Where a yarn over lies with its left leg in front, turn it first."
)

TURNS: Mapping[ShortRows, ShortRowTurn] = {
    "double stitch": ShortRowTurn(op("ds"), (), ("kds", "pds"), ("kds", "pds"), on_the_last=True),
    "wrap and turn": ShortRowTurn(
        (),
        op("wrap"),
        ("kw", "pw"),
        ("kw", "pw"),
        how="A wrap lies round the stitch beyond the turn, which is not worked yet.",
        how_closed="From here on each wrapped stitch that is passed is worked together with its wraps: no gap is left.",
    ),
    "shadow wrap": ShortRowTurn(
        (),
        op("twin"),
        ("ktw", "ptw"),
        ("ktw", "ptw"),
        how="The stitch beyond the turn gets a second loop, its twin, and is not worked yet. Both count as one stitch.",
        how_closed="From here on the loops of each twin that is passed are worked together as one: no gap is left.",
    ),
    "yarn over": ShortRowTurn(
        op("yo"), (), ("k2tog", "ssp"), ("k3tog", "sssp"), how=_YARN_OVER, how_closed=_YARN_OVER_CLOSED
    ),
}
