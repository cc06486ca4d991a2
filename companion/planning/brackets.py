"""The bracket form of a graded pattern: one sentence for several sizes, "cast on 56 (60, 64) stitches"."""

from __future__ import annotations

import re
from collections.abc import Sequence

_TOKEN = re.compile(r"\b[kp]\dtog\b|\bm1[lrp]\b|\d+ \d/\d|\d/\d|\d+(?:\.\d+)?")
"""An abbreviation with a digit of its own, or a number."""

_BOTH_UNITS = re.compile(r"(?P<cm>[\d.]+ cm) \((?P<inches>[\d /]+ in)\)")


def _is_number(token: str) -> bool:
    return token[0].isdigit()


def skeleton(text: str) -> str:
    """The text with a sign in place of each number; texts that say the same of several sizes share it."""
    return _TOKEN.sub(lambda found: "#" if _is_number(found[0]) else found[0], text)


def numbers(text: str) -> tuple[str, ...]:
    """The numbers in a text, in their order."""
    return tuple(token for token in _TOKEN.findall(text) if _is_number(token))


def bracketed(values: Sequence[str]) -> str:
    """The values of the sizes in their order; one value alone where they are all the same."""
    first, *others = values
    return first if set(others) <= {first} else f"{first} ({', '.join(others)})"


def merged(texts: Sequence[str]) -> str | None:
    """One text for all sizes, with the numbers in which they differ in brackets; None when other words differ."""
    if len({skeleton(text) for text in texts}) > 1:
        return None
    columns = iter([bracketed(values) for values in zip(*map(numbers, texts), strict=True)])
    return _TOKEN.sub(lambda found: next(columns) if _is_number(found[0]) else found[0], texts[0])


def growing(text: str, steps: Sequence[int]) -> str:
    """The words of a round that is repeated, with what each of its numbers grows by: "k54 and 2 fewer each time".

    Within a repeat of the round itself "each time" would be taken for each time that the brackets are worked.
    """
    if not any(steps):
        return text
    items = re.split(r"(?=[,;\]])", text)
    numbered = iter(steps)
    told = []
    depth = 0
    for item in items:
        step = next(numbered) if numbers(item) else 0
        depth += item.count("[") - item.count("]")
        when = "in each such round" if depth else "each time"
        told.append(f"{item} and {abs(step)} {'more' if step > 0 else 'fewer'} {when}" if step else item)
    return "".join(told)


def in_one_unit(sentence: str, unit: str) -> str:
    """A sentence whose lengths are told in both units, with the one asked for alone: brackets are for sizes."""
    return _BOTH_UNITS.sub(lambda found: found["inches" if unit == "in" else "cm"], sentence)
