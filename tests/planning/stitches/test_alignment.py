"""Rows of flat pieces with edges become rounds whose right side shows what the middle of the flat piece shows."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.planning.stitches.repeat import rounds_of
from tests.knitting.flat_piece import BEHIND, Fabric, lies_in
from tests.written_plan import CABLES, OPS

REPEATS = 6

# Stretches of a row by the stitches that they take and give back; those of the wrong side have no cable.
PIECES: dict[int, tuple[tuple[str, ...], ...]] = {
    1: (("k",), ("p",), ("ktbl",), ("k",)),
    2: (("k2tog", "yo"), ("yo", "ssk"), ("m1l", "p2tog"), ("1/1 RC",)),
    3: (("yo", "k", "ssk"), ("k2tog", "kfb"), ("yo", "k3tog", "yo"), ("2/1 LPC",)),
}


@st.composite
def a_round(draw: st.DrawFn, width: int, *, cabled: bool) -> list[tuple[str, ...]]:
    """A round over so many stitches in stretches that give back what they take."""
    found: list[tuple[str, ...]] = []
    while width:
        wide = draw(st.integers(1, min(3, width)))
        piece = draw(st.sampled_from(PIECES[wide]))
        found.append(piece if cabled or not CABLES.keys() & set(piece) else ("k",) * wide)
        width -= wide
    return found


def words(ops: list[str]) -> str:
    """Operations as they are typed."""
    return ", ".join(f"{op}1" if op in {"k", "p"} else {"ktbl": "k1 tbl", "ptbl": "p1 tbl"}.get(op, op) for op in ops)


@st.composite
def flat_pieces(draw: st.DrawFn) -> tuple[list[str], list[list[str]], list[str], int]:
    """Rows as they are typed, their operations over a piece, their sides, and the stitches of a repeat.

    Each begins its star at another place of a round; an edge stitch on either side is knitted.
    """
    width, high = draw(st.integers(1, 9)), 2 * draw(st.integers(1, 3))
    typed, worked, sides = [], [], []
    for number in range(1, high + 1):
        pieces = draw(a_round(width, cabled=number % 2 == 1))
        at = draw(st.integers(0, len(pieces)))
        before = ["k", *(op for piece in pieces[:at] for op in piece)]
        star = [op for piece in (*pieces[at:], *pieces[:at]) for op in piece]
        after = [*(op for piece in pieces[at:] for op in piece), "k"]
        # The same row with its star anywhere in its repeat, also between a decrease and what makes up for it.
        by = draw(st.integers(0, len(star) - 1))
        before, star, after = [*before, *star[:by]], [*star[by:], *star[:by]], [*star[by:], *after]
        if number % 2 == 0:
            turned = ([BEHIND[op] for op in reversed(ops)] for ops in (after, star, before))
            before, star, after = turned
        left = sum(OPS[op][0] for op in after)
        rest = f"to last {left} st{'s' if left > 1 else ''}, {words(after)}"
        says = " (RS)" if number == 1 else ""
        typed.append(f"Row {number}{says}: {words(before)}, *{words(star)}; repeat from * {rest}")
        worked.append([*before, *star * REPEATS, *after])
        sides.append("WS" if number % 2 == 0 else "RS")
    return typed, worked, sides, width


@given(flat_pieces())
def test_a_round_shows_what_the_middle_of_a_flat_piece_shows(
    piece: tuple[list[str], list[list[str]], list[str], int],
) -> None:
    typed, worked, sides, width = piece
    fabric = Fabric()
    flat = fabric.cast_on(sum(OPS[op][0] for op in worked[0]))
    tube = fabric.cast_on(width * REPEATS)
    rounds = rounds_of(tuple(typed))
    for ops, side, names in zip(worked * 2, sides * 2, rounds * 2, strict=True):
        flat = fabric.row(flat, ops, side)
        tube = fabric.row(tube, names * REPEATS)
    begins = len(flat) // 2 - width
    assert lies_in(flat[begins : begins + 2 * width], tube)


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        (
            ("Row 1: k1, *k2, p2; rep from * to last st, k1", "Row 2: k1, *k2, p2; rep from *"),
            "beside whole repeats row 1 leaves 2 stitches, and row 2 takes 1; check what stands before and behind",
        ),
        (
            ("Row 1: k1, m1l, *k2, p2; rep from * to last 3 sts, k3", "Row 2: p1, p2tog, *k2, p2; rep from *, p2"),
            "after the last row the repeats lie 1 beside those of the first; check what stands before the stars",
        ),
        (
            ("Row 1: *2/2 RC; rep from *", "Row 3: k2, *2/2 LC; rep from * to last 2 sts, k2", "WS rows: purl"),
            "in no place can all rounds begin",
        ),
    ],
)
def test_rows_that_do_not_stand_above_one_another_are_refused_with_what_to_do(rows: tuple[str, ...], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        rounds_of(rows)
