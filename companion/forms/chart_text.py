"""Charts and stripes as they are typed in the form.

A chart is written as it looks, so its bottom line is the first round. Stripes are written "A 4, B 2": a letter and a
number of rounds each.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from itertools import groupby

from ..planning.units import counted

_STRIPE = re.compile(r"([A-D])\s*(\d{1,4})\Z")

MOST_ROUNDS, MOST_STITCHES = 120, 60
"""Rounds and stitches of a repeat that a plan takes."""


def read_stripes(text: str) -> list[str]:
    """The rows of typed stripes, each one stitch wide, the first round first.

    Raises ValueError with a sentence for the knitter.
    """
    rows: list[str] = []
    for piece in filter(None, map(str.strip, re.split(r"[,;\n]", text))):
        found = _STRIPE.match(piece.upper())
        rounds = int(found[2]) if found else 0
        if not found or not rounds:
            raise ValueError(f"“{piece[:20]}” is no stripe; a letter and its rounds are needed, like A 4, B 2")
        if len(rows) + rounds > MOST_ROUNDS:
            raise ValueError(f"the stripes repeat after {MOST_ROUNDS} rounds or fewer; type one repeat only")
        rows += found[1] * rounds
    if not rows:
        raise ValueError("the stripes are missing; type a letter and its rounds for each, like A 4, B 2")
    return rows


def show_stripes(rows: Sequence[str]) -> str:
    """Rows one stitch wide as stripes are typed."""
    return ", ".join(f"{letter} {len(list(run))}" for letter, run in groupby(rows))


def read_chart(text: str) -> list[str]:
    """The rows of a typed chart, the first round first; whether they make a rectangle is for the planning to say.

    Raises ValueError with a sentence for the knitter when there is none, or more than a plan takes.
    """
    lines = [re.sub(r"\s", "", line) for line in text.upper().splitlines()]
    rows = [line for line in reversed(lines) if line]
    if not rows:
        raise ValueError("the chart is missing; draw it, or choose another pattern")
    if len(rows) > MOST_ROUNDS or len(rows[0]) > MOST_STITCHES:
        typed = f"{counted(len(rows[0]), 'stitch')} by {counted(len(rows), 'round')}"
        raise ValueError(f"{typed}, and a chart has at most {MOST_STITCHES} by {MOST_ROUNDS}; type one repeat only")
    return rows


def is_stranded(rows: Iterable[str]) -> bool:
    """Whether a round is knitted with more than one yarn."""
    return any(len(set(row)) > 1 for row in rows)


def show_chart(rows: Sequence[str]) -> str:
    """Rows as a chart is typed."""
    return "\n".join(reversed(rows))
