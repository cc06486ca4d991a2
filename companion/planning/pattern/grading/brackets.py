"""The bracket form of a graded pattern: one sentence for several sizes, "cast on 56 (60, 64) stitches".

Every bracket has a number for each size, always in the same order, and a dash for a size that has none there.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from functools import lru_cache
from itertools import dropwhile

_TOKEN = re.compile(
    r"\b[kp]\dtog\b|\bm1[lrp]\b|\bs2kpo\b|\bsk2p\b|\b\d/\d [RL]P?C\b"
    r"|(\d+ \d/\d|\d/\d|\d+(?:\.\d+)?|(?<=begins with yarn )[A-D]\b)"
)
"""An abbreviation with a digit of its own; or, as a group, a number or a yarn that may be another one in each size."""

MOST_KEPT = 4096
"""Texts of which skeleton and numbers are kept: the sizes of a pattern have most of theirs in common."""

NONE = "–"
"""Stands for the number of a size that has none."""

_SENTENCE = re.compile(r"(?<=[.:]) (?=[A-Z])|(?<=\.) (?=\d)")


@lru_cache(maxsize=MOST_KEPT)
def skeleton(text: str) -> str:
    """The text with a sign in place of each number; texts that say the same of several sizes share it."""
    return _TOKEN.sub(lambda found: "#" if found[1] else found[0], text)


@lru_cache(maxsize=MOST_KEPT)
def numbers(text: str) -> tuple[str, ...]:
    """The numbers in a text, in their order."""
    return tuple(filter(None, _TOKEN.findall(text)))


def bracketed(values: Sequence[str | None]) -> str:
    """The values of the sizes in their order, a dash where there is none; one value alone where all share it."""
    first, *others = [NONE if value is None else value for value in values]
    return first if set(others) <= {first} else f"{first} ({', '.join(others)})"


def shared(values: Sequence[str | None]) -> str:
    """The same where it is known for which sizes it is said: one value alone where these share it."""
    given = {value for value in values if value is not None}
    return given.pop() if len(given) == 1 else bracketed(values)


def merged(texts: Sequence[str | None], brackets: Callable[[Sequence[str | None]], str] = bracketed) -> str | None:
    """One text for the sizes that have one, numbers that differ in brackets; None when other words differ."""
    given = [text for text in texts if text is not None]
    if len({skeleton(text) for text in given}) > 1:
        return None
    counts = [None if text is None else numbers(text) for text in texts]
    columns = iter(
        [
            brackets([None if each is None else each[number] for each in counts])
            for number in range(len(numbers(given[0])))
        ]
    )
    return _TOKEN.sub(lambda found: next(columns) if found[1] else found[0], given[0])


def sentences(text: str | None) -> list[str]:
    """The sentences of a text, in their order."""
    return _SENTENCE.split(text) if text else []


def not_said_before(text: str, last: str) -> str:
    """The text from the first of its sentences on that the one before it does not have as well."""
    said = sentences(last)
    return " ".join(dropwhile(lambda sentence: sentence in said, sentences(text)))


def side_by_side(texts: Sequence[str | None]) -> list[list[str | None]]:
    """The sentences of the sizes, those that say the same together, each size's own in their order.

    What only a later size says stands behind what only the ones before it say there.
    """
    order: list[str] = []
    found: dict[str, list[str | None]] = {}
    for size, text in enumerate(texts):
        at = 0
        said = {skeleton(sentence) for sentence in sentences(text)}
        for sentence in sentences(text):
            says = skeleton(sentence)
            if says not in found:
                found[says] = [None] * len(texts)
                at = next((later for later in range(at, len(order)) if order[later] in said), len(order))
                order.insert(at, says)
            at = order.index(says) + 1
            found[says][size] = sentence
    return [found[says] for says in order]


def growing(text: str, steps: Sequence[int]) -> str:
    """The words of a round that is repeated, with what each of its numbers grows by: "k54 and 2 fewer each time".

    Within a repeat of the round itself "each time" would be taken for each time that the brackets are worked.
    """
    if not any(steps):
        return text
    items = re.split(r"(?=[,;\]])", text)
    numbered = iter(steps)
    parts = []
    depth = 0
    for item in items:
        step = next(numbered) if numbers(item) else 0
        depth += item.count("[") - item.count("]")
        when = "in each such round" if depth else "each time"
        parts.append(f"{item} and {abs(step)} {'more' if step > 0 else 'fewer'} {when}" if step else item)
    return "".join(parts)
