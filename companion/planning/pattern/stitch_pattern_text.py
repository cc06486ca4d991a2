"""A stitch pattern by itself, as a written pattern describes it before the sections that have it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import groupby

from ..fabric.runs import in_runs
from ..fabric.stretches import repeats_of
from ..request.stitch_pattern import StitchPattern
from ..stitches.operations import Names, OpName, taken
from ..stitches.repeat import read_repeat
from ..units import counted
from .rounds_text import ops_words

ALL_OVER: Mapping[OpName, str] = {"k": "knit", "p": "purl"}
"""What is said of a round in which every stitch is worked so."""

TURNED = "Rows from the wrong side are turned into rounds."
ONE_SIDE = "All rows are read from the right side: write RS and WS where they are not."
LEFT_OUT = "Stitches beside the repeat are left out: a round has no edges."


def pattern_lines(pattern: StitchPattern) -> Iterator[str]:
    """What a pattern is and how its rows were read, and the words of each of its rounds."""
    yield " ".join(filter(None, (size_line(pattern), said_of_rows(pattern))))
    yield from round_lines(pattern)


def said_of_rows(pattern: StitchPattern) -> str:
    """What is to be known where its rounds are not the rows as they were typed; nothing elsewhere."""
    read = read_repeat(pattern.rows)
    all_from_one_side = read.left_out and not read.turned and pattern.height > 1
    return " ".join([TURNED] * read.turned + [LEFT_OUT] * read.left_out + [ONE_SIDE] * all_from_one_side)


def size_line(pattern: StitchPattern) -> str:
    """What a pattern, or its panel, is called, and how wide and high it is."""
    size = f"{counted(taken(pattern.described[0]), 'stitch')} and {counted(pattern.height, 'round')}"
    called = [*(["Panel"] if pattern.panel else []), *([pattern.name] if pattern.name else [])]
    return f"{' of '.join(called)}: {size}, over and over." if called else f"{size}, over and over."


def round_lines(pattern: StitchPattern) -> Iterator[str]:
    """The words of each round of its repeat, or its panel; rounds alike stand on one line."""
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


def names_words(names: Names, repeats: int = 1) -> str:
    """The operations of a repeat, so many times, in words, which are read back to the same."""
    return ops_words(in_runs([(name, None) for name in names] * repeats, len(names)))
