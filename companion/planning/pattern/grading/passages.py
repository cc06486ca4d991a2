"""The same section of several sizes side by side: which rounds they share, and how often those are repeated."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from typing import NamedTuple, TypeAlias

from ...plan.document import Round
from ...plan.rounds import map_unique
from .brackets import numbers, skeleton

LONGEST_PERIOD = 12
"""Rounds that are repeated together: two pairs of rows of an offset fabric, or shaping that lies not quite evenly."""

FARTHEST = 8
"""Passages that some sizes work alone in search of where all agree again; farther off none would look (ours)."""

IN_PATTERN, PANEL = "in pattern", "panel"
"""Words of a round that keeps to a stitch pattern, and does not write it out."""

PAIR = 2
"""Rounds of the usual repeat, a plain one and one that shapes, described from either on."""

Words: TypeAlias = Callable[[Round], str]
"""How the rounds of one size are put into words."""

Places: TypeAlias = dict[int, int]
"""For each size, by its number, how many rounds of the section are described."""


class Shape(NamedTuple):
    """What a round is when its numbers are left out, those numbers, and those of them that count its repeats."""

    kind: str
    counts: tuple[int, ...]
    repeats: tuple[str, ...] = ()

    def grown(self, times: int, steps: tuple[int, ...]) -> Shape:
        """The same with numbers that have so many times grown by `steps`."""
        counts = tuple(count + times * grows for count, grows in zip(self.counts, steps, strict=True))
        return Shape(self.kind, counts, self.repeats)


_REFERS = re.compile(rf"\b(?:{IN_PATTERN}|{PANEL})\b")
_REPEATS = re.compile(r"\] x (\d+)")


def _shape(item: Round, text: str) -> Shape:
    """The rows of a chart follow each other in rounds that are worked alike: they share a shape."""
    charted = "by the chart" if item.chart_row else ""
    return Shape(
        f"{item.side} {charted} {skeleton(text)}",
        tuple(int(each) for each in numbers(text)),
        tuple(_REPEATS.findall(text)),
    )


def _shapes(section: Sequence[Round], in_words: Words) -> list[Shape]:
    return map_unique(section, lambda item: _shape(item, in_words(item)))


@dataclass(frozen=True)
class Passage:
    """Rounds that some sizes, by their numbers, work alike.

    Each of these sizes works its `rounds`, which begin after `start` others of the section, `times` times; at each
    repeat the numbers in their words grow by `steps`.
    """

    rounds: Mapping[int, tuple[Round, ...]]
    start: Mapping[int, int]
    times: Mapping[int, int]
    steps: tuple[tuple[int, ...], ...]
    section: Mapping[int, Sequence[Round]]

    @property
    def sizes(self) -> tuple[int, ...]:
        """The numbers of the sizes that work it."""
        return tuple(self.rounds)

    @property
    def period(self) -> int:
        """Rounds that are repeated together."""
        return len(self.steps)

    def after(self, size: int) -> int:
        """Stitches of a size when it has worked them; those waiting in a heel included."""
        return self.section[size][self.start[size] + self.period * self.times[size] - 1].after

    @property
    def lines(self) -> int:
        """Lines that it takes: its rounds, those alike in a row on one, and a heading where they are repeated."""
        alike = groupby(item.work for item in next(iter(self.rounds.values())))
        return (self.period > 1) + sum(1 for _ in alike)

    @property
    def length(self) -> int:
        """Rounds of all these sizes together."""
        return self.period * sum(self.times.values())


class Ahead(NamedTuple):
    """What some sizes work by themselves until all agree: its first passage, and its rounds of all these sizes."""

    first: Passage
    length: int


def _shortened(passage: Passage) -> Iterator[Passage]:
    """The passage with its repeats said once, up to twice, and so on to all of them."""
    for most in range(1, max(passage.times.values()) + 1):
        yield replace(passage, times={size: min(times, most) for size, times in passage.times.items()})


class SideBySide:
    """The rounds of one section in several sizes, by the numbers of these.

    Those `in_words` write their pattern out, so that its rounds are read together, and those after which pattern and
    stripes begin again: `repeated` are the lengths of what the sections repeat. A chart is looked at instead.
    """

    def __init__(
        self,
        sections: Mapping[int, Sequence[Round]],
        words: Sequence[Words],
        repeated: Collection[int],
        *,
        in_words: bool,
    ) -> None:
        self.rounds = sections
        self.in_words = in_words
        self.shapes = {size: _shapes(section, words[size]) for size, section in sections.items()}
        self.kinds = {size: [shape.kind for shape in shapes] for size, shapes in self.shapes.items()}
        high = {max((item.chart_row or 1 for item in section), default=1) for section in sections.values()}
        self.periods = sorted({*range(1, LONGEST_PERIOD + 1), *(high if in_words else ()), *repeated})

    def passages(self) -> list[Passage]:
        """All rounds of every size, in order, each in one passage.

        Sizes that do not agree wait for each other, or each goes on by itself as long as its rounds repeat: whichever
        is told in fewer lines.
        """
        together = [*self._in_order(self._next)]
        if all(len(passage.rounds) == len(self.rounds) for passage in together):
            return together
        return min(together, [*self._in_order(self._longest)], key=lambda way: sum(passage.lines for passage in way))

    def _in_order(self, next_of: Callable[[Places], Passage]) -> Iterator[Passage]:
        at = dict.fromkeys(self.rounds, 0)
        while True:
            left = {size: place for size, place in at.items() if place < len(self.rounds[size])}
            if not left:
                return
            passage = next_of(left)
            yield passage
            at.update(self._past(passage))

    def _longest(self, at: Places) -> Passage:
        """The most rounds that any of the sizes that agree can go on with."""
        found = [passage for group in self._alike(at) for passage in self._repeated(group)]
        return max(found, key=lambda passage: (passage.length, -passage.period))

    @staticmethod
    def _past(passage: Passage) -> Places:
        return {size: passage.start[size] + passage.period * passage.times[size] for size in passage.sizes}

    def _next(self, at: Places) -> Passage:
        """What comes next: for all sizes if they agree, else the least after which they agree soonest."""
        groups = self._alike(at)
        if len(groups) == 1:
            return self._longest(at)
        found = [shorter for group in groups for passage in self._repeated(group) for shorter in _shortened(passage)]
        best = min(found, key=lambda passage: (self._differing({**at, **self._past(passage)}), passage.length))
        if self._agree({**at, **self._past(best)}):
            return best
        ahead = [way for group in groups for way in [self._until_alike(at, group)] if way]
        if not ahead and len(groups) > 2:
            others = [{size: place for size, place in at.items() if size not in group} for group in groups]
            ahead = [way for group in others for way in [self._until_alike(at, group)] if way]
        if ahead:
            return min(ahead, key=lambda way: way.length).first
        return best if self._differing({**at, **self._past(best)}) < len(groups) else self._longest(groups[0])

    def _until_alike(self, at: Places, group: Places) -> Ahead | None:
        """How some sizes go on by themselves until all agree, if they do before long."""
        first, length, places = None, 0, dict(group)
        several = self._differing(group) > 1
        for _ in range(FARTHEST):
            places = {size: place for size, place in places.items() if place < len(self.rounds[size])}
            if not places:
                return None
            passage = (several and self._to_agree(at, places)) or self._next(places)
            first, length = first or passage, length + passage.length
            places |= self._past(passage)
            if self._agree({**at, **places}):
                return Ahead(first, length)
        return None

    def _to_agree(self, at: Places, group: Places) -> Passage | None:
        """The least that some sizes that agree go on with, after which all do."""
        if len(self._alike(group)) > 1:
            return None
        ways = (shorter for passage in self._repeated(group) for shorter in _shortened(passage))
        found = (way for way in ways if self._agree({**at, **group, **self._past(way)}))
        return min(found, key=lambda way: way.length, default=None)

    def _agree(self, at: Places) -> bool:
        """Whether all of these sizes have rounds left, and the next one is of the same kind for all."""
        return all(place < len(self.rounds[size]) for size, place in at.items()) and self._differing(at) == 1

    def _differing(self, at: Places) -> int:
        return len(self._alike({size: place for size, place in at.items() if place < len(self.rounds[size])}))

    def _alike(self, at: Places) -> list[Places]:
        """The sizes grouped by the kind of their next round."""
        groups: dict[str, Places] = {}
        for size, place in at.items():
            groups.setdefault(self.kinds[size][place], {})[size] = place
        return list(groups.values())

    def _repeated(self, at: Places) -> list[Passage]:
        """The next round, and the groups of rounds from here that these sizes share and repeat."""
        longest = PAIR if self._begins_plainly(at) else self.periods[-1]
        periods = (period for period in self.periods if period <= longest)
        return [passage for period in periods for passage in [self._passage(at, period)] if passage]

    def _passage(self, at: Places, period: int) -> Passage | None:
        kinds, *others = (self.kinds[size][place : place + period] for size, place in at.items())
        if len(kinds) < period or any(other != kinds for other in others):
            return None
        groups = {size: self.shapes[size][place : place + period] for size, place in at.items()}
        first = next(iter(groups.values()))
        if period > 1 and (self._has_a_note_within(at, period) or set(first) == {first[0]}):
            return None
        steps = self._steps(at, groups, period)
        times = {size: self._times(size, place, steps) for size, place in at.items()}
        # What grows in brackets, "[k5 and 1 fewer in each such round, k2tog]", would mislead a size that works it once.
        in_brackets = any(any(step) for step, shape in zip(steps, first, strict=True) if shape.repeats)
        if period > 1 and (min if in_brackets else max)(times.values()) == 1:
            return None
        rounds = {size: tuple(self.rounds[size][place : place + period]) for size, place in at.items()}
        return Passage(rounds, dict(at), times, steps, self.rounds)

    def _has_a_note_within(self, at: Places, period: int) -> bool:
        """Whether a round of the group but the first has a note, which would be read again at each repeat."""
        return any(item.note for size, place in at.items() for item in self.rounds[size][place + 1 : place + period])

    def _begins_plainly(self, at: Places) -> bool:
        """Whether only plain rounds come next: a longer group is read more easily from its shaping round on.

        The rounds of a pattern that is written out are a group of their own, and so are those of a slipped sole.
        """
        return all(
            item.kind == "plain"
            and item.side == "round"
            and not (self.in_words and item.chart_row and written_out)
            and not (item.uses("sl") and not item.chart_row)
            for item, written_out in (
                (self.rounds[size][place], not _REFERS.search(self.shapes[size][place].kind))
                for size, place in at.items()
            )
        )

    def _steps(self, at: Places, groups: Mapping[int, Sequence[Shape]], period: int) -> tuple[tuple[int, ...], ...]:
        """How the numbers change from one repeat to the next, in the first size that repeats the group."""
        for size, place in at.items():
            kinds = self.kinds[size]
            if kinds[place : place + period] == kinds[place + period : place + 2 * period]:
                again = self.shapes[size][place + period : place + 2 * period]
                return tuple(
                    tuple(after - before for before, after in zip(one.counts, other.counts, strict=True))
                    for one, other in zip(groups[size], again, strict=True)
                )
        return tuple((0,) * len(one.counts) for one in next(iter(groups.values())))

    def _times(self, size: int, start: int, steps: tuple[tuple[int, ...], ...]) -> int:
        """How often a size works the group; a round with a note of its own is never hidden in a repeat."""
        period = len(steps)
        shapes, rounds = self.shapes[size], self.rounds[size]
        group = [*zip(shapes[start : start + period], steps, map(any, steps), strict=True)]
        times = 1
        while True:
            for place, (first, step, grows) in enumerate(group, start=start + times * period):
                if place >= len(shapes) or rounds[place].note:
                    return times
                # Decreases of which there are more in the next such round are not described as one that grows.
                if shapes[place] != (first.grown(times, step) if grows else first):
                    return times
            times += 1
