"""The rounds of a section as one text for several sizes; a single size makes the pattern of one foot."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import groupby

from ...gauge.observations import listed
from ...plan.document import Section
from ...units import Unit, in_one_unit
from ..rounds_text import CHART_ROW, PATTERN_ROUND, PatternLine
from .brackets import NONE, bracketed, growing, merged, shared, side_by_side
from .columns_beside import without_none
from .in_pattern import instep_said_once
from .passages import Passage, SideBySide, Words


class Grading:
    """Writes sections for sizes with these names, their lengths in one unit.

    `called` is what a row of the leg's pattern is called.
    """

    def __init__(self, names: Sequence[str], words: Sequence[Words], unit: Unit, called: str = CHART_ROW) -> None:
        self.names = names
        self.words = words
        self.unit = unit
        self.called = called

    def lines(self, sections: Mapping[int, Section]) -> list[PatternLine]:
        """One section of the sizes that have it; what only some of them work has a dash for the others."""
        every = {size: section.rounds() for size, section in sections.items()}
        in_words = self.called == PATTERN_ROUND
        repeated = {len(step.rounds) for section in sections.values() for step in section.steps} if in_words else ()
        passages = SideBySide(every, self.words, repeated, in_words=in_words).passages()
        lines = [line for passage in passages for line in self._lines(passage)]
        # What was said to some of the sizes only is not known to the others.
        together = all(passage.sizes == tuple(sections) for passage in passages)
        first, *others = instep_said_once(lines) if together else lines
        opening = self.in_one({size: rounds[0].note for size, rounds in every.items()})
        return [replace(first, note=opening), *others]

    def in_one(self, texts: Mapping[int, str | None]) -> str | None:
        """Sentences of these sizes as one each; those of some sizes have dashes, or say whose they are.

        Whose a sentence is, is taken to hold for the next one too: so one for all says that behind one for some.
        """
        given = {size: in_one_unit(text, self.unit) for size, text in texts.items() if text}
        told, last = [], ""
        for of_each in side_by_side([given.get(size) for size in range(len(self.names))]):
            text, whose = said_by(self.names, of_each, len(texts))
            if last and not whose and all(of_each[size] for size in texts):
                whose = self._all(tuple(texts))
            told.append(f"{whose}: {text}" if whose and whose != last else text)
            last = whose or last
        return " ".join(told) or None

    def _all(self, sizes: Sequence[int]) -> str:
        if len(sizes) < len(self.names):
            return sizes_named([self.names[size] for size in sizes])
        return "All sizes" if _are_sizes(self.names) else "Both socks"

    def _lines(self, passage: Passage) -> Iterator[PatternLine]:
        if passage.period == 1:
            text = f"{self._chart(passage)}{self._text(passage, 0)}{self._counted(passage)}"
            yield PatternLine(self._label(passage), text, self._note(passage))
            return
        these = "two" if passage.period == 2 else str(passage.period)
        times = self._shared(passage, lambda size: passage.times[size])
        text = f"{self._chart(passage)}work these {these} {_noun(passage)}s {times} times{self._counted(passage)}"
        yield PatternLine(self._label(passage), text, self._note(passage))
        texts = [self._text(passage, number) for number in range(passage.period)]
        first = 0
        for text, alike in groupby(texts):
            last = first + len(tuple(alike)) - 1
            yield PatternLine(self._label(passage, first, last), text)
            first = last + 1

    def _text(self, passage: Passage, number: int) -> str:
        texts = {
            size: growing(self.words[size](group[number]), passage.steps[number])
            for size, group in passage.rounds.items()
        }
        text = merged([texts.get(size) for size in range(len(self.names))], shared)
        assert text is not None, "the rounds of a passage differ in numbers alone"
        return without_none(text)

    def _note(self, passage: Passage) -> str | None:
        """What is said before its first round; the notes on those of the section stand together before it."""
        return self.in_one(
            {size: group[0].note if passage.start[size] else None for size, group in passage.rounds.items()}
        )

    def _shared(self, passage: Passage, number: Callable[[int], int]) -> str:
        """A number of the sizes that work a passage."""
        return shared([str(number(size)) if size in passage.rounds else None for size in range(len(self.names))])

    def _label(self, passage: Passage, number: int | None = None, to: int | None = None) -> str:
        """Which rounds of each size: those of the group up to one, or all of the passage."""

        def of_each(number: Callable[[int], int]) -> str:
            return bracketed([str(number(size)) if size in passage.rounds else None for size in range(len(self.names))])

        first = of_each(lambda size: passage.start[size] + 1 + (number or 0))
        if to is None:
            last = of_each(lambda size: passage.start[size] + passage.period * passage.times[size])
        else:
            last = of_each(lambda size: passage.start[size] + 1 + to)
        side = next(iter(passage.rounds.values()))[number or 0].side
        sided = "" if side == "round" or (number is None and passage.period > 1) else f"{side} "
        one = number == to if to is not None else max(passage.times.values()) == passage.period == 1
        label = f"{sided}{_noun(passage)} {first}" if one else f"{sided}{_noun(passage)}s {first} to {last}"
        return label[0].upper() + label[1:]

    def _chart(self, passage: Passage) -> str:
        """With which row of the pattern the rounds begin, if they carry it."""
        rows = {
            size: next((item.chart_row for item in group if item.chart_row), 0)
            for size, group in passage.rounds.items()
        }
        if not all(rows.values()):
            return ""
        row = self._shared(passage, lambda size: rows[size] or 0)
        one = max(passage.times.values()) == passage.period == 1
        what, noun = self.called.split()
        return f"{self.called} {row}: " if one else f"{what} from {noun} {row} on: "

    def _counted(self, passage: Passage) -> str:
        """The stitches after rounds that change them; in rows the waiting stitches would only confuse."""
        group = next(iter(passage.rounds.values()))
        every = [item for each in passage.rounds.values() for item in each]
        changed = any(item.before != item.after and not item.uses("co") for item in every)
        if group[-1].side != "round" or not changed or not all(passage.after(size) for size in passage.sizes):
            return ""
        return f". Now {self._shared(passage, passage.after)} stitches"


def said_by(names: Sequence[str], of_each: Sequence[str | None], sizes: int) -> tuple[str, str]:
    """What some of so many sizes say in the same words as one text, and whose it is; that is "" where all may read it.

    It has dashes for the others where numbers differ. `names` are those of all sizes, and `of_each` their texts in the
    same order.
    """
    text = merged(of_each, shared)
    assert text is not None, "texts that are put together differ in numbers alone"
    concerned = [names[size] for size, one in enumerate(of_each) if one is not None]
    # A sentence that says itself when it holds goes to every size.
    all_may_read = len(concerned) == sizes or NONE in text or text.startswith("If ")
    return text, "" if all_may_read else sizes_named(concerned)


def sizes_named(names: Sequence[str]) -> str:
    """Some of the sizes, by name: "Size 20 cm", "Sizes 20 cm and 22 cm"; the socks of a pair as "Sock 2"."""
    if not _are_sizes(names):
        return listed(names).capitalize()
    return f"{'Sizes' if len(names) > 1 else 'Size'} {listed(names)}"


def _are_sizes(names: Sequence[str]) -> bool:
    return any(name[0].isdigit() for name in names)


def _noun(passage: Passage) -> str:
    return "round" if next(iter(passage.rounds.values()))[0].side == "round" else "row"
