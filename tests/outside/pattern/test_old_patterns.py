"""Patterns of books in the public domain: their rounds, in today's abbreviations, have the stitches that they state.

"Make 1" and "bring the silk forward" are a yarn over, "narrow" and "decrease" two knitted together, "knit slantways" is
knitted through the back loop, "two together, taken at the back" is read as an ssk, which leans the same way. Rows that
are purled from the wrong side are knitted in rounds.
"""

from __future__ import annotations

import pytest

from companion.planning.stitches.operations import made, taken
from companion.planning.stitches.reading import read_row
from companion.planning.stitches.repeat import rounds_of

REPEATS = {
    # Miss Lambert, My Knitting Book (1843), as given by knitheaven.com/vintagepatterns/mkb_bags.htm: "cast on
    # eight stitches for each pattern"
    "diagonal check bag": (
        (
            "Round 1: p1, yo, sl1, k1, psso, k4, p1",
            "Rounds 2, 4, 6 and 8: p1, k6, p1",
            "Round 3: p1, k1, yo, sl1, k1, psso, k3, p1",
            "Round 5: p1, k2, yo, sl1, k1, psso, k2, p1",
            "Round 7: p1, k3, yo, sl1, k1, psso, k1, p1",
        ),
        8,
        8,
    ),
    # The same: "cast on thirteen stitches for each pattern"; its first and third rounds, of six
    "lozenge bag": (("p2, k4, yo, sl1, k2tog, psso, yo, k4", "p2, k1, k2tog, yo, k5, yo, ssk, k1"), 13, 2),
    # The same: "cast on thirteen stitches for each pattern"; its first two rounds
    "hem-stitch bag": (
        (
            "k2, yo, k2tog, k1, yo, k2tog, p1, yo, sl1, k1, psso, p3",
            "k2tog, yo, k1, k2tog, yo, k2, p2, yo, sl1, k1, psso, p2",
        ),
        13,
        2,
    ),
    # Miss Lambert, My Knitting Book (1843), “Cable Knitting”, as copies of Project Gutenberg's text have it:
    # "any number of stitches that can be divided by six", crossed in every eighth row with three held in front
    "cable": (("Rounds 1-7: knit", "Round 8: C6F"), 6, 8),
    # Miss Lambert, My Knitting Book (1843), “A pretty open stitch for a purse”, as copies of Project
    # Gutenberg's text have it: "twenty stitches on each of three needles", two rounds over and
    # over, so that 2 are a repeat
    "open stitch": (("k", "yo, k2tog"), 2, 2),
    # Miss Watts, The Ladies' Knitting and Netting Book (1837), “Feather Gloves”, as given by knigalit.ru: "repeat
    # these 19 stitches", and three plain rounds: "repeat these 4 rounds"
    "feather": (("Round 1: (yo, k1) 3 times, k2tog x 3, k1, k2tog x 3, (k1, yo) x 3", "Rounds 2-4: knit"), 19, 4),
    # Weldon's Practical Needlework 1, “Knitted lace”, quoted at pieceworkmagazine.com/weldons-mystery-project:
    # "any number of stitches which can be divided by 13", and every second row purled
    "lace": (("k2tog, k4, yo, k1, yo, k4, k2tog", "knit"), 13, 2),
    # The Ladies' Work-Book (Project Gutenberg 16605), “Infant's shoe in knitting”: 30 stitches on one needle and
    # 20 on each of two others; "repeat these 18 rounds": 5 go into 20 and 30
    "infant's shoe": (
        (
            "Rounds 1-4: sl2, k3",
            "Rounds 5, 6, 11, 12, 17, 18: purl",
            "Rounds 7-10: k3, sl2",
            "Rounds 13-16: k2, sl2, k1",
        ),
        5,
        18,
    ),
    # knitting-and.com, “Vintage pineapple”, in the public domain (Handycrafts Magazine, 1962), its right side
    # rows: "any number of stitches divisible by 12", and three more
    "pineapple": (
        (
            "*k4, yo, k1, yo, k4, k3tog, repeat from *",
            "*k2, k3tog, k2, yo, k5, yo, repeat from *",
            "*yo, k9, yo, k3tog, repeat from *",
            "*yo, k3, k3tog, k3, yo, k3, repeat from *",
            "*yo, k1, k3tog, k1, yo, k7, repeat from *",
        ),
        12,
        5,
    ),
    # Beeton's Book of Needlework (Project Gutenberg 15147), 327, a border: "must be able to be divided by 31"; of its
    # first row what comes after the stitch that is made, which widens the border
    "bedquilt border": (("k1tbl, (p5, k1tbl) 5 times", "knit"), 31, 2),
}


@pytest.mark.parametrize("name", REPEATS)
def test_an_old_pattern_has_the_stitches_and_rounds_that_its_book_states(name: str) -> None:
    rows, stitches, high = REPEATS[name]
    rounds = rounds_of(rows)
    assert {taken(names) for names in rounds} == {stitches}
    assert len(rounds) == high


def test_rows_that_widen_and_narrow_again_come_from_nine_and_go_back_there() -> None:
    """Beeton's Book of Needlework (Project Gutenberg 15147), 297, Peacock's Tail: "nine stitches for each pattern".

    Its fifth row, of the rewriting at iheartcrochet.blogspot.com/2010/04, narrows once more.
    """
    rows = [
        read_row(row).names
        for row in (
            "k2, (yo, k1) x 5, yo, k2",
            "p2, k11, p2",
            "k2tog, k11, k2tog",
            "p2tog, p9, p2tog",
            "skp, k7, k2tog",
        )
    ]
    assert [(taken(row), made(row)) for row in rows] == [(9, 15), (15, 15), (15, 13), (13, 11), (11, 9)]


def test_a_slip_of_the_printer_is_found_by_its_sum() -> None:
    """The lozenge bag's fourth round, as the book prints it, loses one of its thirteen stitches."""
    with pytest.raises(ValueError, match="round 1 takes 13 stitches and makes 12, 1 fewer"):
        rounds_of(("p2, k2tog, yo, k3, yo, k2tog, k2, ssk",))
