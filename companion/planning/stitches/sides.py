"""Rows from the wrong side of a flat piece, as its right side shows them.

Two stitches that look alike from there are the same in the yarn trade's symbols: "K2tog on RS, p2tog on WS"
(craftyarncouncil.com/standards/knit-chart-symbols). A yarn over is one from either side, and a lifted strand keeps its
twist.
"""

from __future__ import annotations

from .fabric import PURLED
from .operations import CABLES, OPERATIONS, Names, OpName

_ALIKE: tuple[tuple[OpName, OpName], ...] = (
    ("k", "p"),
    ("ktbl", "ptbl"),
    ("sl", "slwyif"),
    ("k2tog", "p2tog"),
    ("ssk", "ssp"),
    ("k3tog", "p3tog"),
    ("sssk", "sssp"),
    ("m1l", "m1p"),
    ("kfb", "pfb"),
    ("yo", "yo"),
)

FROM_BEHIND: dict[OpName, OpName] = {
    **dict(_ALIKE),
    **{other: name for name, other in _ALIKE},
    "skp": "ssp",
    "sk2p": "sssp",
    "m1r": "m1p",
}
"""What each stitch that is worked from one side is from the other; cables and a centred decrease are none."""


def from_behind(names: Names) -> Names:
    """The same stitches as they are met and worked from the other side. Raises KeyError where one is none there."""
    return tuple(FROM_BEHIND[name] for name in reversed(names))


def appearing(names: Names) -> Names:
    """What each stitch that is made looks like from the right side, knitted or purled."""
    looks: list[OpName] = []
    for name in names:
        if name in CABLES:
            cable = CABLES[name]
            front: list[OpName] = ["k"] * cable.front
            behind: list[OpName] = ["p" if cable.purled else "k"] * cable.behind
            looks += front + behind if cable.leans_right else behind + front
        else:
            looks += ["p" if name in PURLED else "k"] * OPERATIONS[name].makes
    return tuple(looks)
