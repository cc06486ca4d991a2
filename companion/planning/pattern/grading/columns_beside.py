"""The columns beside a panel in words that have the same items in every size: "k1 (0, 2), [p2, k2] x 3 (4, 4)".

What a size has none of has the number 0, and is left out where no size has any.
"""

from __future__ import annotations

import re
from collections import deque
from collections.abc import Sequence
from itertools import groupby

from ...plan.document import Op
from ...stitches.operations import Names, OpName
from ...stitches.panel import Panel
from ..rounds_text import op_words

_NONE = re.compile(r"(?:[kp]0(?:tbl)?|\[[^][]*\] x 0)")
_ONCE = re.compile(r"\[([^][]*)\] x 1(?![\d.]| \()")
_BETWEEN_ITEMS = re.compile(r", (?![^(]*\)|[^[]*\])")


def outward(panel: Panel, stitches: int) -> list[str]:
    """So many columns from a panel on: whole repeats, and what is left of one."""
    times, over = divmod(stitches, len(panel.beside))
    return _columns(panel.beside, times, after=panel.beside[:over])


def inward(panel: Panel, stitches: int) -> list[str]:
    """So many columns up to a panel."""
    times, over = divmod(stitches, len(panel.beside))
    return _columns(panel.beside[::-1], times, before=panel.beside[:over][::-1])


def between(panel: Panel, stitches: int, start: int = 0) -> list[str]:
    """The columns from one panel to the next, from the one after so many on; those of both meet in the middle."""
    wide, runs = len(panel.beside), _runs(panel.beside)
    if len(runs) == 1:
        return _columns(panel.beside, stitches - start)
    half = stitches // 2
    begins = -start % wide
    first = (stitches - half) // wide - (start + begins) // wide
    if first < 0:
        begins = first = 0
    last = min(half, stitches - start) // wide
    meet = panel.between(stitches)[start + begins + first * wide : stitches - last * wide]
    before = panel.beside[wide - begins :] if begins else ()
    return [
        *_columns(panel.beside, first, before=before),
        *_filled(meet, [*runs, *runs[-2::-1]]),
        *_columns(panel.beside[::-1], last),
    ]


def without_none(text: str) -> str:
    """The words of a round for all sizes without the items that none of them has; a repeat worked once without its
    brackets."""
    zones = []
    for zone in text.split("; "):
        name, colon, words = zone.rpartition(": ")
        items = [item for item in _BETWEEN_ITEMS.split(words) if not _NONE.fullmatch(item)]
        zones.append(f"{name}{colon}{', '.join(items)}")
    return _ONCE.sub(r"\1", "; ".join(zones))


def _columns(repeat: Names, times: int, *, before: Names | None = None, after: Names | None = None) -> list[str]:
    """A repeat so many times, and the part of one before or after it."""
    pieces = _runs(repeat)
    if len(pieces) == 1:
        return [_item(repeat[0], times)]
    whole = f"[{', '.join(_item(name, len([*run])) for name, run in groupby(repeat))}] x {times}"
    return [
        *([] if before is None else _filled(before, pieces)),
        whole,
        *([] if after is None else _filled(after, pieces)),
    ]


def _runs(names: Names) -> list[OpName]:
    return [name for name, _ in groupby(names)]


def _filled(names: Names, pieces: Sequence[OpName]) -> list[str]:
    """The stitches as items of these operations in their order, with 0 for those passed over."""
    left = deque((name, len([*run])) for name, run in groupby(names))
    items = [_item(piece, left.popleft()[1] if left and left[0][0] == piece else 0) for piece in pieces]
    assert not left, "what lies beside a panel has no more runs than its repeat, there and back"
    return items


def _item(name: OpName, count: int) -> str:
    return op_words(Op(name, count))
