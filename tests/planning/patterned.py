"""Stitch patterns for requests: those ready to choose, and repeats drawn by stitches."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from companion.planning.stitches.ready import READY
from tests.planning.requests import requests
from tests.written_plan import CABLES, OPS

PIECES = {
    1: ("k1", "p1", "k1tbl", "sl1"),
    2: ("k2tog, yo", "yo, ssk", "k1, p1", "1/1 RC", "1/1 LPC", "m1l, p2tog"),
    3: ("yo, s2kpo, yo", "sk2p, yo twice", "yo, p3tog, yo", "sssp, yo twice", "2/1 RPC", "2/1 LC", "k2tog, kfb"),
    4: ("2/2 RC", "2/2 LPC", "[k1, p1] x 2", "3/1 LC"),
    6: ("3/3 RC", "k2tog, yo, k2, yo, ssk"),
}
"""Stretches of a row by the stitches that they take and give back."""


@st.composite
def rows(draw: st.DrawFn, width: int) -> str:
    """A row over so many stitches, one of which is worked."""
    pieces = []
    while width:
        wide = draw(st.sampled_from([each for each in PIECES if each <= width]))
        pieces.append(draw(st.sampled_from(PIECES[wide])))
        width -= wide
    return ", ".join(pieces) if set(pieces) != {"sl1"} else ", ".join([*pieces[1:], "k1"])


@st.composite
def stitch_patterns(draw: st.DrawFn) -> dict[str, Any]:
    """One of the ready patterns, or a repeat of 1 to 14 stitches and 1 to 8 rounds."""
    if draw(st.booleans()):
        return {"name": draw(st.sampled_from(sorted(READY)))}
    width = draw(st.integers(1, 14))
    return {"rows": draw(st.lists(rows(width), min_size=1, max_size=8))}


@st.composite
def patterned_requests(draw: st.DrawFn, *, placed: bool | None = None) -> dict[str, Any]:
    """A plan request with a stitch pattern on its leg, some in stripes, `placed` as a panel or not."""
    data = draw(requests(chart=st.none()))
    pattern = draw(stitch_patterns())
    if draw(st.booleans()):
        plain = data["gauge"]["stitches_per_10cm"]
        high = data["gauge"]["rounds_per_10cm"] or plain * 1.35
        pattern |= {
            "stitches_per_10cm": round(plain * draw(st.integers(80, 125)) / 100, 1),
            "rounds_per_10cm": round(high * draw(st.integers(85, 130)) / 100, 1),
        }
    if draw(st.booleans()) if placed is None else placed:
        pattern["placement"] = {
            "on": draw(st.sampled_from(("front", "front and back"))),
            "repeats": draw(st.integers(1, 3)),
            "beside": draw(st.sampled_from(("plain", "purl", "p2 k2", "k1tbl p1", "p1 k3"))),
        }
    if not draw(st.integers(0, 3)):
        pattern["ends_before_toe_cm"] = draw(st.integers(1, 12))
    stripes = draw(st.lists(st.sampled_from("AB"), min_size=2, max_size=7)) if not draw(st.integers(0, 2)) else []
    chart = {"width": 1, "rows": stripes, "swap": draw(st.booleans())} if stripes else None
    data["leg"] = {**data["leg"], "chart": chart, "stitch_pattern": pattern}
    foot_pattern = draw(st.sampled_from(("plain", "instep follows the leg")))
    sole = data["construction"]["sole"] if foot_pattern == "plain" else "plain"
    return data | {"foot_pattern": foot_pattern, "construction": data["construction"] | {"sole": sole}}


def takes(op: str) -> int:
    """Stitches that a working of an operation takes from the left needle."""
    return CABLES.get(op) or OPS[op][0]


def makes(op: str) -> int:
    """Stitches that it puts on the right one."""
    return CABLES.get(op) or OPS[op][1]
