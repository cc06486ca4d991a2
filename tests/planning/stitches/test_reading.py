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
from companion.planning.stitches.labels import Label
from companion.planning.stitches.operations import Names, OpName
from companion.planning.stitches.reading import read_row
from companion.planning.stitches.words import ReadingError

TURNED = ("wrap", "kw", "pw", "twin", "ktw", "ptw")
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
    "p3tog, p 3 together, sssp, p3tog tbl": "p3tog p3tog sssp sssp",
    "[k1, p1]x3": "k p k p k p",
    "[k1, p1] x3, yo2": "k p k p k p yo yo",
    "(k1, p1) three times": "k p k p k p",
    "knit two, purl 1 st": "k k p",
    "k 2 tog, Y/O, k2 tog tbl": "k2tog yo ssk",
    "k3tog tbl, p2togtbl, kf&b": "sssk ssp kfb",
    "knit 2 together, purl three together through the back loop": "k2tog sssp",
    "k2, (k1, p1) into the double yo, k1": "k k k p k",
    "k1-tbl, p1 through the back loop": "ktbl ptbl",
    "slip 1 knitwise, knit 1, pass the slipped stitch over": "skp",
    "sl1 kwise-k2tog-psso": "sk2p",
    "Sl 2 tog as if to knit, k1, pass 2 slipped sts over": "s2kpo",
    "s1, k1, psso": "skp",
    "sl1p, sl1 purlwise, sl1 pwise with yarn in front": "sl sl slwyif",
    "sl1p1": "sl p",
    "wyif sl 1, wyib sl2, k1": "slwyif sl sl k",
    "k2 - p1": "k k p",
    "sl-1, k-2": "sl k k",
    "Knit around.": "k",
    "knit all stitches": "k",
    "purl every st": "p",
    "k to end of round": "k",
    "*k2, p2; rep from * to end of rnd.": "k k p p",
    "*k2, p2*; repeat from * to *": "k k p p",
    "**k2, p2; repeat from ** around": "k k p p",
    "*k2, p2; repeat from *...": "k k p p",
    "[k2, p2] to end": "k k p p",
    "k2, p2 around": "k k p p",
    "*yo, k2tog to end": "yo k2tog",
    "(k2, p2) rep around": "k k p p",
    "k2, p2 (64 sts)": "k k p p",
    "k2, p2. [4 stitches]": "k k p p",
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
    typed = read_row(row)
    assert (typed.label, " ".join(typed.names), typed.has_edges) == (Label(), WRITTEN[row], False)


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
        ("Row 1 (RS)", [1]),
        ("Round 1 -", [1]),
        ("Rounds 2 and 4 —", [2, 4]),
        ("Rnds. 1 & 3:", [1, 3]),
        ("Rnd 1", [1]),
        ("Rd 12:", [12]),
        ("R1:", [1]),
        ("1:", [1]),
        ("2)", [2]),
        ("1st round:", [1]),
        ("2nd, 4th and 6th rows:", [2, 4, 6]),
        ("Rounds 3 through 5:", [3, 4, 5]),
        ("Even-Numbered Rounds 4 through 8:", [4, 6, 8]),
        ("Odd rounds 1-5:", [1, 3, 5]),
        ("Every round:", [1]),
        ("All rows:", [1, 2]),
    ],
)
def test_a_row_may_say_which_rounds_it_is_for(label: str, rounds: list[int]) -> None:
    typed = read_row(f"{label} k1, p1")
    assert (typed.label.rounds, typed.label.every_other, typed.names) == (tuple(rounds), 0, ("k", "p"))


