"""Rows become a repeat of equally wide rounds that give back the stitches they take, or are refused with the sum."""

from __future__ import annotations

import pytest

from companion.planning.stitches.operations import made, taken
from companion.planning.stitches.ready import READY
from companion.planning.stitches.repeat import drawn_rounds, rounds_of
from tests.planning.asking import asked


def test_rows_are_rounds_in_their_order_or_by_their_numbers() -> None:
    assert rounds_of(("k1, p1", "k2")) == (("k", "p"), ("k", "k"))
    assert rounds_of(("Rounds 2, 4: knit", "Rounds 1, 3: k1, p1")) == (
        ("k", "p"),
        ("k", "k"),
        ("k", "p"),
        ("k", "k"),
    )


@pytest.mark.parametrize(
    ("rows", "rounds"),
    [
        (("Round 1: k", "Round 3: p", "Round 2 and all even rounds: ktbl"), "k ktbl p ktbl"),
        (("Even rounds: p", "Rounds 1, 3 and 5: k"), "k p k p k p"),
        (("Odd rounds: k", "Round 2: p", "Round 4: ktbl"), "k p k ktbl"),
        (("All even rounds: k", "Round 1: p", "Round 2: ktbl"), "p ktbl"),
        (("Rounds 1, 2: p", "Round 3 and every other round: k", "Round 4: p"), "p p k p"),
        (("Round 1: k", "Round 2: p", "Rounds 3-4: as rounds 1 and 2", "Rounds 5, 6: as round 1"), "k p k p k k"),
        (("Round 1: k", "Round 2: p", "Rounds 3-6: repeat rounds 1-2", "Round 7: as round 6"), "k p k p k p p"),
    ],
)
def test_rounds_may_be_described_together_or_by_another_one(rows: tuple[str, ...], rounds: str) -> None:
    assert rounds_of(rows) == tuple((name,) for name in rounds.split())


def test_a_row_that_is_a_part_of_the_widest_is_worked_over_and_over() -> None:
    assert rounds_of(("k1, p1", "2/2 RC, p2")) == (("k", "p") * 3, ("2/2 RC", "p", "p"))


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        (("yo, k2",), "round 1 takes 2 stitches and makes 3, 1 more"),
        (("k4", "k1, k3tog"), "round 2 takes 4 stitches and makes 2, 2 fewer"),
        (("k4", "k3"), "round 2 has 3 stitches, and the widest round of the repeat has 4"),
        (("Round 1: k1", "Round 3: k1"), "round 2 is missing, and there is a round 3"),
        (("Round 1: k1", "Round 1: p1"), "round 1 is described twice"),
        (("Round 1: k1", "p1"), "row 2 does not say which round it is"),
        (("Round 1: k1", "Round 2: as round 3", "Round 3: p1"), "round 2 is as round 3, which is not before it"),
        (("Round 1: as round 1",), "round 1 is as round 1, which is not before it"),
        (("Round 1: k1", "Round 2: p1", "Rounds 3-5: as rounds 1-2"), "3 rounds are to be worked as 2 others"),
        (("k2", "sl1"), "round 2 slips every stitch"),
        (("[k2, p2] x 15, k1",), "the repeat has 61 stitches, and may have 60"),
    ],
)
def test_rows_that_make_no_repeat_are_refused_with_the_sum(rows: tuple[str, ...], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        rounds_of(rows)


@pytest.mark.parametrize("name", READY)
def test_every_ready_pattern_keeps_its_stitches_and_goes_by_its_name(name: str) -> None:
    rounds = rounds_of(READY[name].rows)
    assert {(taken(names), made(names)) for names in rounds} == {(taken(rounds[0]),) * 2}
    pattern = asked(leg={"stitch_pattern": {"name": name}}).leg.stitch_pattern
    assert pattern
    assert (pattern.rounds, pattern.width, pattern.height) == (rounds, taken(rounds[0]), len(rounds))


def test_rows_that_are_being_drawn_need_not_give_back_what_they_take() -> None:
    assert drawn_rounds(["k2, k2tog, k1", "k1, p1"]) == (("k", "k", "k2tog", "k"), ("k", "p", "k", "p"))
    with pytest.raises(ValueError, match="round 2 makes 3 stitches, and the widest round 4"):
        drawn_rounds(["k4", "k3"])
    with pytest.raises(ValueError, match="the repeat has 61 stitches"):
        drawn_rounds(["[k2, p2] x 15, k1"])
