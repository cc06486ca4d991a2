"""Laying the chart over rounds that are already shaped: each stitch gets the yarn of its place in the repeat.

The middle of the instep, on the leg and on the foot, is the middle of a repeat. Where the leg is shaped at the
centre back the repeat breaks there and nowhere else. Beside an instep in stranded knitting the sole carries the same
yarns in turn, stitch by stitch, so that none lies behind it for long (common practice).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from .chart import worked, yarns_of
from .document import OPERATIONS, Op, OpName, Repeat, Round, Work, Zone
from .request import PlanRequest
from .work import EVENLY, Ops, makes, repeat, takes, zone_stitches

CHARTED_ON_THE_FOOT = ("gusset", "gusset-increases", "heel", "heel-opening", "foot")
"""The sections that the pattern goes on through where the instep follows the leg; of a heel its round, not its rows."""

JOG = (
    "Stripes: where a new colour begins the rounds meet in a step. Knit the first round of the new colour, then slip "
    "the first stitch of its second round purlwise, and the step is drawn level. Carry the waiting yarn up inside."
)
"""How a change of colour in the round is hidden (common practice)."""

ONE_ROUND = "A stripe of one round keeps its step."
"""What is said beside it where a colour has no second round."""

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
        if chart is None or not (key == "leg" or self._goes_on(key)):
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

    def others_left(self, key: str, rounds: tuple[Round, ...]) -> tuple[Round, ...]:
        """A section after charted rounds; where it is knitted without the chart, what becomes of the other yarns.

        A flap ends elsewhere than it began, so that they would have to be carried to where the pattern goes on.
        """
        chart = self.request.leg.chart
        others = {yarn for row in chart.rows for yarn in row} - {self.request.yarns[0].key} if chart else set()
        charted = any(item.chart_row for item in rounds)
        if not (others and rounds) or (charted and rounds[0].side == "round"):
            return rounds
        yarn, waits, it_is = ("yarn", "waits", "it is") if len(others) == 1 else ("yarns", "wait", "they are")
        if charted:
            told = f"The other {yarn} {waits} where the round begins."
        elif self.request.foot_pattern == "instep follows the leg" and key in ("heel-flap", "heel-turn"):
            told = f"Cut the other {yarn}: {it_is} joined again where the pattern goes on."
        else:
            told = f"The pattern ends here. Cut the other {yarn}."
        note = f"{rounds[0].note or ''} {told}".lstrip()
        return (replace(rounds[0], note=note), *rounds[1:])

    def _goes_on(self, key: str) -> bool:
        """Whether the pattern is on the foot, and in this section. An afterthought heel comes after all else."""
        follows = self.request.foot_pattern == "instep follows the leg" and key in CHARTED_ON_THE_FOOT
        return follows and not (key == "heel" and self.request.construction.heel == "afterthought")

    def _painted(self, item: Round, number: int, *, first: bool) -> Round:
        chart = self.request.leg.chart
        assert chart is not None
        row = worked(chart.rows[number - 1])
        yarns = yarns_of(chart.rows[number - 1])
        told = None if yarns == self.request.yarns[0].key else row
        work = tuple(self._zone(part, told, yarns, item) for part in item.work)
        notes = [item.note, *(_of_stripes(chart.rows) if first and chart.width == 1 else ())]
        note = " ".join(each for each in notes if each) or None
        return replace(item, work=work, chart_row=number, note=note)

    def _zone(self, part: Work, row: str | None, yarns: str, item: Round) -> Work:
        if row is None:
            return part
        across = self._across(part.zone, row, yarns, zone_stitches(item, part.zone))
        period = _shortest_repeat(row) if _has_the_repeat(part) else len(yarns)
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


def _of_stripes(rows: Sequence[str]) -> tuple[str, ...]:
    """What to mind where the colours of stripes change."""
    if len(set(rows)) == 1:
        return ()
    around = zip([rows[-1], *rows], rows, [*rows[1:], rows[0]], strict=False)
    return (JOG, ONE_ROUND) if any(row not in (before, after) for before, row, after in around) else (JOG,)


def _carries_the_chart(item: Round, width: int) -> bool:
    """Stripes go on through every round; a chart breaks for the plain one that changes the count of its repeats."""
    if item.side != "round":
        return False
    at_once = item.note is not None and item.note.startswith(EVENLY)
    return width == 1 or not (
        at_once and any(takes(part.ops) != makes(part.ops) for part in item.work if _has_the_repeat(part))
    )


def _has_the_repeat(part: Work) -> bool:
    """Whether a zone has the chart's repeat; beside the instep the yarns take turns."""
    return part.zone not in ("sole", "heel")


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
