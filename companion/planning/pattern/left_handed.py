"""A written pattern for those who knit from left to right, as left-handed knitters may.

Worked so, the whole sock is its mirror image: what is done and in which order stays, and only sides that are named
change (common practice). The pages do the same where a phone's knitter works so: `static/js/lib/mirrored.js`.
"""

from __future__ import annotations

import re

SIDES = re.compile(
    r"\b(?:left|right)(?= (?:needle|leg|end|foot)\b)|\b(?:leaning to the|read from the) (?:left|right)\b"
)
"""Sides of needles, stitches, charts and feet; "left" may also be what remains, and "right" the right side."""

TOLD = (
    "For knitting from left to right, left-handed: the whole sock becomes its mirror image. Work each round in the "
    "order that is written."
)

_OTHER = {"left": "right", "right": "left"}


def mirrored(words: str) -> str:
    """Words with the sides in them exchanged."""
    return SIDES.sub(lambda found: re.sub("left|right", lambda side: _OTHER[side[0]], found[0]), words)


def left_handed(pattern: str) -> str:
    """A pattern as text or Markdown for the left-handed: its first line, the title, as it is, then what it is for."""
    title, words = pattern.split("\n", 1)
    return f"{title}\n\n{TOLD}\n{mirrored(words)}"
