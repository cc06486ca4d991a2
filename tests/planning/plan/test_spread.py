"""Changes spread over a round."""

from __future__ import annotations

import pytest

from companion.planning import CannotKnitError
from companion.planning.pattern.rounds_text import ops_words
from companion.planning.plan.rounds import evenly
from companion.planning.plan.spread import gaps


def test_the_larger_gaps_lie_between_the_smaller_ones() -> None:
    assert gaps(10, 4) == [3, 2, 3, 2]
    assert gaps(8, 3) == [3, 2, 3]
    assert gaps(3, 5) == [1, 0, 1, 0, 1]


def test_one_gap_has_all_the_stitches() -> None:
    assert gaps(17, 1) == [17]


def test_no_stitches_make_empty_gaps() -> None:
    assert gaps(0, 3) == [0, 0, 0]


@pytest.mark.parametrize("parts", [0, -2])
def test_no_gaps_at_all_are_refused(parts: int) -> None:
    with pytest.raises(ValueError, match=f"64 stitches cannot be split into {parts} groups"):
        gaps(64, parts)


@pytest.mark.parametrize(
    ("stitches", "to", "words"),
    [
        (60, 60, "k60"),
        (60, 56, "[k13, k2tog] x 4"),
        (60, 64, "[k15, m1l] x 4"),
        (62, 60, "[k29, k2tog] x 2"),
        (10, 7, "k1, k2tog, k2, k2tog, k1, k2tog"),
        (8, 4, "[k2tog] x 4"),
        (3, 6, "[k1, m1l] x 3"),
        (60, 61, "k60, m1l"),
    ],
)
def test_a_change_is_said_in_as_few_words_as_it_can(stitches: int, to: int, words: str) -> None:
    assert ops_words(evenly(stitches, to)) == words


@pytest.mark.parametrize(("stitches", "to"), [(8, 3), (7, 3), (8, 17), (0, 1)])
def test_a_change_too_large_for_one_round_is_refused(stitches: int, to: int) -> None:
    with pytest.raises(CannotKnitError, match=f"{stitches} stitches cannot become {to} in one round"):
        evenly(stitches, to)