@pytest.mark.parametrize(
    ("label", "read"),
    [
        ("Even rounds:", Label((), 2)),
        ("All even-numbered rnds:", Label((), 2)),
        ("Every odd round:", Label((), 1)),
        ("Round 2 and all even rounds:", Label((2,), 2)),
        ("Round 2 and all following even rounds:", Label((2,), 2)),
        ("Round 1 and every alternate round:", Label((1,), 1)),
        ("Round 3 and every other round:", Label((3,), 3)),
        ("Row 2 (WS):", Label((2,), 0, "WS")),
        ("Row 2: (wrong side)", Label((2,), 0, "WS")),
        ("Row 1 (Right side) -", Label((1,), 0, "RS")),
        ("Row 2, WS:", Label((2,), 0, "WS")),
        ("1st row (RS)", Label((1,), 0, "RS")),
        ("Rows 2 and 4 (WS):", Label((2, 4), 0, "WS")),
        ("Row 1 and all WS rows", Label((1,), 1, "WS")),
        ("Row 2 (and all other wrong-side rows):", Label((2,), 2, "WS")),
        ("2nd and every foll alt row (WS):", Label((2,), 2, "WS")),
        ("All even rows (WS):", Label((), 2, "WS")),
        ("Row 2 (WS) and all WS rows:", Label((2,), 2, "WS")),
        ("Row 2 (wrong side facing) and every alternate row:", Label((2,), 2, "WS")),
        ("WS rows:", Label((), 0, "WS")),
        ("All wrong side rows:", Label((), 0, "WS")),
        ("(WS)", Label((), 0, "WS")),
        ("RS:", Label((), 0, "RS")),
    ],
)
def test_a_row_may_be_for_every_other_round_and_say_its_side(label: str, read: Label) -> None:
    typed = read_row(f"{label} knit")
    assert (typed.label[:3], typed.names) == (read[:3], ("k",))


@pytest.mark.parametrize(
    "words", ["as round 1", "work as round 1.", "same as rnd 1", "repeat round 1", "Rep Row 1", "as 1st row"]
)
def test_a_row_may_be_worked_as_an_earlier_one(words: str) -> None:
    typed = read_row(f"Round 3: {words}")
    assert (typed.label.rounds, typed.names, typed.like) == ((3,), (), (1,))


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("k2, px2", "at “px2” a stitch is expected, like k2, p1"),
        ("k2, q2, p2", "at “q2, p2” a stitch is expected"),
        ("[k1, p1", "at its end “]” is expected"),
        ("k1, p1]", "at “]” a stitch is expected"),
        ("", "at its end stitches are expected"),
        ("[] x 3", "stitches are expected in the brackets"),
        ("k0, p1", "at “0, p1” a number from 1 to 60 is expected"),
        ("p2, k61", "at “61” a number from 1 to 60 is expected"),
        ("k1, [p1] x 0", "at “0” a number from 1 to 120 is expected"),
        ("[[[k60] x 60] x 60] x 60", "at “[k60] x 60] x 60] x” a repeat of 60 stitches at most is expected"),
        ("k60, k60, p1", "at “p1” a repeat of 60 stitches at most is expected"),
        ("k1, [p1] 3", "at its end “times” is expected"),
        ("1 k2", "at “1 k2” a stitch is expected, or a colon after the number of a round"),
        ("2yo, k2tog", "at “2yo, k2tog” a stitch is expected"),
        ("(" * 999, "brackets in brackets are expected 8 deep at most"),
        ("Rounds 4-2: k1", "at “2: k1” the number of a round after 4 is expected"),
        ("Round 121: k1", "at “121: k1” the number of a round from 1 to 120 is expected"),
        ("Every other round: knit", "at “other round: knit” the number of a round from 1 to 120 is expected"),
        ("Round 2 (WS): purl", "at “Round 2 (WS): purl” a right side is expected, for a round has no other"),
        ("Worked in the round", "at “Worked in the round” “worked flat” is expected, on a line of its own"),
        ("Rnd 1: k2. Rnd 2: p2.", "at “Rnd 2: p2.” a new line is expected for each round"),
        ("*k2, p2; rep from *. Rnd 2: knit", "at “Rnd 2: knit” a new line is expected for each round"),
        ("Repeat rounds 1-4 for pattern", "rounds begin again by themselves, so leave this row out"),
        ("Round 3: as round 1 but purl", "at “but purl” the end of the row is expected"),
        ("Round 2: as before", "at “before” “round” and its number are expected"),
        ("*k2, p2; rep from * to last 3 sts, k2", "at “k2” the 3 stitches that the repeats leave are expected"),
        ("*k2, p2; rep from * to last 2 sts", "at its end the 2 stitches that the repeats leave are expected"),
        ("k2, p2 to last 2 sts, k2", "at “to last 2 sts, k2” a star is expected before what is repeated"),
        ("*k2, p to last 2 sts, k2", "at “to last 2 sts, k2” the number of stitches is expected, like k6"),
        ("*k2, p2*, *k1, p1*, k2", "at “*, k2” one repeat in a row is expected"),
        (
            "k1, *sl1 kwise, p1; rep from *, k1",
            "at “kwise, p1; rep from” a slipped stitch is expected to be slipped pu",
        ),
        ("*k2, p2; rep from * 3 more times, k2", "at “3 more times, k2” the end is expected: type what is repeated a"),
        ("p2, k to end", "at “to end” the number of stitches is expected, like k6"),
        ("*p2, k to end", "at “to end” the number of stitches is expected, like k6"),
        ("sl1 kwise, p1", "at “kwise, p1” a slipped stitch is expected to be slipped purlwise"),
        ("sl1k, p1", "at “k, p1” a slipped stitch is expected to be slipped purlwise"),
        (
            "k2, (k1, yo, k1) in next st",
            "at “in next st” the next stitch is expected: several",
        ),
        ("k2, MB, k2", "at “MB, k2” a stitch is expected: bobbles are not read, so type k1 in their place"),
        ("k2, bobble", "at “bobble” a stitch is expected: bobbles are not read"),
        ("k2, k1, psso", "at “psso” “sl1, k1, psso”, “sl1, k2tog, psso” or “sl2, k1, p2sso” is expected"),
        *(
            (cable, f"at “{cable}” a cable of 1/1, 2/1, 2/2, 3/1, 3/3 stitches is expected, like 2/2 RC or C4F")
            for cable in ("5/4 RC", "2/1/2 RPC", "C8B", "Cr3L", "2/2 RKC")
        ),
    ],
)
def test_what_cannot_be_read_is_shown_where_it_stands_with_what_was_expected(row: str, said: str) -> None:
    with pytest.raises(ReadingError) as refused:
        read_row(row)
    assert said in str(refused.value)


