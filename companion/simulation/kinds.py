"""The kinds of knitters that are simulated: how their gauge behaves, when they check, and what they do wrong.

A model of people (ours), which knows nothing of how this program estimates a gauge.
"""

from __future__ import annotations

from dataclasses import dataclass

OFF = 0.12
"""The part by which a gauge may be off from what was planned, stitches and rounds each by itself."""

DRIFT = 0.04
"""The part by which a gauge may move in even steps from the first round to the last."""

STEP = (0.03, 0.06)
"""The parts between which a gauge jumps where needle or hands change."""

WANDERS = 0.008
"""How far a gauge strays from day to day: one deviation, as a part of it."""


@dataclass(frozen=True)
class Wanted:
    """How many of 100 socks should fit, and where fewer do, why, and what it would cost."""

    fit: int
    why_not: str


@dataclass(frozen=True)
class Kind:
    """One kind of knitter.

    `off`, `drift`, `step` and `wanders` are parts of the gauge: the most it is off at the first round, the most it
    drifts, the least and the most that it jumps, and the deviation of its straying. She checks where the program asks
    for it, or at so many places of her own as `own_places` allows. At each she counts `spots` spots.
    """

    title: str
    off: float = OFF
    drift: float = 0.0
    step: tuple[float, float] | None = None
    wanders: float = 0.0
    own_places: tuple[int, int] | None = None
    spots: int = 3
    mistakes: bool = False
    ruler_tried: bool = False
    wanted: Wanted | None = None


COUNTING = "three spots tell a gauge to 1 %; one more of stitches and of rounds is about 70 counted"
FEW_SPOTS = (
    "one spot over 5 cm tells the stitches to 2 %, and once the foot is begun a count can only be changed where it is; "
    "three more spots are 100 to 200 stitches and rounds counted, and to rip the foot back is what stands in the table"
)
TAPE = (
    "a tape is tried along a sheet of paper when more places are asked for, and a first count that looks as planned "
    "asks for none; to try it before the first count counts and rips nothing"
)
UNSEEN = (
    "what changes after the last check is not seen, a count over 10 cm reaches back behind a change for 45 rounds, and "
    "what is knitted by then stays; one check more, of three spots, is about 200 stitches and rounds counted"
)

KINDS = {
    "steady": Kind("as planned", off=0.0),
    "wandering": Kind("as planned, wandering", off=0.0, wanders=WANDERS),
    "mistaken": Kind("as planned, mistakes", off=0.0, mistakes=True),
    "off": Kind("off by up to 12 %", wanted=Wanted(93, COUNTING)),
    "any time": Kind(
        "off, 1 to 3 checks at any time, one spot", own_places=(1, 3), spots=1, wanted=Wanted(75, FEW_SPOTS)
    ),
    "once": Kind("off, one check at any time, one spot", own_places=(1, 1), spots=1),
    "off, mistaken": Kind("off, mistakes", mistakes=True, wanted=Wanted(80, TAPE)),
    "off, ruler tried": Kind("off, mistakes, ruler tried", mistakes=True, ruler_tried=True),
    "drifting": Kind("off by up to 6 %, drifting", off=OFF / 2, drift=DRIFT, wanted=Wanted(83, UNSEEN)),
    "changed": Kind("needle or hands changed untold", off=OFF / 4, step=STEP, wanted=Wanted(75, UNSEEN)),
}
"""The kinds by name. Where the gauge is as planned, every change that is advised is a false alarm."""
