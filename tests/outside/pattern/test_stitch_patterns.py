"""Stitch patterns and cables as others describe them: what is read has the stitches that they state."""

from __future__ import annotations

import pytest

from companion.planning.stitches.operations import taken
from companion.planning.stitches.reading import read_row
from companion.planning.stitches.repeat import rounds_of
from tests.written_plan import crossing

# Traditional patterns in their usual words, the even rounds plain; and the stitches of a repeat that a source states.
REPEATS = {
    # vingle.net/posts/403935: "Cast on a multiple of four stitches", knit 2, purl 2
    "two by two ribbing": (("*k2, p2; repeat from *",), 4),
    # dianne-jones.blogspot.com/2013/10, horseshoe lace: "worked in multiples of 10 stitches plus 1"
    "horseshoe lace": (
        (
            "Round 1: *yo, k3, sl1, k2tog, psso, k3, yo, k1*",
            "Rounds 2, 4, 6 and 8: knit",
            "Round 3: *k1, yo, k2, sl1, k2tog, psso, k2, yo, k2*",
            "Round 5: *k2, yo, k1, sl1, k2tog, psso, k1, yo, k3*",
            "Round 7: *k3, yo, sl1, k2tog, psso, yo, k4*",
        ),
        10,
    ),
    # texturedknits.blogspot.com/2013/06, a simple lace: "Multiples of 6 stitches + 1"
    "eyelets and diamonds": (
        (
            "Rounds 1, 3 and 5: *yo, skp, k1, k2tog, yo, k1; repeat from * to end",
            "Rounds 2, 4, 6, 8: knit",
            "Round 7: k1, yo, sk2p, yo, k2",
        ),
        6,
    ),
    # edieeckman.com/tag/techniques, an easy lacy rib: "a multiple of 3 sts + 1"
    "lacy rib": (("Rounds 1, 3: k2, p1", "Round 2: *yo, ssk, p1; rep from *", "Round 4: k2tog, yo, p1"), 3),
}

# The list of abbreviations at static.squarespace.com/static/5052474724ac3b03d533e2e1 (a pattern's own): how many
# stitches go to the cable needle, and what is then worked.
CABLES = {
    "T2B": (1, ["k", "p"]),
    "T2F": (1, ["p", "k"]),
    "T3B": (1, ["k", "k", "p"]),
    "T3F": (2, ["p", "k", "k"]),
    "T4B": (2, ["k", "k", "p", "p"]),
    "T4F": (2, ["p", "p", "k", "k"]),
    "C2B": (1, ["k", "k"]),
    "C2F": (1, ["k", "k"]),
    "C4B": (2, ["k", "k", "k", "k"]),
    "C4F": (2, ["k", "k", "k", "k"]),
    # trantor.is, the abbreviations of a book of patterns, chapter 4
    "C3B": (1, ["k", "k", "k"]),
    "C3F": (2, ["k", "k", "k"]),
}


@pytest.mark.parametrize("name", REPEATS)
def test_a_repeat_has_the_stitches_that_its_source_states(name: str) -> None:
    rows, stitches = REPEATS[name]
    assert {taken(names) for names in rounds_of(rows)} == {stitches}


@pytest.mark.parametrize("name", CABLES)
def test_a_cable_of_older_patterns_is_crossed_as_its_source_says(name: str) -> None:
    [cable] = read_row(name).names
    assert crossing(cable) == CABLES[name]
    back = name.endswith("B")
    assert cable.split()[1].startswith("R" if back else "L")
