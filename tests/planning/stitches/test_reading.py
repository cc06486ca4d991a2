"""Rows of stitch patterns are read as they are typed, and what cannot be read is shown where it stands.

The abbreviations are those of the Craft Yarn Council's standards, and the ways of writing repeats those of common
practice.
"""

from __future__ import annotations

from contextlib import suppress
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.planning.pattern.stitch_pattern_text import names_words
from companion.planning.stitches.operations import Names, OpName
from companion.planning.stitches.reading import ReadingError, read_row

TURNED = ("wrap", "kw", "pw", "twin", "ktw", "ptw", "sssp")
NOT_IN_PATTERNS = {
    "co", "pu", "pup", "bo", "graft", "draw", "turn", "ds", "kds", "pds", *TURNED, "rest", "resume", "join", "sew"
}  # fmt: skip
IN_PATTERNS: list[OpName] = [name for name in get_args(OpName) if name not in NOT_IN_PATTERNS]

WRITTEN = {
    "k2, p2": "k k p p",
    "K2, P2": "k k p p",
    "k2p2": "k k p p",
    "k 2 p 2.": "k k p p",
    "*k2, p2; repeat from *": "k k p p",
    "*K3, p1, rep from * to end.": "k k k p",
    "*k1, p1*": "k p",
    "[k1, p1] x 3": "k p k p k p",
    "(k1, p1) 3 times": "k p k p k p",
    "(k1, p1) twice, yo": "k p k p yo",
    "[k1, [p1, yo] x 2] x 2": "k p yo p yo k p yo p yo",
    "k1tbl, p1": "ktbl p",
    "k1 tbl, p 1 tbl": "ktbl ptbl",
    "knit": "k",
    "purl": "p",
    "knit 3, purl 1": "k k k p",
    "sl1, sl1 wyif, sl1 wyib": "sl slwyif sl",
    "yo twice": "yo yo",
    "k2tog x 2": "k2tog k2tog",
    "yo, S2KP2, yo": "yo s2kpo yo",
    "CDD": "s2kpo",
    "yo, sl1, k2tog, psso, yo": "yo sk2p yo",
    "k2, sl 1, k1, PSSO, sl2, k1, p2sso": "k k skp s2kpo",
    "sk2p, ssk, skp, k3tog, sssk": "sk2p ssk skp k3tog sssk",
    "kfb, pfb, m1l, m1r, m1, m1p": "kfb pfb m1l m1r m1l m1p",
    "ssp, p2tog": "ssp p2tog",
}

CABLED = {
    "2/2 RC, p2": ["2/2 RC", "p", "p"],
    "2/1 rpc, 2/1 LPC": ["2/1 RPC", "2/1 LPC"],
    "k2 2/2 LC": ["k", "k", "2/2 LC"],
    "RT, LT": ["1/1 RC", "1/1 LC"],
    "C4B, C4F, C6B, C6F": ["2/2 RC", "2/2 LC", "3/3 RC", "3/3 LC"],
}


@pytest.mark.parametrize("row", WRITTEN)
def test_a_row_is_read_as_knitters_write_it(row: str) -> None:
    assert read_row(row) == ((), tuple(WRITTEN[row].split()))


@pytest.mark.parametrize("row", CABLED)
def test_cables_are_read_by_the_names_of_the_standard_and_by_those_of_older_patterns(row: str) -> None:
    assert list(read_row(row).names) == CABLED[row]


@pytest.mark.parametrize(
    ("label", "rounds"),
    [
        ("Round 1:", [1]),
        ("Rnd 3.", [3]),
        ("Rounds 2, 4:", [2, 4]),
        ("ROWS 2, 4 and 6-8:", [2, 4, 6, 7, 8]),
        ("Row 1 (RS):", [1]),
    ],
)
def test_a_row_may_say_which_rounds_it_is_for(label: str, rounds: list[int]) -> None:
    assert read_row(f"{label} k1, p1") == (tuple(rounds), ("k", "p"))


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("k2, px2", "at “px2” a stitch is expected, like k2, p1"),
        ("k2, q2, p2", "at “q2, p2” a stitch is expected"),
        ("[k1, p1", "at its end “]” is expected"),
        ("k1, p1]", "at “]” a stitch is expected"),
        ("", "at its end stitches are expected"),
        ("[] x 3", "stitches are expected in the brackets"),
        ("k0, p1", "1 to 60 stitches are expected before this"),
        ("k1, [p1] x 0", "1 to 60 stitches in all are expected before this"),
        ("[[[k60] x 60] x 60] x 60", "1 to 60 stitches in all"),
        ("k1, [p1] 3", "at its end “times” is expected"),
        ("Round 1 k1", "at “k1” a colon is expected"),
        ("Rounds 4-2: k1", "rounds are numbered from 1"),
        ("Row 2 (WS): purl", "at “WS): purl” rounds are expected, all from the right side"),
        ("k2, *p1, k1; repeat from *", "at “*p1, k1; repeat from” no star is read"),
        ("*k1, p1; repeat", "at its end “from *” is expected"),
        ("k2, k1, psso", "at “psso” “sl1, k1”, “sl1, k2tog” or, for p2sso, “sl2, k1” is expected before this"),
        ("5/4 RC", "at “5/4 RC” a stitch is expected"),
    ],
)
def test_what_cannot_be_read_is_shown_where_it_stands_with_what_was_expected(row: str, said: str) -> None:
    with pytest.raises(ReadingError) as refused:
        read_row(row)
    assert said in str(refused.value)


@given(st.lists(st.sampled_from(IN_PATTERNS), min_size=1, max_size=40).map(tuple))
def test_the_words_of_a_row_are_read_back_to_the_same_operations(names: Names) -> None:
    assert read_row(names_words(names)).names == names
    assert read_row(names_words(names).upper()).names == names


@given(st.text(alphabet="kpRC2/1 [](),;*:x-tblyosn\u0130\u00df\n", max_size=80))
def test_whatever_is_typed_is_read_or_refused(row: str) -> None:
    with suppress(ReadingError):
        assert read_row(row).names
