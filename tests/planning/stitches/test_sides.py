"""Rows from the wrong side become the rounds that the right side shows, and only where a row says that some are."""

from __future__ import annotations

import pytest

from companion.planning.stitches.order import in_order
from companion.planning.stitches.repeat import rounds_of

SEEN = {
    "purl": "k",
    "k1, p3": "k k k p",
    "p1, yo, p2tog, k2": "p p k2tog yo k",
    "k1tbl, p1 tbl": "ktbl ptbl",
    "p2tog, p2tog tbl, ssp, k1": "p ssk ssk k2tog",
    "p3tog, sssp, yo twice": "yo yo sssk k3tog",
    "k2tog, ssk, k3tog, sssk, skp, sk2p": "sssp ssp sssp p3tog ssp p2tog",
    "sl1, p1": "k sl",
    "sl1 wyif, p1": "k sl",
    "sl1 wyib, p1": "k slwyif",
    "m1p, p2tog": "k2tog m1l",
    "kfb, pfb": "kfb pfb",
    "*k1, p2; repeat from *": "k k p",
}


@pytest.mark.parametrize("row", SEEN)
def test_a_row_from_the_wrong_side_is_read_from_its_other_end_as_the_right_side_shows_it(row: str) -> None:
    rows = ("Row 1 (RS): knit", f"Row 2 (WS): {row}")
    assert in_order(rows).rows[1].names == tuple(SEEN[row].split())


FLAT = "k p"
IN_ROUNDS = "k k"


@pytest.mark.parametrize(
    ("rows", "read"),
    [
        (("Row 1: knit", "Row 2 (WS): k"), FLAT),
        (("Row 1 (RS): knit", "Row 2: k"), FLAT),
        (("1st row (RS): knit", "2nd row: k"), FLAT),
        (("Row 1: (right side) knit", "Row 2: k"), FLAT),
        (("RS: k", "WS: k"), FLAT),
        (("RS rows: k", "all wrong side rows: knit"), FLAT),
        (("WS rows: k", "Row 1: knit"), FLAT),
        (("Worked flat.", "Row 1: k", "Row 2: k"), FLAT),
        (("worked in rows", "k", "k"), FLAT),
        (("Row 1 (WS): k", "Row 2: k"), "p k"),
        (("Worked flat", "Rows 1, 3: purl", "Row 2: k", "Row 4: ktbl"), "k k k ktbl"),
        (("Worked flat", "Row 1: purl", "Row 2: k"), "p p"),
        (("Worked flat", "All even rows: p", "Row 1: ktbl", "Row 3: k"), "ktbl k k k"),
        (("Row 1 and all WS rows  k", "Row 2: k"), "p k"),
        (("All rows (RS): k",), IN_ROUNDS),
        (("flat", "All rows: k"), FLAT),
        (("Row 1 (RS): k", "Row 2 (RS): k"), IN_ROUNDS),
        (("Round 1 (RS): k", "Round 2: k"), IN_ROUNDS),
        (("Row 1: k", "Row 2: k"), IN_ROUNDS),
        (("k", "k"), IN_ROUNDS),
        (("Row 1 (RS): k",), "k"),
        (("Row 1 (RS): k", "Row 3: ktbl", "WS rows: p"), "k k ktbl k"),
        (("Row 2 (RS): k", "Row 4: ktbl", "WS rows: p"), "k k k ktbl"),
        (("RS: k", "WS: p", "RS: ktbl"), "k k ktbl k"),
        (("WS rows: p", "RS: k", "RS: ktbl"), "k k k ktbl"),
        (("RS: k", "WS: p", "RS: ktbl", "WS: ptbl"), "k k ktbl ktbl"),
        (("Row 1 (RS): k", "Rows 2-4: as row 1"), "k p k p"),
        (("Row 2 and every foll alt row (WS): p", "Row 1: k", "Row 3: p"), "k k p k"),
    ],
)
def test_rows_take_turns_from_both_sides_where_one_says_so_and_are_rounds_elsewhere(
    rows: tuple[str, ...], read: str
) -> None:
    assert rounds_of(rows) == tuple((name,) for name in read.split())


@pytest.mark.parametrize(
    "row",
    [
        "WS rows: work each stitch as it appears",
        "Row 2 and all even-numbered rows (wrong side): work sts as they appear (k the k sts and p the p sts).",
        "Rows 2 and 4 (WS): knit the knits and purl the purls",
        "Row 2 (WS) and all WS rows: knit all the knit sts, purl all the purl sts",
    ],
)
def test_a_row_may_be_worked_as_it_appears(row: str) -> None:
    rounds = rounds_of(("Row 1 (RS): 2/1 RPC, p2tog, yo, 1/1 LPC", "Row 3: ktbl, pfb, k2tog, k1, p1, k1", row))
    assert rounds[1] == ("k", "k", "p", "p", "k", "p", "k")
    assert rounds[3] == ("k", "p", "p", "k", "k", "p", "k")


def test_a_row_that_appears_goes_by_the_last_one_where_it_is_the_first() -> None:
    assert rounds_of(("Row 1 (WS): work sts as they appear", "Row 2: k1, p2")) == (("k", "p", "p"),) * 2
    assert rounds_of(("Rows 1-3: knit the knits", "Row 4 (WS): k1, p2")) == (("k", "k", "p"),) * 4
    assert rounds_of(("Round 1: k1, p2", "Round 2: knit the knits, purl the purls")) == (("k", "p", "p"),) * 2
    with pytest.raises(ValueError, match="no row says what is worked"):
        rounds_of(("Rows 1, 2: as they appear",))


def test_rows_that_cross_are_from_the_right_side_where_none_says_so() -> None:
    rows = ("Row 1: k1, *p4; rep from *, k1", "Row 2: k1, *2/2 RC; rep from *, k1")
    assert rounds_of(rows) == (("k",) * 4, ("2/2 RC",))


def test_the_rows_from_the_wrong_side_are_told() -> None:
    assert in_order(("Row 1 (RS): k", "Row 3: p", "WS rows: k")).wrong_sides == (2, 4)
    assert in_order(("Row 1: k", "Row 2: p")).wrong_sides == ()


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        (("Row 1: k4", "Row 2 (WS): 2/2 RC"), "row 2, at “2/2 RC” a stitch is expected that the wrong side can work"),
        (("Row 1: k3", "Row 2 (WS): yo, s2kpo, yo"), "row 2, at “s2kpo, yo” a stitch is expected that the wrong side"),
        (("Row 1 (RS): k", "Row 2 (RS): k", "Row 4 (WS): p", "Row 3: k"), "of two rows one is from the right side and"),
        (("Row 1 (WS): k", "Row 2 (WS): k"), "of two rows one is from the right side and one from the wrong"),
        (("Row 1 (RS): k", "Row 2: k", "Row 3: k"), "3 rows that are worked flat begin again on the other side"),
        (("Row 1 (RS): k", "Row 3: k"), "round 2 is missing"),
        (("k", "Row 2 (WS): k"), "row 1 does not say which round it is"),
        (("Worked flat",), "stitches are expected"),
    ],
)
def test_rows_that_cannot_be_from_the_side_they_say_are_refused(rows: tuple[str, ...], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        rounds_of(rows)