@pytest.mark.parametrize(
    ("row", "before", "names", "after"),
    [
        ("k1, *yo, k2tog; repeat from * to last st, k1", "k", "yo k2tog", "k"),
        ("K1, * yo, k2tog *, k1", "k", "yo k2tog", "k"),
        ("*k2, p2; rep from *, end k2", "", "k k p p", "k k"),
        ("*k2, p2; rep from * to last 2 sts, k2.", "", "k k p p", "k k"),
        ("*k2, p2* across, ending k1", "", "k k p p", "k"),
        ("*k2, p2; repeat from * across, ending with k1, p1", "", "k k p p", "k p"),
        ("k2, *p1, k1; repeat from *", "k k", "p k", ""),
        ("k1, [yo, k2tog] to last 2 sts, k2", "k", "yo k2tog", "k k"),
        ("k1, (yo, k2tog) to end", "k", "yo k2tog", ""),
        ("k2, purl to last 2 sts, k2", "k k", "p", "k k"),
        ("knit to last 3 sts; p3", "", "k", "p p p"),
        ("k2, purl until 2 sts remain, k2", "k k", "p", "k k"),
        ("k1, p1, k to 2 sts before end, p1, k1", "k p", "k", "p k"),
        ("1 edge stitch, *p3, k1; repeat from *; end with p3, 1 edge st", "k", "p p p k", "p p p k"),
        ("edge st, *p3, k1*, edge st", "k", "p p p k", "k"),
        ("sl1 kwise, *p1, k1; rep from * to the last stitch, k1", "sl", "p k", "k"),
        ("ssk, *yo, sk2p, yo, k3; rep from * to last 2 sts, yo, k2tog", "ssk", "yo sk2p yo k k k", "yo k2tog"),
    ],
)
def test_stitches_beside_the_repeat_are_told_apart(row: str, before: str, names: str, after: str) -> None:
    typed = read_row(row)
    assert (typed.before, typed.names, typed.after) == tuple(tuple(part.split()) for part in (before, names, after))


def test_a_last_repeat_that_is_worked_in_part_leaves_open_what_is_behind_it() -> None:
    row = "k2, *yo, sk2p, yo, k3; repeat from *, end last repeat k2"
    assert read_row(row).after is None
    with pytest.raises(ReadingError, match="all stitches behind the last whole repeat are expected"):
        read_row(row, wrong_side=True)


@given(st.lists(st.sampled_from(IN_PATTERNS), min_size=1, max_size=40).map(tuple))
def test_the_words_of_a_row_are_read_back_to_the_same_operations(names: Names) -> None:
    assert read_row(names_words(names)).names == names
    assert read_row(names_words(names).upper()).names == names


@given(st.text(alphabet="kpRC2/1 [](),;*:x-tblyosn\u0130\u00df\u00b2\u0663\n", max_size=80))
def test_whatever_is_typed_is_read_or_refused(row: str) -> None:
    with suppress(ReadingError):
        typed = read_row(row)
        assert bool(typed.names) != bool(typed.like)
