"""Stitch patterns that are ready to choose, each a small repeat, in the words that knitters type.

They are common property of the trade, described in every stitch dictionary; the words are ours.
"""

from __future__ import annotations

from typing import NamedTuple


class ReadyPattern(NamedTuple):
    """A pattern by its rows, and what it is like in a few words."""

    rows: tuple[str, ...]
    like: str


READY: dict[str, ReadyPattern] = {
    "k2 p2 rib": ReadyPattern(("k2, p2",), "hugs every leg"),
    "k3 p1 rib": ReadyPattern(("k3, p1",), "wide ribs, nearly smooth"),
    "twisted rib": ReadyPattern(("k1tbl, p1",), "crisp, slow and firm"),
    "broken rib": ReadyPattern(("k1, p1", "knit"), "dots in columns, lies flat"),
    "garter rib": ReadyPattern(("k2, p2", "knit"), "bumps between smooth columns"),
    "seed stitch": ReadyPattern(("k1, p1", "p1, k1"), "dots all over, firm"),
    "basketweave": ReadyPattern(("Rounds 1-4: k3, p3", "Rounds 5-8: p3, k3"), "small woven blocks"),
    "lace rib": ReadyPattern(("Round 1: k1, yo, s2kpo, yo, k1, p1", "Rounds 2-4: k5, p1"), "airy, it gives"),
    "cable rib": ReadyPattern(("Round 1: 2/2 RC, p2", "Rounds 2-6: k4, p2"), "warm, it draws in"),
}
"""By their names."""
