"""Rounds in a stitch pattern as a graded pattern tells them: by what all sizes share, and where it lies in each.

Written out, no two sizes would have a round in common. So an instep and a panel name the round of the pattern, with the
stitches beside it, and a leg that has begun to be shaped only keeps "in pattern": its repeats end elsewhere in each.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import cache
from typing import NamedTuple

from ...fabric.place_in_repeat import below_the_leg, front_over
from ...fabric.runs import names_of
from ...plan.document import Plan, Round, Work, Zone
from ...plan.rounds import one_by_one, takes
from ...request.stitch_pattern import StitchPattern
from ...stitches.columns import InstepColumns, columns_of, front_columns, instep_columns
from ...stitches.operations import OPERATIONS, Names
from ...stitches.panel import CHANGES, LEANS, PURLED, Lean, Panel
from ..rounds_text import PatternLine, ops_words, round_lines
from .columns_beside import between, inward, outward
from .passages import IN_PATTERN, PANEL, Words

ALL_ROUND = (
    "Once the leg is shaped, in pattern means whole repeats round the front, each in its columns, and one round of the "
    "pattern after the other. In the middle of the back knit the stitches that are over, and those beside the shaping "
    "where a cable, or a decrease with its yarn over, no longer fits whole."
)
"""What the texture of a leg (`fabric/texture.py`) does at its centre back."""

BESIDE_A_PANEL = (
    "Once the leg is shaped, in pattern means the panel where it is, one round of it after the other, and each other "
    "stitch in its column, counted from the panel."
)
"""What `fabric/panel.py` does beside a panel."""

BETWEEN_PANELS = (
    f"{BESIDE_A_PANEL} Where two ways to shape are named, work the one whose stitch goes on with its column."
)


_INSTEP = re.compile(rf"Instep: [^;.]*\b(?:{IN_PATTERN}|{PANEL})\b[^;.]*")


def in_pattern(plan: Plan, otherwise: Words) -> Words:
    """The words of a plan's rounds; those out of the pattern are described `otherwise`."""
    pattern = plan.request.leg.stitch_pattern
    if pattern is None:
        return otherwise
    leg = [item for item in plan.rounds() if item.chart_row and item.work[0].zone == "leg"]
    shaped = any(item.before != item.after for item in leg)

    @cache
    def lying(stitches: int) -> _Lying:
        return _Lying(plan, pattern, front_over(plan, stitches))

    def words(item: Round) -> str:
        if not item.chart_row:
            return otherwise(item)
        if shaped and item.work[0].zone == "leg":
            if item.before != item.after:
                return lying(item.before).shaping(item) or otherwise(item)
            if item.before != leg[0].before:
                return IN_PATTERN
        return lying(item.before).words(item) or otherwise(item)

    return words


def explained(lines: Sequence[PatternLine], plan: Plan) -> tuple[PatternLine, ...]:
    """The lines of a section, with what "in pattern" means where a leg is shaped in it."""
    first, *others = lines
    if any(line.text.endswith(IN_PATTERN) for line in lines):
        first = replace(first, note=" ".join(filter(None, (first.note, _means(plan)))))
    return first, *others


def instep_said_once(lines: Iterable[PatternLine]) -> Iterator[PatternLine]:
    """The lines of a section; an instep in pattern is told in the first of them, and again where it lies otherwise."""
    told = ""
    for line in lines:
        found = _INSTEP.search(line.text)
        if found and found[0] == told:
            yield replace(line, text=line.text.replace(told, "Instep as before"))
        else:
            yield line
        told = found[0] if found else told


def _means(plan: Plan) -> str:
    pattern = plan.request.leg.stitch_pattern
    placed = pattern.placement if pattern else None
    if placed is None:
        return ALL_ROUND
    return BESIDE_A_PANEL if placed.on == "front" else BETWEEN_PANELS


class _Told(NamedTuple):
    """The operations of a zone, and the items of its words."""

    names: Names
    items: list[str]


