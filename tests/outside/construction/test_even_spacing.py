"""Even spacing against Bresenham's line as a general library draws it, and against published examples."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise

import pytest
from skimage.draw import line

from companion.planning.pattern.rounds_text import ops_words
from companion.planning.plan.rounds import evenly, makes, takes
from companion.planning.plan.spread import gaps


def drawn(stitches: int, parts: int) -> list[int]:
    """The gaps as scikit-image draws them: whole stitches each, the rest stepping up along a line of its own.

    J. E. Bresenham, IBM Systems Journal 4 (1965).
    """
    each, rest = divmod(stitches, parts)
    heights, _ = line(0, 0, rest, parts)  # type: ignore[no-untyped-call]
    return [each + int(after - before) for before, after in pairwise(heights)]


@pytest.mark.parametrize("parts", range(1, 41))
def test_gaps_are_those_of_bresenhams_line(parts: int) -> None:
    for stitches in range(201):
        assert gaps(stitches, parts) == drawn(stitches, parts)


@pytest.mark.parametrize("parts", range(1, 41))
def test_gaps_differ_by_at_most_one_and_add_up(parts: int) -> None:
    for stitches in range(201):
        found = gaps(stitches, parts)
        assert len(found) == parts
        assert sum(found) == stitches
        assert max(found) - min(found) <= 1


@pytest.mark.parametrize("parts", range(2, 25))
def test_runs_of_gaps_are_alike_wherever_they_begin(parts: int) -> None:
    # What makes a round balance: runs of the same number of gaps, past the round's end too, differ by at most one
    # stitch (a balanced word, as M. Lothaire, Algebraic Combinatorics on Words, 2002, ch. 2, calls it).
    for stitches in range(parts, 6 * parts):
        twice = gaps(stitches, parts) * 2
        for length in range(1, parts):
            runs = [sum(twice[start : start + length]) for start in range(parts)]
            assert max(runs) - min(runs) <= 1


@pytest.mark.parametrize(
    ("stitches", "changes", "published"),
    [
        (100, 16, {6: 12, 7: 4}),  # a craft guide: 16 increases in 100 stitches, every 6 with 4 over
        (140, 36, {3: 4, 4: 32}),  # a craft guide: 36 in 140 rows, every 3rd x 4 and every 4th x 32
        (80, 10, {8: 10}),  # 10rowsaday.com: 80 less 10 is every 7 or 8
    ],
)
def test_published_examples(stitches: int, changes: int, published: dict[int, int]) -> None:
    assert Counter(gaps(stitches, changes)) == published


def test_80_less_10_knits_two_together_at_every_8th_stitch() -> None:
    # 10rowsaday.com: every 7 or 8.
    assert ops_words(evenly(80, 70)) == "[k6, k2tog] x 10"


def test_worked_flat_an_edge_more_is_needed_than_in_the_round() -> None:
    # dummies.com: 40 + 4 worked flat is five sections of 8, since no increase lies at either edge. A sock has no
    # edge, so in the round it is four sections of 10.
    assert gaps(40, 4 + 1) == [8] * 5
    assert ops_words(evenly(40, 44)) == "[k10, m1l] x 4"


def test_an_even_change_arrives_at_its_count() -> None:
    for stitches in range(2, 61):
        for to in range(stitches - stitches // 2, 2 * stitches + 1):
            ops = evenly(stitches, to)
            assert takes(ops) == stitches
            assert makes(ops) == to
