"""The stitches to draw a chart with, as the script of a page needs them."""

from __future__ import annotations

from typing import Any

from ..planning.pattern.rounds_text import op_words
from ..planning.plan.document import Op
from ..planning.stitches.operations import CABLES, MIRRORED, OPERATIONS
from .stitch_symbols import SYMBOLS, meaning_of, shapes_of


def stitches_to_draw_with() -> list[dict[str, Any]]:
    """Every stitch that a pattern can have, usual ones first: its symbol, its stitches and its words.

    `words` are those of one and of 97, so that another number can be put in its place.
    """
    return [
        {
            "name": name,
            "means": meaning_of(name),
            "mirrored": MIRRORED.get(name, name),
            "takes": OPERATIONS[name].takes,
            "makes": OPERATIONS[name].makes,
            "words": [op_words(Op(op=name, n=times)) for times in (1, 97)],
            "shapes": shapes_of(name),
        }
        for name in (*SYMBOLS, *CABLES)
    ]
