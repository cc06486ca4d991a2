"""Charted rounds as a pattern says them: which row of the chart, and with which of its stitches it begins."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

from ..fabric.chart import worked
from ..plan.document import Op, Plan, Repeat, Round, Work
from ..plan.rounds import is_knit, one_by_one, takes
from .rounds_text import gist, ops_words, round_words

_IN_TURN = ("heel", "sole")
"""Zones beside a charted instep, which carry the yarns of the row in turn."""


class ChartWords:
    """The words of a plan's rounds; those that carry the chart refer to it instead of writing out every colour.

    The first stitch of a zone lies at the same place of the repeat in every row, as long as the zone is as wide.
    """

    def __init__(self, plan: Plan, main: str | None = None, *, graded: bool = False) -> None:
        """`main` is the yarn of operations that name none, where it is not the first of the request.

        Beside other sizes, `graded`, a leg that has begun to be shaped only says that the chart lies as before, for
        whole repeats come round again in other rounds of each.
        """
        chart = plan.request.leg.charted
        self._rows = [worked(row) for row in chart.rows] if chart else []
        self._stranded = plan.request.stranded
        self._main = main or plan.request.yarns[0].key
        leg = [item for item in plan.rounds() if item.chart_row and item.work[0].zone == "leg"] if graded else []
        self._straight = leg[0].before if leg and leg[0].before != leg[-1].after else None
        self._starts: dict[tuple[str, int], set[int]] = {}
        for item in {id(each): each for each in plan.rounds()}.values():
            for work in item.work if item.chart_row and self._rows else ():
                self._narrow(work, item)

    def text(self, item: Round) -> str:
        """A round in words; plain knitting needs no count. Which row of the chart it has is not said."""
        if item.chart_row and self._rows:
            return self._charted(item)
        return gist(item) or round_words(item)

    def begins(self, item: Round) -> int | None:
        """The stitch of its chart row, from 1 at the right end, that comes first on the leg, or on the instep.

        None for a round without the chart, for stripes, and where the repeat breaks or is shaped on its way.
        """
        if not item.chart_row or not self._stranded:
            return None
        return next((self._first(work) for work in item.work if work.zone not in _IN_TURN), None)

    def _narrow(self, work: Work, item: Round) -> None:
        """Keep the places of the repeat at which this zone can begin by the colours of this round."""
        assert item.chart_row is not None
        row = self._rows[item.chart_row - 1]
        colours = [each.yarn or self._main for each in one_by_one(work.ops)]
        key = (work.zone, len(colours))
        found = {
            start
            for start in self._starts.get(key, range(len(row)))
            if all(colour == row[(start + place) % len(row)] for place, colour in enumerate(colours))
        }
        self._starts[key] = found

    def _charted(self, item: Round) -> str:
        if not self._stranded:
            return "knit" if is_knit(item.ops) else "; ".join(self._named(work, item) for work in item.work)
        return "; ".join(f"{self._named(work, item)}, {self._lies(work)}" for work in item.work)

    def _named(self, work: Work, item: Round) -> str:
        words = ops_words(_plain(work.ops))
        return words if len(item.work) == 1 else f"{work.zone.capitalize()}: {words}"

    def _lies(self, work: Work) -> str:
        """Where the repeat lies on a zone; its stitches are counted from 1 at its right end."""
        if work.zone in _IN_TURN:
            return "the yarns of the row in turn"
        first = self._first(work)
        if not first or (work.zone == "leg" and self._straight not in (None, takes(work.ops))):
            return "the chart as it lies on the front"
        return f"beginning with stitch {first} of the chart"

    def _first(self, work: Work) -> int | None:
        """The stitch of the repeat that a zone begins with; None where the repeat breaks or is shaped on its way."""
        starts = self._starts[work.zone, takes(work.ops)] if is_knit(work.ops) else ()
        return min(starts) + 1 if starts else None


def _plain(ops: Iterable[Op | Repeat]) -> list[Op]:
    """The operations without their colours, the same ones in a row with their number."""
    return [Op(name, len(tuple(run))) for name, run in groupby(each.op for each in one_by_one(ops))]
