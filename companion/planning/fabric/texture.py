"""Laying a stitch pattern over rounds that are already shaped, as the painter lays a colour chart.

The leg has it all round in whole repeats. What a leg has more lies at the centre back: plain with the shaping where it
is shaped, and in columns of the pattern's ground where it is straight.
The instep goes on with the same columns beside a plain sole. A round that changes a count evenly stays plain.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

from ..plan.document import Round, Work, Zone
from ..plan.rounds import Ops, is_knit, is_spread, op, takes
from ..request.stitch_pattern import StitchPattern
from ..stitches.columns import Columns, InstepColumns, columns_of, front_columns, instep_columns, over_of
from .beside_repeats import with_columns_over
from .panel import panel_in_words, panel_on_the_instep, panel_on_the_leg
from .runs import names_of
from .stretches import apart, joined, repeats_of


class Texture:
    """Lays a stitch pattern over the rounds of a sock's sections, in the order of knitting.

    It keeps what it has said of the leg and of the instep, so that everything is said once.
    """

    goes_through = False

    def __init__(self, pattern: StitchPattern, front: int, *, straight: bool) -> None:
        """`front` is the instep's part of the leg, which is `straight` or shaped."""
        self._pattern = pattern
        self._columns = columns_of(pattern.rounds)
        self.front = front
        self._straight = straight
        self._panel = pattern.panel
        self._on_back = pattern.placement is not None and pattern.placement.on == "front and back"
        self._below = 0
        self._said: set[tuple[Zone, int]] = set()

    def lay(self, rounds: tuple[Round, ...], done: int, last: int) -> tuple[tuple[Round, ...], int]:
        """A section's rounds with the pattern over those after the first `done`, and its round (from 1) worked last.

        `last` is the one worked before the section, 0 before the first. Rows of a heel stay plain.
        """
        laid = list(rounds[:done])
        for item in laid:
            if item.chart_row:
                last = item.chart_row
                self._said.update(self._lies(item))
                self._below = instep_of(item) or self._below
        high = len(self._columns.rounds)
        known: dict[tuple[int, int], Round] = {}
        for item in rounds[done:]:
            if not _carries_the_pattern(item) or (self._panel and not self._has_room(item)):
                laid.append(item)
                continue
            last = last % high + 1
            at = id(item), last
            again = known.get(at)
            known[at] = again or self._laid(item, last)
            laid.append(again or self._explained(known[at]))
            self._below = instep_of(item) or self._below
        return tuple(laid), last

    def with_front(self, front: int) -> Texture:
        """The same on another front; what one of them has said the other does not say again."""
        return self if front == self.front else self._on(front, straight=self._straight)

    def _on(self, front: int, *, straight: bool) -> Texture:
        other = Texture(self._pattern, front, straight=straight)
        other._below, other._said = self._below, self._said
        return other

    def lays(self, item: Round) -> bool:
        """Whether a round of a leg lies as it would be laid; it may be in stripes, and of a leg that was shaped."""
        plain = replace(item, work=(Work("leg", op("k", item.before)),))
        if item.chart_row is None or (self._panel and not self._has_room(plain)):
            return False
        shaped = self._on(self.front, straight=False)
        laid = (layer._laid(plain, item.chart_row) for layer in (self, shaped))
        return [*names_of(item.ops)] in ([*names_of(each.ops)] for each in laid)

    def _has_room(self, item: Round) -> bool:
        """Whether the panel is no wider than the front, the back that has one too, or the instep.

        A sock begun may have become narrower, and a leg widens from the toe up; where it is shaped between two panels,
        they have to leave stitches for that.
        """
        panel = self._panel
        assert panel is not None
        if self._on_back and item.work[0].zone == "leg":
            back = min(item.before, item.after) - self.front
            room = back >= panel.width if item.before == item.after else panel.can_be_shaped_on(back)
            return self.front >= panel.width and room
        return all(stitches >= panel.width for _, stitches in self._lies(item))

    def _laid(self, item: Round, number: int) -> Round:
        return replace(item, work=tuple(self._zone(part, number) for part in item.work), chart_row=number)

    def _zone(self, part: Work, number: int) -> Work:
        panel = self._panel
        if panel and part.zone == "leg":
            return replace(part, ops=panel_on_the_leg(panel, number - 1, part.ops, self.front, back=self._on_back))
        if panel and part.zone == "instep":
            return replace(part, ops=panel_on_the_instep(panel, number - 1, takes(part.ops)))
        if part.zone == "leg":
            return replace(part, ops=self._round_the_leg(number - 1, part.ops))
        if part.zone == "instep":
            return replace(part, ops=on_the_instep(self._columns, number - 1, takes(part.ops)))
        return part

    def _round_the_leg(self, number: int, ops: Ops) -> Ops:
        stitches = takes(ops)
        all_over = stitches % self._columns.width == 0
        if not self._straight or all_over or stitches < self._columns.width or not is_knit(ops):
            return round_the_leg(self._columns, number, ops, self.front, self._below)
        begins = front_columns(self._columns, self.front, self._below).begins
        return with_columns_over(self._columns, number, begins, stitches, self.front)

    def _lies(self, item: Round) -> Iterator[tuple[Zone, int]]:
        """The zones of a round in pattern, each with the stitches that decide how it lies there."""
        for part in item.work:
            if part.zone == "leg":
                yield part.zone, self.front
            elif part.zone == "instep":
                yield part.zone, takes(part.ops)

    def _explained(self, item: Round) -> Round:
        """The round with what is to be said where the pattern begins on the leg or on the instep, if it is not said."""
        new = [lies for lies in self._lies(item) if lies not in self._said]
        self._said.update(new)
        if panel := self._panel:
            sentences = (panel_in_words(self._pattern, panel, zone, stitches) for zone, stitches in new)
            return replace(item, note=" ".join(filter(None, [item.note, *sentences]))) if new else item
        sentences = (
            _of_the_leg(self._pattern, front_columns(self._columns, stitches, self._below).begins)
            if zone == "leg"
            else _of_the_instep(self._columns, instep_columns(self._columns, stitches), stitches)
            for zone, stitches in new
        )
        return replace(item, note=" ".join(filter(None, [item.note, *sentences]))) if new else item


