"""How a toe that begins the sock is cast on, so that its tip is closed. The ways are common practice.

Described step by step in technique articles: the Turkish cast-on at holliyeoh.com and thesprucecrafts.com.
"""

from __future__ import annotations

from collections.abc import Mapping

from ....plan.document import Round
from ....plan.rounds import op, row
from ....request.construction import ToeStart

_WOUND = "Cast on {count} stitches around two needles, {half} on each. "

_HOW: Mapping[ToeStart, str] = {
    "figure-eight": _WOUND + "Hold the two side by side, and wind the yarn around them in a figure of eight, over the "
    "upper one, between them, around the lower one, and between them again, until all loops are on. Knit the loops of "
    "the upper needle, turn, knit those of the lower one through the back loop, and draw the loops tight one by one "
    "from the tail: the tip is closed, and the cast-on done.",
    "Turkish": _WOUND + "Hold the two one above the other, with a slip knot on the lower one. Wind the yarn around "
    "both, up behind them and down in front, {half} times. Knit the loops of the upper needle, turn, drop the slip "
    "knot, and knit those of the other needle: the tip is closed, and the cast-on done.",
    "pinhole": "Cast on {count} stitches in a ring. Lay the tail in a ring, its end below, and hold it where they "
    "cross. For each stitch draw a loop of the yarn up through the ring, and the yarn once more through that loop, "
    "which stays on the needle. Share the stitches between two needles, {half} on each; after a few rounds draw the "
    "ring shut by the tail.",
}
"""By the name of the way, with room for all stitches and for half of them."""


def toe_cast_on(count: int, way: ToeStart, then: str = "") -> Round:
    """The first round of a sock from the toe up, of so many stitches; `then` is said after how it is cast on."""
    note = " ".join(filter(None, (_HOW[way].format(count=count, half=count // 2), then)))
    return row(("toe", op("co", count)), before=0, kind="setup", note=note)
