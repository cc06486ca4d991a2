"""Laying the chart over rounds that are already shaped: each stitch gets the yarn of its place in the repeat.

The middle of the instep, on the leg and on the foot, is the middle of a repeat. Where the leg is shaped at the
centre back the repeat breaks there and nowhere else. Beside an instep in stranded knitting the sole carries the same
yarns in turn, stitch by stitch, so that none lies behind it for long (common practice).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache

from .chart import worked, yarns_of
from .document import OPERATIONS, Op, OpName, Repeat, Round, Work, Zone
from .request import PlanRequest
from .work import EVENLY, Ops, repeat, zone_stitches

CHARTED_ON_THE_FOOT = ("gusset", "gusset-increases", "heel-opening", "foot")
"""The sections that the pattern goes on through where the instep follows the leg."""

JOG = (
    "Stripes: where a new colour begins the rounds meet in a step. Knit the first round of the new colour, then slip "
    "the first stitch of its second round purlwise, and the step is drawn level. Carry the waiting yarn up inside."
)
"""How a change of colour in the round is hidden (common practice)."""

Worked = tuple[OpName, str | None]
"""An operation worked once, and its yarn; one that draws no loop has none."""


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
        painted = list(rounds[:done])
        row = next((item.chart_row for item in reversed(painted) if item.chart_row), row)
        known: dict[tuple[int, int, bool], Round] = {}
        for item in rounds[done:]:
            if _carries_the_chart(item, chart.width):
                at = id(item), row % len(chart.rows) + 1, row == 0
                known[at] = known.get(at) or self._painted(item, at[1], first=at[2])
                painted.append(known[at])
                row = at[1]
            else:
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
        across = self._across(part.zone, row, yarns, zone_stitches(item, part.zone))
        period = len(yarns) if part.zone in ("sole", "heel") else _shortest_repeat(row)
        return Work(zone=part.zone, ops=in_yarns(part.ops, across, period))

    def _across(self, zone: Zone, row: str, yarns: str, stitches: int) -> str:
        """The yarn of each stitch of a zone in the order of working."""
        width = len(row)
        if zone == "instep":
            return _repeated(row, -((stitches - width) // 2), stitches)
        if zone == "leg":
            back = (stitches - self.front) // 2
            before_the_front = self.front - (self.front - width) // 2
            half = _repeated(row, before_the_front, back)
            return half + _repeated(row, before_the_front + back - stitches, stitches - back)
        return _repeated(yarns, -(stitches // 2), stitches)


def _carries_the_chart(item: Round, width: int) -> bool:
    """Stripes go on through every round; a chart breaks where one changes the whole count or opens the heel."""
    at_once = item.note is not None and item.note.startswith(EVENLY)
    return item.side == "round" and (width == 1 or (item.kind not in ("setup", "finish") and not at_once))


def _shortest_repeat(row: str) -> int:
    return next(width for width in range(1, len(row) + 1) if row == row[:width] * (len(row) // width))


def _repeated(row: str, start: int, stitches: int) -> str:
    """So many stitches of a row that is worked over and over, from this place in it on."""
    start %= len(row)
    return (row * ((start + stitches) // len(row) + 1))[start : start + stitches]


@lru_cache(maxsize=4096)
def in_yarns(ops: Ops, across: str, period: int) -> Ops:
    """Operations in the yarns of the stitches that they make, told in runs and in repeats of the period."""
    single: list[Worked] = []
    made = 0
    for name in _names(ops):
        single.append((name, across[min(made, len(across) - 1)] if OPERATIONS[name].loops else None))
        made += OPERATIONS[name].makes
    return _told(single, period)


def _names(ops: Iterable[Op | Repeat]) -> Iterator[OpName]:
    """Every working of an operation on its own, repeats written out."""
    for item in ops:
        if isinstance(item, Repeat):
            yield from tuple(_names(item.ops)) * item.times
        else:
            yield from (item.op,) * item.n


def _told(single: list[Worked], period: int) -> Ops:
    """Operations as a knitter reads them: runs of one yarn with their number, repeats told once."""
    ops: Ops = ()
    start = 0
    while start < len(single):
        times, alike = _run(single, start, period), _run(single, start, 1)
        if times > 1 and times * period > alike:
            ops += repeat(times, _told(single[start : start + period], period + 1))
            start += times * period
        else:
            ops += (_op(*single[start], alike),)
            start += alike
    return ops


def _run(single: list[Worked], start: int, length: int) -> int:
    """How often the next so many operations come in a row."""
    block = single[start : start + length]
    times = 1
    while single[start + times * length : start + (times + 1) * length] == block:
        times += 1
    return times


@lru_cache(maxsize=1024)
def _op(name: OpName, yarn: str | None, times: int) -> Op:
    return Op(op=name, n=times, yarn=yarn)
