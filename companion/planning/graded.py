"""The rounds of a section as one text for several sizes; a single size makes the pattern of one foot."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import groupby

from .brackets import bracketed, growing, in_one_unit, merged
from .document import Section
from .observed import listed
from .passages import Passage, SideBySide, Words
from .units import Unit
from .words import PatternLine

LEAST_SHARED = 0.5
"""Part of the rounds that all sizes share, below which each size is told by itself (ours)."""


class Grading:
    """Writes sections for sizes with these names, their lengths in one unit."""

    def __init__(self, names: Sequence[str], words: Sequence[Words], unit: Unit) -> None:
        self.names = names
        self.words = words
        self.unit = unit

    def lines(self, sections: Sequence[Section]) -> list[PatternLine]:
        """One section as a pattern for all sizes says it; where they differ in kind, each size is told by itself."""
        every = [section.rounds() for section in sections]
        passages = list(SideBySide(dict(enumerate(every)), self.words).passages())
        shared = sum(passage.length for passage in passages if len(passage.sizes) == len(every))
        if shared < LEAST_SHARED * sum(passage.length for passage in passages):
            alone = (SideBySide({size: rounds}, self.words).passages() for size, rounds in enumerate(every))
            passages = [passage for one in alone for passage in one]
        return [line for passage in passages for line in self._lines(passage)]

    def told(self, texts: Sequence[str | None], sizes: Sequence[int]) -> str | None:
        """Sentences of these sizes as one, or one after the other where more than numbers differ."""
        given = {size: in_one_unit(text, self.unit) for size, text in zip(sizes, texts, strict=True) if text}
        if not given:
            return None
        together = merged(list(given.values()))
        if together and len(given) == len(sizes):
            return together
        return " ".join(f"{sizes_named([self.names[size]])}: {text}" for size, text in given.items())

    def _lines(self, passage: Passage) -> Iterator[PatternLine]:
        if passage.period == 1:
            text = f"{_chart(passage)}{self._text(passage, 0)}{_counted(passage)}"
            yield PatternLine(self._label(passage), text, self._note(passage, 0))
            return
        these = "two" if passage.period == 2 else str(passage.period)
        times = _of_each(passage, lambda size: passage.times[size])
        text = f"{_chart(passage)}work these {these} {_noun(passage)}s {times} times{_counted(passage)}"
        yield PatternLine(self._label(passage), text, self._note(passage, 0))
        texts = [self._text(passage, number) for number in range(passage.period)]
        first = 0
        for text, alike in groupby(texts):
            last = first + len(tuple(alike)) - 1
            note = self._note(passage, first) if first else None
            yield PatternLine(self._label(passage, first, last), text, note)
            first = last + 1

    def _text(self, passage: Passage, number: int) -> str:
        told = merged(
            [growing(self.words[size](group[number]), passage.steps[number]) for size, group in passage.rounds.items()]
        )
        assert told is not None, "the rounds of a passage differ in numbers alone"
        return told

    def _note(self, passage: Passage, number: int) -> str | None:
        return self.told([group[number].note for group in passage.rounds.values()], passage.sizes)

    def _label(self, passage: Passage, number: int | None = None, to: int | None = None) -> str:
        """Which sizes where it is not all, and which rounds: those of the group up to one, or all of the passage."""
        first = _of_each(passage, lambda size: passage.start[size] + 1 + (number or 0))
        if to is None:
            last = _of_each(passage, lambda size: passage.start[size] + passage.period * passage.times[size])
        else:
            last = _of_each(passage, lambda size: passage.start[size] + 1 + to)
        side = next(iter(passage.rounds.values()))[number or 0].side
        sided = "" if side == "round" or (number is None and passage.period > 1) else f"{side} "
        one = number == to if to is not None else max(passage.times.values()) == passage.period == 1
        label = f"{sided}{_noun(passage)} {first}" if one else f"{sided}{_noun(passage)}s {first} to {last}"
        label = f"{self._among(passage.sizes)}{label}"
        return label[0].upper() + label[1:]

    def _among(self, sizes: Sequence[int]) -> str:
        """Which sizes are meant, as the beginning of a label; nothing when it is all of them."""
        if len(sizes) == len(self.names):
            return ""
        return f"{sizes_named([self.names[size] for size in sizes])} only, "


def sizes_named(names: Sequence[str]) -> str:
    """Some of the sizes, by name: "Size 20 cm", "Sizes 20 cm and 22 cm"."""
    return f"{'Sizes' if len(names) > 1 else 'Size'} {listed(names)}"


def _of_each(passage: Passage, number: Callable[[int], int]) -> str:
    """A number of each size in bracket form."""
    return bracketed([str(number(size)) for size in passage.sizes])


def _noun(passage: Passage) -> str:
    return "round" if next(iter(passage.rounds.values()))[0].side == "round" else "row"


def _chart(passage: Passage) -> str:
    """With which row of the chart the rounds begin, if they carry it."""
    rows = {
        size: next((item.chart_row for item in group if item.chart_row), 0) for size, group in passage.rounds.items()
    }
    if not all(rows.values()):
        return ""
    row = _of_each(passage, lambda size: rows[size] or 0)
    return f"chart row {row}: " if max(passage.times.values()) == passage.period == 1 else f"chart from row {row} on: "


def _counted(passage: Passage) -> str:
    """The stitches after rounds that change them; in rows the waiting stitches would only confuse."""
    group = next(iter(passage.rounds.values()))
    every = [item for each in passage.rounds.values() for item in each]
    changed = any(item.before != item.after and not item.uses("co") for item in every)
    if group[-1].side != "round" or not changed or not all(passage.after(size) for size in passage.sizes):
        return ""
    return f". Now {_of_each(passage, passage.after)} stitches"
