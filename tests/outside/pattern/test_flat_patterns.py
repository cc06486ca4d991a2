"""Patterns that others wrote in rows: read flat they have the stitches that are stated, and look in the round as flat.

Rows stand as in their sources, but for today's abbreviations. Where the last repeat is worked in part, `LAST` has it in
full; the pieces are knitted by a knitter that shares nothing with the program.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest

from companion.planning.stitches.repeat import read_repeat
from tests.knitting.flat_piece import Fabric, lies_in
from tests.reader import read_words
from tests.written_plan import OPS

REPEATS = 5

ROW = re.compile(
    r"[^:]*: (?:(?P<before>[^*]*), )?\*(?P<star>[^;*]*)[;,] rep(?:eat)? from \*"
    r"(?: to (?:end|the last \d+sts|last (?:\d+ ?)?sts?))?(?:[,;] (?:end |ending with )?(?P<after>.*))?"
)

# Rows, the stitches of a repeat and those beside it as they are stated, and what rows of the wrong side leave by two.
PATTERNS: dict[str, tuple[tuple[str, ...], int, int, int]] = {
    # knitting-and.com, “Vintage pineapple”, in the public domain (Handycrafts Magazine, about 1962): "divisible by 12
    # and 3 extra ones"
    "pineapple": (
        (
            "Worked flat",
            "1st: K1, k2tog, *k4, yo, k1, yo, k4, k3tog; rep from * to the last 12sts, k4, yo, k1, yo, k4, k2tog, k1",
            "2nd Row: K1, p2tog, *p3, yo, p3, yo, p3, p3tog; rep from * to last 12sts, p3, yo, p3, yo, p3, p2tog, k1",
            "3rd Row: K1, k2tog, k2, yo, k5, yo, *k2, k3tog, k2, yo, k5, yo; repeat from * to last 5sts, k2, k2tog, k1",
            "4th Row: K1, p2tog, *p1, yo, p7, yo, p1, p3tog; rep from * to last 12sts, p1, yo, p7, yo, p1, p2tog, k1",
            "5th Row: K1, k2tog, *yo, k9, yo, k3tog; repeat from * to last 12sts, yo, k9, yo, k2tog, k1",
            "6th Row: K1, p1, *yo, p4, p3tog, p4, yo, p1; repeat from * to last 13sts, yo, p4, p3tog, p4, yo, p1, k1",
            "7th Row: K3, *yo, k3, k3tog, k3, yo, k3; repeat from * to last 12sts, yo, k3, k3tog, k3, yo, k3",
            "8th Row: K1, p3, *yo, p2, p3tog, p2, yo, p5; repeat from * to last 11sts, yo, p2, p3tog, p2, yo, p3, k1",
            "9th Row: K5, *yo, k1, k3tog, k1, yo, k7; repeat from * to last 10sts, yo, k1, k3tog, k1, yo, k5",
            "10th Row: K1, p5, *yo, p3tog, yo, p9; repeat from * to last 9sts, yo, p3tog, yo, p5, k1",
        ),
        12,
        3,
        0,
    ),
    # texturedknits.blogspot.com/2013/06, beginner's lace: "Multiples of 6 stitches + 1"
    "beginner's lace": (
        (
            "Row 1 and all WS rows      Purl",
            "Rows 2, 4 and 6: K1, *yo, skp, k1, k2tog, yo, k1; repeat from * to end",
            "Row 8: K2, *yo, sk2p, yo, k3; repeat from *, end last repeat k2",
            "Row 10: K1, *k2tog, yo, k1, yo, skp, k1; repeat from * to end",
            "Row 12: K2tog, *yo, k3, yo, sk2p; repeat from *, end last repeat skp",
        ),
        6,
        1,
        1,
    ),
    # turbodizin.com/crochet-knitting/windmill, its first six rows: "a multiple of 12 sts, plus 1"
    "windmill": (
        (
            "Row 1 (RS): P1, *Yo, SSK, K3, P1, K3, K2tog, Yo, P1; rep from * to end",
            "Row 2 (WS): K1, *P1, K4, P1, K4, P1, K1; rep from * to end",
            "Row 3: P1, *K1, Yo, SSK, K2, P1, K2, K2tog, Yo, K1, P1; rep from * to end",
            "Row 4: K1, *P1, K4, P1, K4, P1, K1; rep from * to end",
            "Row 5: P1, *K1, P1, Yo, SSK, K1, P1, K1, K2tog, Yo, P1, K1, P1; rep from * to end",
            "Row 6: K1, *P1, K1, P1, K2, P1, K2, P1, K1, P1, K1; rep from * to end",
        ),
        12,
        1,
        0,
    ),
    # fredamossdesigns.com/waffle-stitch: "a multiple of 3st plus 1"
    "waffle": (
        (
            "Row 1: k to end",
            "Row 2: p to end",
            "Row 3: *k1, p2, repeat from * to last st, k1",
            "Row 4: *p1, k2, repeat from * to last st, p1",
        ),
        3,
        1,
        0,
    ),
    # kniteditor.blogspot.com/2017/04, moss diamonds, its first two rows: "10 + 7 + border", which is 2 on each side
    "moss diamonds": (
        (
            "Row 1 (RS): k2, *[k3, p1] x 2, k1, p1; repeat from * to last 9 sts, k3, p1, k3, k2",
            "Row 2: k2, *[p3, k1] x 2, p1, k1; repeat from * to last 9 sts, p3, k1, p3, k2",
        ),
        10,
        11,
        0,
    ),
    # Common practice: seed stitch over an odd number of stitches, every row alike
    "seed stitch": (("All rows: *k1, p1; rep from *, end k1",), 2, 1, 0),
    # Common practice: mistake rib, over a multiple of four and three
    "mistake rib": (("All rows: *k2, p2; rep from * to last 3 sts, k2, p1",), 4, 3, 0),
}

LAST = {"end last repeat k2": "yo, sk2p, yo, k2", "end last repeat skp": "yo, k3, yo, skp"}


def one_by_one(items: list[dict[str, Any]]) -> Iterator[str]:
    """The operations of words that were read, each working on its own."""
    for item in items:
        if "times" in item:
            yield from [*one_by_one(item["ops"])] * item["times"]
        else:
            yield from [item["op"]] * item.get("n", 1)


def ops_of(text: str) -> list[str]:
    """The operations of words."""
    return [*one_by_one(read_words(text.lower()))] if text else []


def worked(row: str, stitches: int) -> list[str]:
    """The operations of a row over so many stitches."""
    if row.endswith(("Purl", "p to end")):
        return ["p"] * stitches
    if row.endswith("k to end"):
        return ["k"] * stitches
    in_part = next((full for words, full in LAST.items() if row.endswith(words)), "")
    found = ROW.fullmatch(row.replace("end last repeat", "end"))
    assert found, row
    before, star = ops_of(found["before"] or ""), ops_of(found["star"])
    after = ops_of(in_part or found["after"] or "")
    repeats, over = divmod(stitches - sum(OPS[op][0] for op in before + after), sum(OPS[op][0] for op in star))
    assert not over, row
    return [*before, *star * repeats, *after]


def rows_of(typed: tuple[str, ...], high: int) -> list[str]:
    """The row of each number."""
    described = [row for row in typed if row != "Worked flat"]
    found: dict[int, str] = {}
    for row in described:
        numbers = map(int, re.findall(r"\d+", row.partition(":")[0].partition(" and all")[0]))
        found |= dict.fromkeys(numbers, row)
    return [found.get(number, described[0]) for number in range(1, high + 1)]


@pytest.mark.parametrize("name", PATTERNS)
def test_a_pattern_in_rows_has_the_stitches_that_are_stated_and_looks_the_same_in_rounds(name: str) -> None:
    typed, stitches, beside, odd = PATTERNS[name]
    read = read_repeat(typed)
    assert read.turned
    assert read.left_out
    rounds = read.rounds
    assert {sum(OPS[each][0] for each in names) for names in rounds} == {stitches}

    fabric = Fabric()
    flat = fabric.cast_on(REPEATS * stitches + beside)
    tube = fabric.cast_on(REPEATS * stitches)
    for number, (row, names) in enumerate(zip(rows_of(typed, len(rounds)) * 2, rounds * 2, strict=True), start=1):
        flat = fabric.row(flat, worked(row, len(flat)), "WS" if number % 2 == odd else "RS")
        tube = fabric.row(tube, names * REPEATS)
    assert len(flat) == REPEATS * stitches + beside
    begins = len(flat) // 2 - stitches
    assert lies_in(flat[begins : begins + 2 * stitches], tube)