def instep_of(item: Round) -> int:
    """Stitches of a round's instep, 0 where it has none."""
    return next((takes(part.ops) for part in item.work if part.zone == "instep"), 0)


def _of_the_leg(pattern: StitchPattern, begins: int) -> str:
    name = f"{pattern.name}: " if pattern.name else ""
    high = "every round alike" if pattern.height == 1 else f"{pattern.height} rounds over and over"
    centred = f" A round begins with stitch {begins + 1} of the repeat, so that the front has its middle."
    wide = f"repeats of {pattern.width} stitches" if pattern.width > 1 else "every stitch alike"
    return f"The leg is in pattern, {name}{wide}, {high}.{centred if begins else ''}"


def _of_the_instep(columns: Columns, shown: InstepColumns, stitches: int) -> str:
    if not shown.width:
        return f"The {stitches} stitches of the instep are too few for the pattern, and are plain."
    beside = [f"{count} {where}" for count, where in ((shown.before, "before it"), (shown.after, "after it")) if count]
    plain = f", with {' and '.join(beside)} plain" if beside else ""
    whole = f"all {stitches}" if shown.width == stitches else f"{shown.width} of the {stitches}"
    alike = " It begins and ends alike." if columns.ends_alike(shown.first, shown.width) else ""
    return f"The pattern is worked over {whole} stitches of the instep{plain}; the sole is plain.{alike}"


def _carries_the_pattern(item: Round) -> bool:
    """Whether a round has a leg or an instep to lay the pattern on; one that spreads changes over it stays plain."""
    if item.side != "round":
        return False
    return any(
        (part.zone == "instep" and is_knit(part.ops)) or (part.zone == "leg" and not is_spread(item))
        for part in item.work
    )


@lru_cache(maxsize=4096)
def round_the_leg(columns: Columns, number: int, ops: Ops, front: int, below: int) -> Ops:
    """A round of the leg (from 0) in pattern, over plain stitches on either side of what is shaped at the centre back.

    `below` are the stitches of an instep in pattern that was knitted before it, 0 without one.
    Whole repeats go round from the front; the stitches over lie plain at the centre back with the shaping.
    """
    stitches, begins = takes(ops), front_columns(columns, front, below).begins
    over = over_of(stitches, columns.width)
    before, shaped, after = apart(ops)
    if not over and not shaped:
        return repeats_of(columns, number, begins, stitches)
    back = max(0, (stitches - front - over) // 2)
    first = _nearest_cut(columns, begins, back, stitches - over)
    left, right = min(before, first), min(after, stitches - over - first)
    while not columns.is_cut(begins + left):
        left -= 1
    while not columns.is_cut(begins - right):
        right -= 1
    return joined(
        repeats_of(columns, number, begins, left),
        joined(op("k", before - left), shaped, op("k", after - right)) if shaped else op("k", stitches - left - right),
        repeats_of(columns, number, begins - right, right, at_the_end=True),
    )


@lru_cache(maxsize=4096)
def on_the_instep(columns: Columns, number: int, stitches: int) -> Ops:
    """A round (from 0) of an instep of so many stitches in pattern."""
    shown = instep_columns(columns, stitches)
    in_pattern = repeats_of(columns, number, shown.first, shown.width)
    return joined(op("k", shown.before), in_pattern, op("k", shown.after))


def _nearest_cut(columns: Columns, begins: int, wanted: int, most: int) -> int:
    """So many columns, about as many as wanted, after which the pattern can end."""
    nearby = (count for off in range(most + 1) for count in (wanted - off, wanted + off))
    return next(count for count in nearby if 0 <= count <= most and columns.is_cut(begins + count))
