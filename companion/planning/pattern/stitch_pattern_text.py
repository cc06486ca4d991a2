"""A stitch pattern by itself, as a written pattern describes it before the sections that have it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from ..fabric.runs import in_runs
from ..request.stitch_pattern import StitchPattern
from ..stitches.operations import Names
from ..stitches.repeat import taken
from ..units import counted
from .rounds_text import ops_words


def pattern_lines(pattern: StitchPattern) -> Iterator[str]:
    """What a pattern is, and the words of each round of its repeat, or its panel; rounds alike stand on one line."""
    rounds = pattern.described
    size = f"{counted(taken(rounds[0]), 'stitch')} and {counted(pattern.height, 'round')}"
    called = [*(["Panel"] if pattern.panel else []), *([pattern.name] if pattern.name else [])]
    yield f"{' of '.join(called)}: {size}, over and over." if called else f"{size}, over and over."
    first = 1
    for names, alike in groupby(rounds):
        last = first + len(tuple(alike)) - 1
        which = f"Round {first}" if first == last else f"Rounds {first} to {last}"
        yield f"{which}: {names_words(names)}"
        first = last + 1


def names_words(names: Names) -> str:
    """The operations of a repeat in words, which are read back to the same."""
    return ops_words(in_runs([(name, None) for name in names], len(names)))
