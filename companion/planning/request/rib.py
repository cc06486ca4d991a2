"""Ribbing: a short repeat of knit and purl stitches, as it is written in a pattern ("k2 p2", "k1tbl p1")."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Literal, TypeAlias

WIDEST_REPEAT = 12
"""A wider repeat draws in too little to hold a cuff (ours)."""

_RIBBING = re.compile(r"(?:[kp]0*[1-9]\d?(?:tbl)?|[\s,])*")
_PART = re.compile(r"([kp])(\d+)(tbl)?")


RibOp: TypeAlias = Literal["k", "p", "ktbl", "ptbl"]

_NAMES: dict[str, RibOp] = {"k": "k", "p": "p", "ktbl": "ktbl", "ptbl": "ptbl"}


@lru_cache(maxsize=64)  # asked for again by whatever looks for a count that suits it
def parse_rib(text: str) -> tuple[tuple[RibOp, int], ...]:
    """The repeat as (operation, how many) pairs: "k1tbl p1", or "k1tbl, p1" or "k1tblp1", is (("ktbl", 1), ("p", 1)).

    Raises ValueError with a sentence for the knitter when it is not a ribbing.
    """
    plain = text.lower()
    if not _RIBBING.fullmatch(plain):
        raise ValueError("write ribbing as knit and purl stitches with their number, like k2 p2")
    parts = [(_NAMES[stitch + through], int(number)) for stitch, number, through in _PART.findall(plain)]
    if {op[0] for op, _ in parts} != {"k", "p"}:
        raise ValueError("ribbing needs both knit and purl stitches, like k2 p2")
    if sum(n for _, n in parts) > WIDEST_REPEAT:
        raise ValueError(f"a ribbing repeat has at most {WIDEST_REPEAT} stitches")
    return tuple(parts)


def rib_width(text: str) -> int:
    """Stitches in one repeat of the ribbing."""
    return sum(n for _, n in parse_rib(text))
