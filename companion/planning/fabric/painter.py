"""Laying the chart over rounds that are already shaped: each stitch gets the yarn of its place in the repeat.

The middle of the instep, on the leg and on the foot, is the middle of a repeat. Where the leg is shaped at the
centre back the repeat breaks there and nowhere else. Beside an instep in stranded knitting the sole carries the same
yarns in turn, stitch by stitch, so that none lies behind it for long (common practice): each yarn in columns of its
own, a pinstripe, or changing places in each round, in checks.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from math import lcm

from ..plan.document import Round, Work, Zone
from ..plan.rounds import Ops, is_spread, makes, one_by_one, op, takes, zone_stitches
from ..request.plan_request import CHECKED, PlanRequest
from ..stitches.operations import OPERATIONS
from .chart import worked
from .runs import Worked, in_runs, names_of

JOG = (
    "Stripes: where a new colour begins the rounds meet in a step. Knit the first round of the new colour, then slip "
    "the first stitch of its second round purlwise, and the step is drawn level. Carry the waiting yarn up inside."
)
"""How a change of colour in the round is hidden (common practice)."""

ONE_ROUND = "A stripe of one round has no second one, and keeps its step."
"""What is said beside it where only some stripes have one round."""

HELIX = (
    "Stripes of one round are knitted as a helix, without a step: at the end of each round let its yarn hang, and take "
    "up the one that waits there, neither twisting the two nor pulling it tight."
)
"""How stripes that are all of one round are knitted (common practice)."""

COLUMNS = "each keeps its column."
CHECKS = "they change places in each round."
"""How the sole beside a charted instep goes on."""

Rounds = tuple[Round, ...]


@dataclass(frozen=True)
class Painter:
    """Lays the chart of a request over the rounds of its sections; without a chart they stay as they are.

    `front` is the instep's part of the leg above the heel.
    """

    request: PlanRequest
    front: int

    @property
    def goes_through(self) -> bool:
        """Whether the chart goes on through a round that changes the stitches, as stripes do, or there is none."""
        return self.request.leg.chart is None or self.request.leg.chart.width == 1

    def lay(self, rounds: tuple[Round, ...], done: int, last: int) -> tuple[tuple[Round, ...], int]:
        """A section's rounds with the chart over those after the first `done`, and the last round of the chart worked.

        `last` is the one worked last before the section, 0 before the first; they are counted as `rounds_in_all` has
        them. Rows of a heel stay plain.
        """
        chart = self.request.leg.chart
        if chart is None:
            return rounds, last
        for number in (item.chart_row for item in rounds[:done] if item.chart_row):
            last = _goes_on(self.request, last, number)
        painted = list(rounds[:done])
        known: dict[tuple[int, int, bool], Round] = {}
        for item in rounds[done:]:
            if _carries_the_chart(item, chart.width):
                at = id(item), last % rounds_in_all(self.request) + 1, last == 0
                known[at] = known.get(at) or self._painted(item, at[1], first=at[2])
                painted.append(known[at])
                last = at[1]
            else:
                painted.append(item)
        return self._sole_explained(tuple(painted), done), last

    def with_front(self, front: int) -> Painter:
        """The same on another front."""
        return replace(self, front=front)

    def lays(self, item: Round) -> bool:
        """Whether a round of a leg lies as it would be laid."""
        plain = replace(item, work=(Work(zone="leg", ops=op("k", item.before)),))
        return item.chart_row is not None and self._painted(plain, item.chart_row, first=False).work == item.work

    def _sole_explained(self, rounds: Rounds, done: int) -> Rounds:
        """The rounds, the first of them whose sole has yarns in turn saying which of them begins it."""
        for number, item in enumerate(rounds):
            beside = [part for part in item.work if item.chart_row and len(item.work) > 1 and not _has_the_repeat(part)]
            yarns = [each.yarn for part in beside for each in one_by_one(part.ops) if each.yarn]
            if len(set(yarns)) < 2:
                continue
            if number < done:
                return rounds
            begun = f"The {beside[0].zone} begins with yarn {yarns[0]}: yarns alternate, and "
            first_note = begun + (CHECKS if self.request.foot_pattern == CHECKED else COLUMNS)
            note = f"{item.note or ''} {first_note}".lstrip()
            return (*rounds[:number], replace(item, note=note), *rounds[number + 1 :])
        return rounds

    def _painted(self, item: Round, number: int, *, first: bool) -> Round:
        chart = self.request.leg.chart
        assert chart is not None
        at = (number - 1) % len(chart.rows)
        row = worked(chart.rows[at])
        yarns = beside_the_instep(self.request, number)
        chart_row = None if yarns == self.request.yarns[0].key else row
        work = tuple(self._zone(part, chart_row, yarns, item) for part in item.work)
        notes = [item.note, *(at_stripes(chart.rows) if first and chart.width == 1 else ())]
        note = " ".join(each for each in notes if each) or None
        return replace(item, work=work, chart_row=at + 1, note=note)

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


def rounds_in_all(request: PlanRequest) -> int:
    """Rounds after which pattern, stripes and sole begin again, 1 without a pattern.

    Checks beside an odd chart then change places in its join.
    """
    rows = lcm(*(each.height for each in (request.leg.chart, request.leg.stitch_pattern) if each))
    return 2 * rows if request.foot_pattern == CHECKED and rows % 2 else rows


def _goes_on(request: PlanRequest, last: int, row: int) -> int:
    """The round of the chart that shows this row of it and follows the `last`; the first such where none does."""
    following = last % rounds_in_all(request) + 1
    assert request.leg.chart is not None
    return following if (following - row) % len(request.leg.chart.rows) == 0 else row


def beside_the_instep(request: PlanRequest, number: int) -> str:
    """The yarns that take turns on the sole beside a round of the chart, counted from 1 up to `rounds_in_all`.

    Whichever the row begins with, they are in the order of the request, and so keep their columns.
    """
    assert request.leg.chart is not None
    row = request.leg.chart.rows[(number - 1) % len(request.leg.chart.rows)]
    yarns = "".join(yarn.key for yarn in request.yarns if yarn.key in row)
    return yarns[1:] + yarns[:1] if request.foot_pattern == CHECKED and number % 2 == 0 else yarns


def at_stripes(rows: Sequence[str], step: str = JOG) -> tuple[str, ...]:
    """What to mind where the colours of stripes change; `step` says how it is hidden."""
    if len(set(rows)) == 1:
        return ()
    around = zip([rows[-1], *rows], rows, [*rows[1:], rows[0]], strict=False)
    alone = [row not in (before, after) for before, row, after in around]
    if all(alone):
        return (HELIX,)
    return (step, ONE_ROUND) if any(alone) else (step,)


def _carries_the_chart(item: Round, width: int) -> bool:
    """Stripes go on through every round; a chart breaks for the plain one that changes the count of its repeats."""
    if item.side != "round":
        return False
    return width == 1 or not (
        is_spread(item) and any(takes(part.ops) != makes(part.ops) for part in item.work if _has_the_repeat(part))
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
    """Operations in the yarns of the stitches that they make, in runs and in repeats of the period."""
    single: list[Worked] = []
    made = 0
    for name in names_of(ops):
        single.append((name, across[min(made, len(across) - 1)] if OPERATIONS[name].loops else None))
        made += OPERATIONS[name].makes
    return in_runs(single, period)