class _Lying:
    """How a pattern lies on the rounds of a plan whose leg has such a front: as a panel, or all round."""

    def __init__(self, plan: Plan, pattern: StitchPattern, front: int) -> None:
        self._columns = columns_of(pattern.rounds)
        self._panel = pattern.panel
        self._on_back = pattern.placement is not None and pattern.placement.on == "front and back"
        self._front = front
        self._below = below_the_leg(plan)

    def words(self, item: Round) -> str | None:
        """A round by where the pattern lies in it; None where that does not tell what is worked."""
        zones = [self._zone(work, (item.chart_row or 1) - 1) for work in item.work]
        named = zip((name for name, _ in round_lines(item)), zones, strict=True)
        return "; ".join(f"{name}: {words}" if name else str(words) for name, words in named) if all(zones) else None

    def shaping(self, item: Round) -> str | None:
        """A round that shapes the leg, by the stitches in pattern beside that; None where these lie otherwise."""
        panel = self._panel if self._on_back else None
        pieces = self._at_both_sides(panel, item) if panel else self._at_the_centre_back(item)
        told = (f"{piece} {IN_PATTERN}" if isinstance(piece, int) else piece for piece in pieces or ())
        return ", ".join(told) or None

    def _zone(self, work: Work, number: int) -> str | None:
        if work.zone not in ("leg", "instep"):
            return ops_words(work.ops)
        found = self._told(work.zone, number, takes(work.ops))
        yarns = {each.yarn for each in one_by_one(work.ops) if OPERATIONS[each.op].loops}
        if found is None or found.names != tuple(names_of(work.ops)) or len(yarns) > 1:
            return None
        [yarn] = yarns
        return f"all in {yarn}: {', '.join(found.items)}" if yarn else ", ".join(found.items)

    def _told(self, zone: Zone, number: int, stitches: int) -> _Told | None:
        if self._panel is None:
            return self._all_round(zone, number, stitches)
        if stitches < self._panel.width:
            return None
        on = self._panel_on_the_instep if zone == "instep" else self._panel_on_the_leg
        return on(self._panel, number, stitches)

    def _all_round(self, zone: Zone, number: int, stitches: int) -> _Told | None:
        """The repeat over and over, on an instep with plain stitches beside it.

        None where it is shown nowhere, or is as easily written out.
        """
        shown = self._shown(zone, stitches)
        width = self._columns.width
        written_out = len(self._columns.rounds) == 1 or stitches % width
        if not shown.width or width == 1 or (zone == "leg" and written_out):
            return None
        knit: Names = ("k",)
        names = self._columns.between(number, shown.first, shown.width)
        told = f"{shown.width} {IN_PATTERN} beginning with stitch {shown.first % width + 1} of the repeat"
        return _Told((*knit * shown.before, *names, *knit * shown.after), [f"k{shown.before}", told, f"k{shown.after}"])

    def _shown(self, zone: Zone, stitches: int) -> InstepColumns:
        if zone == "instep":
            return instep_columns(self._columns, stitches)
        begins = front_columns(self._columns, self._front, self._below).begins
        return InstepColumns(0, begins, stitches, 0)

    @staticmethod
    def _panel_on_the_instep(panel: Panel, number: int, stitches: int) -> _Told:
        before, after = panel.beside_on(stitches)
        return _Told(
            (*panel.before(before), *panel.round(number), *panel.after(after)),
            [*inward(panel, before), PANEL, *outward(panel, after)],
        )

    def _panel_on_the_leg(self, panel: Panel, number: int, stitches: int) -> _Told:
        """A round begins behind the front, within the columns from its panel to the next."""
        _, after = panel.beside_on(self._front)
        first, *others = panel.sides(self._front, stitches, back=self._on_back)
        around = panel.between(first)
        names, items = [*around[after:]], between(panel, first, after)
        for side in others:
            names += [*panel.round(number), *panel.between(side)]
            items += [PANEL, *between(panel, side)]
        names += [*panel.round(number), *around[:after]]
        return _Told(tuple(names), [*items, PANEL, *outward(panel, after)])

    def _at_the_centre_back(self, item: Round) -> list[str | int]:
        """A pair of changes with the two stitches between them, in the middle of what is not the front."""
        ops = [*one_by_one(item.ops)]
        first, last = ("m1r", "m1l") if item.after > item.before else ("ssk", "k2tog")
        middle = (item.before - self._front) / 2
        pair = [first, "k", "k", last]
        places = [number for number in range(len(ops)) if [each.op for each in ops[number : number + 4]] == pair]
        place = min(places, key=lambda number: abs(takes(ops[: number + 2]) - middle))
        return [takes(ops[:place]), first, "k2", last, takes(ops[place + 4 :])]

    def _at_both_sides(self, panel: Panel, item: Round) -> list[str | int] | None:
        """A change on either side of the sock, between its two panels; None where they lie elsewhere."""
        _, after = panel.beside_on(self._front)
        by = (item.after - item.before) // 2
        one, other = panel.sides(self._front, item.before, back=True)
        leans = LEANS[by]
        shown = panel.round((item.chart_row or 1) - 1)
        begins = panel.changed(one, by, leans=leans[0], at_least=after)
        opposite = panel.changed(other, by, leans=leans[1])
        if (*begins[after:], *shown, *opposite, *shown, *begins[:after]) != tuple(names_of(item.ops)):
            return None
        first, second = panel.place_of_change(one, by, after), panel.place_of_change(other, by)
        return [
            first - after,
            _either(panel, leans[0], by),
            one + by - first - 1 + panel.width + second,
            _either(panel, leans[1], by),
            other + by - second - 1 + panel.width + after,
        ]


def _either(panel: Panel, leans: Lean, by: int) -> str:
    """What shapes a column beside a panel, knitted or purled."""
    return " or ".join(dict.fromkeys(CHANGES[leans, name in PURLED, by] for name in panel.beside))
