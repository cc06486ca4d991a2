"""A stitch pattern by itself, as a written pattern describes it before the sections that have it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import groupby

from ..fabric.runs import in_runs
from ..fabric.stretches import repeats_of
from ..request.stitch_pattern import StitchPattern
from ..stitches.operations import Names, OpName
from ..stitches.repeat import taken
from ..units import counted
from .rounds_text import ops_words

ALL_OVER: Mapping[OpName, str] = {"k": "knit", "p": "purl"}
"""What is said of a round in which every stitch is worked so."""


def pattern_lines(pattern: StitchPattern) -> Iterator[str]:
    """What a pattern is, and the words of each round of its repeat, or its panel; rounds alike stand on one line."""
    size = f"{counted(taken(pattern.described[0]), 'stitch')} and {counted(pattern.height, 'round')}"
    called = [*(["Panel"] if pattern.panel else []), *([pattern.name] if pattern.name else [])]
    yield f"{' of '.join(called)}: {size}, over and over." if called else f"{size}, over and over."
    first = 1
    for words, alike in groupby(_rounds(pattern)):
        last = first + len(tuple(alike)) - 1
        which = f"Round {first}" if first == last else f"Rounds {first} to {last}"
        yield f"{which}: {words}"
        first = last + 1


def _rounds(pattern: StitchPattern) -> Iterator[str]:
    panel = pattern.panel
    for number, names in enumerate(pattern.rounds):
        if len({*names}) == 1 and names[0] in ALL_OVER:
            yield ALL_OVER[names[0]]
        else:
            ops = repeats_of(panel.columns, number, panel.first, panel.width) if panel else None
            yield ops_words(ops) if ops else names_words(names)


def names_words(names: Names) -> str:
    """The operations of a repeat in words, which are read back to the same."""
    return ops_words(in_runs([(name, None) for name in names], len(names)))
