"""Laying the chart over rounds that are already shaped: each stitch gets the yarn of its place in the repeat.

The middle of the instep, on the leg and on the foot, is the middle of a repeat. Where the leg is shaped at the
centre back the repeat breaks there and nowhere else. Beside an instep in stranded knitting the sole carries the same
yarns in turn, stitch by stitch, so that none lies behind it for long (common practice).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from .chart import worked, yarns_of
from .document import OPERATIONS, Op, Repeat, Round, Work, Zone
from .request import PlanRequest
from .work import EVENLY, Ops, one_by_one, repeat, zone_stitches

CHARTED_ON_THE_FOOT = ("gusset", "gusset-increases", "foot")
"""The sections that the pattern goes on through where the instep follows the leg."""

JOG = (
    "Stripes: where a new colour begins the rounds meet in a step. Knit the first round of the new colour, then slip "
    "the first stitch of its second round purlwise, and the step is drawn level. Carry the waiting yarn up inside."
)
"""How a change of colour in the round is hidden (common practice)."""

At = Callable[[int], str]
"""The yarn of a stitch by its place in a zone, counted from 0 in the order of working."""


@dataclass(frozen=True)
class Painter:
    """Lays the chart of a request over the rounds of its sections; without a chart they stay as they are.

    `front` is the instep's part of the leg above the heel.
    """

    request: PlanRequest
    front: int

    def paint(self, key: str, rounds: tuple[Round, ...], done: int, row: int) -> tuple[tuple[Round, ...], int]:
        """A section's rounds with the chart over those after the first `done`, and the last chart row worked.

        `row` is the chart row worked last before the section, 0 before the first.
        """
        chart = self.request.leg.chart
        follows = self.request.foot_pattern == "instep follows the leg" and key in CHARTED_ON_THE_FOOT
        if chart is None or not (key == "leg" or follows):
            return rounds, row
        painted: list[Round] = []
        for number, item in enumerate(rounds):
            if number < done:
                row = item.chart_row or row
            elif _carries_the_chart(item):
                item = self._painted(item, row % len(chart.rows) + 1, first=row == 0)  # noqa: PLW2901
                row = item.chart_row or row
            painted.append(item)
        return tuple(painted), row

    def _painted(self, item: Round, number: int, *, first: bool) -> Round:
        chart = self.request.leg.chart
        assert chart is not None
        row = worked(chart.rows[number - 1])
        yarns = yarns_of(chart.rows[number - 1])
        told = None if yarns == self.request.yarns[0].key else row
        work = tuple(self._zone(part, told, yarns, item) for part in item.work)
        notes = [item.note, JOG if first and chart.width == 1 and len(chart.rows) > 1 else None]
        note = " ".join(each for each in notes if each) or None
        return item.model_copy(update={"work": work, "chart_row": number, "note": note})

    def _zone(self, part: Work, row: str | None, yarns: str, item: Round) -> Work:
        if row is None:
            return part
        stitches = zone_stitches(item, part.zone)
        at = self._at(part.zone, row, yarns, stitches)
        period = len(yarns) if part.zone in ("sole", "heel") else _shortest_repeat(row)
        return Work(zone=part.zone, ops=_told(_in_yarns(part.ops, at), period))

    def _at(self, zone: Zone, row: str, yarns: str, stitches: int) -> At:
        width = len(row)
        if zone == "instep":
            return lambda place: row[(place - (stitches - width) // 2) % width]
        if zone == "leg":
            before_the_front = self.front - (self.front - width) // 2
            back = (stitches - self.front) // 2
            return lambda place: row[(place + before_the_front - (stitches if place >= back else 0)) % width]
        return lambda place: yarns[(place - stitches // 2) % len(yarns)]


def _carries_the_chart(item: Round) -> bool:
    """A round that changes the whole count at once is knitted in the main colour."""
    at_once = item.note is not None and item.note.startswith(EVENLY)
    return item.side == "round" and item.kind in ("plain", "increase", "decrease", "pick-up") and not at_once


def _shortest_repeat(row: str) -> int:
    return next(width for width in range(1, len(row) + 1) if row == row[:width] * (len(row) // width))


def _in_yarns(ops: Iterable[Op | Repeat], at: At) -> list[Op]:
    """Every operation on its own, in the yarn of the stitch that it makes."""
    single: list[Op] = []
    made = 0
    for item in one_by_one(ops):
        single.append(item.model_copy(update={"yarn": at(made)}))
        made += OPERATIONS[item.op].makes
    return single


def _told(single: Sequence[Op], period: int) -> Ops:
    """Operations as a knitter reads them: runs of one yarn with their number, repeats told once."""
    ops: Ops = ()
    start = 0
    while start < len(single):
        block = single[start : start + period]
        times = _run(single, start, block)
        alike = _run(single, start, single[start : start + 1])
        if times > 1 and times * period > alike:
            ops += repeat(times, _told(block, len(block) + 1))
            start += times * period
        else:
            ops += (single[start].model_copy(update={"n": alike}),)
            start += alike
    return ops


def _run(single: Sequence[Op], start: int, block: Sequence[Op]) -> int:
    """How often the block comes in a row."""
    times = 0
    while block and single[start + times * len(block) : start + (times + 1) * len(block)] == block:
        times += 1
    return times
