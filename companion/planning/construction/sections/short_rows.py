"""The hourglass of short rows that a heel or a toe is, by any of the ways to turn a row."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from ...plan.document import Kind, Round, Side, Zone
from ...plan.rounds import Ops, makes, op, row, takes
from ...request.construction import ShortRows
from ..shaping import short_row_middle
from .short_row_turns import TURNS, ShortRowTurn

CORNERS = (
    "A gap may open at each end of the short rows: in this round pick up one or two strands there, and knit them "
    "together with the stitch beside them, so that the count stays."
)
"""How the corners of an hourglass are closed, in the first round over all stitches (common practice)."""

BETWEEN = {
    1: "One round over all stitches lies between the halves of the heel.",
    2: "Two rounds over all stitches lie between the halves of the heel.",
}
OTHER_SIDE = "The same from this side."
SECOND_HALF = "The second half begins in the middle: each row goes one stitch further than the one before."


@dataclass(frozen=True)
class Hourglass:
    """Short rows over so many stitches, with `sides` on either side that only the outer rows work.

    They are turned `by` one of the ways, with so many rounds `between` the halves, which cross the instep and so stay
    in the main yarn where the heel has another. The rows of each half are numbered
    from 0; even ones are on the right side.
    """

    stitches: int
    sides: int = 0
    by: ShortRows = "double stitch"
    between: int = 0

    @property
    def turn(self) -> ShortRowTurn:
        """How its rows are turned."""
        return TURNS[self.by]

    @property
    def middle(self) -> int:
        """Stitches of the shortest row."""
        return short_row_middle(self.stitches)

    @property
    def beside(self) -> int:
        """Stitches on either side of the middle."""
        return (self.stitches - self.middle) // 2

    def first_half(self) -> list[Ops]:
        """Two rows over everything, and then as many as are left to wait.

        The second row is turned in the middle of the fabric where there are stitches beside the hourglass. Before
        rounds the last row goes on to its right end.
        """
        turn, sides = self.turn, self.sides
        rows = [
            op("k", self.stitches + 2 * sides),
            op("slwyif") + op("p", self.stitches + sides - 1) + (turn.ends if sides else ()),
        ]
        for number in range(2 * self.beside):
            at_the_edge = number == 0 and not sides and not turn.on_the_last
            rows.append((() if at_the_edge else turn.begins) + plain(number, self.stitches - 1 - number) + turn.ends)
        if self.between:
            rows[-1] = turn.begins + self._on_to_the_right_end()
        return rows

    def _on_to_the_right_end(self) -> Ops:
        """The middle, and beyond it what was left to wait on the right, its gaps closed."""
        turn, sides = self.turn, self.sides
        if turn.on_the_last:
            return op("p", self.middle) + turn.closed(1, self.beside) + op("p", sides)
        return op("p", self.middle + 1) + turn.closed(1, self.beside - 1 + bool(sides)) + op("p", max(0, sides - 1))

    def all_round(self) -> tuple[Ops, Ops]:
        """Two rounds, the first of them closing what is open left of the middle."""
        before, sides = op("k", self.sides + self.stitches - self.beside), op("k", self.sides)
        return before + self.turn.closed(0, self.beside) + sides, op("k", self.stitches + 2 * self.sides)

    def second_half(self) -> list[Ops]:
        """As many rows as were left to wait, each of them over one stitch more."""
        return [self._wider(number) for number in range(2 * self.beside)]

    def closing(self) -> Ops:
        """Its stitches in the round after it, which closes what is open."""
        turn, sides = self.turn, self.sides
        if turn.on_the_last:
            return op("k", self.stitches + sides - 1) + turn.closed(0) + op("k", sides)
        return op("k", self.stitches + sides) + (turn.closed(0) + op("k", sides - 1) if sides else ())

    def _wider(self, number: int) -> Ops:
        reach = self.middle + 1 + number
        if self.between and not number:
            return op("k", self.sides + self.beside + reach) + self._end(number)
        last = number == 2 * self.beside - 1
        begins = op("slwyif") if last and not self.sides and not self.turn.on_the_last else self.turn.begins
        closes = self._closes(number)
        across = reach - takes(begins) - makes(closes)
        return begins + plain(number, across) + closes + self._end(number)

    def _closes(self, number: int) -> Ops:
        """The gap that a row passes: at first those of the first half, later each with that of the second as well."""
        turn = self.turn
        if self.between:
            beyond = plain(number, 1) if turn.on_the_last else ()
            return turn.closed(number) + beyond if number > 1 else ()
        if turn.on_the_last:
            return turn.closed(number, 1 if number == 0 else 2)
        return turn.closed(number, twice=number > 1)

    def _end(self, number: int) -> Ops:
        """What comes before the turn; the last row goes on to the right end of the stitches beside the hourglass."""
        left, turn = 2 * self.beside - 1 - number, self.turn
        if left:
            return turn.ends if left > 1 or self.sides else ()
        if self.sides and not self.between and not turn.on_the_last:
            return turn.closed(1) + op("p", self.sides - 1)
        return op("p", self.sides)


@lru_cache(maxsize=256)
def hourglass(zone: Zone, shape: Hourglass, live: int, resting: int = 0) -> tuple[Round, ...]:
    """All rows of an hourglass over some of the `live` stitches, and the rounds between its halves.

    Two rows over everything; one stitch fewer each row, until the middle is left; then one more each row until all are
    worked. What the last rows leave open the next round closes: `Hourglass.closing`.
    """
    turn = TURNS[shape.by]
    rows = short_rows(zone, shape.first_half(), live)
    if shape.between:
        first, second = shape.all_round()
        rows.append(_all_round(zone, first, rows[-1].after, BETWEEN[shape.between]))
        rows += [_all_round(zone, second, rows[-1].after)] * (shape.between - 1)
    widening = short_rows(zone, shape.second_half(), rows[-1].after)
    if shape.between:
        widening[0] = replace(widening[0], note=SECOND_HALF)
    whole = explained([*rows, *widening], turn)
    return tuple(replace(item, resting=resting) if resting else item for item in whole)


def explained(rows: Sequence[Round], turn: ShortRowTurn) -> list[Round]:
    """The rows, the first turn and the first gap that is closed saying how, and those on the other side as well.

    That goes before what a round is said to be for: it goes on from the row before.
    """
    noted = list(rows)
    for how, names in ((turn.how, turn.marks()), (turn.how_closed, turn.closes())):
        using = [number for number, item in enumerate(rows) if item.uses(*names)]
        others = [number for number in using if rows[number].side != rows[using[0]].side]
        for number, said in [*zip(using[:1], [how], strict=False), *zip(others[:1], [OTHER_SIDE], strict=False)]:
            if how:
                noted[number] = replace(noted[number], note=" ".join(filter(None, [said, noted[number].note])))
    return noted


def plain(number: int, stitches: int) -> Ops:
    """So many plain stitches in a row, counted from 0; even rows are on the right side."""
    return op("k" if number % 2 == 0 else "p", stitches)


def short_rows(zone: Zone, rows: Sequence[Ops], live: int) -> list[Round]:
    """Rows one after the other over some of the `live` stitches, the first on the right side."""
    made: list[Round] = []
    for number, ops in enumerate(rows):
        side: Side = "RS" if number % 2 == 0 else "WS"
        made.append(row((zone, ops + op("turn")), before=live, kind="short-row", side=side))
        live = made[-1].after
    return made


def _all_round(zone: Zone, ops: Ops, live: int, note: str | None = None) -> Round:
    kind: Kind = "plain" if takes(ops) == makes(ops) else "decrease"
    return row((zone, ops), ("instep", op("k", live - takes(ops))), before=live, kind=kind, note=note)


def on_the_sole(between: int) -> int:
    """Of the rounds between the halves, those that lie along the sole: half of them, and a single one."""
    return (between + 1) // 2


def rows_to_the_fold(stitches: int) -> int:
    """Rows of the hourglass from its first to the narrowest, over its middle."""
    return 2 + stitches - short_row_middle(stitches)


def rows_from_the_fold(stitches: int) -> int:
    """Rows of the hourglass that widen it again, over its middle, and the round that closes it."""
    return stitches - short_row_middle(stitches) + 1
