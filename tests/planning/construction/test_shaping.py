"""Whole stitches and rounds of heel, gusset and toe, over small domains tried whole."""

from __future__ import annotations

import pytest

from companion.planning.construction.shaping import (
    FLAP_LEAST,
    FLAP_MOST,
    TOE_LEAST,
    TOE_MOST,
    Rhythm,
    decrease_rhythm,
    flap_rows,
    gusset_increases,
    heel_turn,
    short_row_pass,
    wedge_toe,
)
from companion.planning.fit.halves import even_down, heel_stitches
from companion.planning.fit.targets import Fabric, nearest, nearest_multiple
from companion.planning.request.construction import Turn

FABRIC = Fabric(3.2, 4.4)


def test_even_down() -> None:
    assert [even_down(count) for count in range(6)] == [0, 0, 2, 2, 4, 4]


@pytest.mark.parametrize(("value", "found"), [(2.4, 2), (2.5, 3), (3.5, 4), (-0.5, 0), (-0.6, -1), (7, 7)])
def test_a_half_goes_up(value: float, found: int) -> None:
    assert nearest(value) == found


@pytest.mark.parametrize(("value", "of", "found"), [(61, 4, 60), (62, 4, 64), (1, 4, 4), (0, 2, 2), (66.1, 12, 72)])
def test_the_nearest_multiple_is_at_least_one(value: float, of: int, found: int) -> None:
    assert nearest_multiple(value, of) == found


@pytest.mark.parametrize("leg", range(16, 140))
def test_the_heel_is_half_the_leg_and_even(leg: int) -> None:
    heel = heel_stitches(leg)
    assert heel % 2 == 0
    assert 0 <= leg / 2 - heel < 2


@pytest.mark.parametrize("kind", ["round", "square", "V"])
@pytest.mark.parametrize("heel", range(8, 72, 2))
def test_a_turn_takes_up_every_stitch_on_either_side(kind: Turn, heel: int) -> None:
    """Walked along the needle: what a row does not reach waits on its side until a later row takes it up."""
    turn = heel_turn(kind, heel)
    ahead, behind = heel, 0
    for number, row in enumerate(turn.rows):
        taken = row.across + (number > 0) + 2 + row.one_more
        assert taken <= ahead
        ahead, behind = behind + taken - 1, ahead - taken
    assert behind == 0
    assert turn.left % 2 == 0
    assert turn.left == heel - len(turn.rows)


@pytest.mark.parametrize("heel_diagonal", [27, 29, 31, 33])
@pytest.mark.parametrize("leg", [56, 60, 64])
def test_flap_rows_bring_the_heel_pass_within_a_row_of_the_heel(leg: int, heel_diagonal: int) -> None:
    heel = heel_stitches(leg)
    flap = flap_rows(heel, leg - heel + heel_turn("round", heel).left, heel_diagonal, FABRIC)
    assert flap.rows % 2 == 0
    assert FLAP_LEAST * heel <= flap.rows <= FLAP_MOST * heel
    heel_pass = (leg - heel + heel_turn("round", heel).left) / 3.2 + 2 * flap.rows / 4.4
    if abs(flap.rows - flap.wanted) <= 1:
        assert abs(heel_pass - heel_diagonal) <= 2 / 4.4 + 1e-9
    else:
        assert flap.rows in (even_down(int(FLAP_MOST * heel)), even_down(int(FLAP_LEAST * heel) + 1))


@pytest.mark.parametrize(("heel_diagonal", "rows"), [(15, 24), (60, 48)])
def test_a_flap_is_neither_a_shallow_cup_nor_a_bag(heel_diagonal: float, rows: int) -> None:
    flap = flap_rows(32, 32 + 18, heel_diagonal, FABRIC)
    assert flap.rows == rows
    assert not FLAP_LEAST <= flap.wanted / 32 <= FLAP_MOST


@pytest.mark.parametrize(("done", "rows"), [(0, 24), (20, 24), (25, 26), (33, 34), (60, 60)])
def test_rows_already_knitted_stay(done: int, rows: int) -> None:
    assert flap_rows(32, 32 + 18, 15, FABRIC, done=done).rows == rows


def test_decreases_come_every_second_round_while_there_is_room() -> None:
    assert decrease_rhythm(3, 20) == (True, False, True, False, True)
    assert decrease_rhythm(3, 4) == (True, False, True, True)
    assert decrease_rhythm(3, 1) == (True, True, True)
    assert decrease_rhythm(0, 5) == ()


def test_a_plain_round_goes_first_where_one_is_wanted_and_fits() -> None:
    assert decrease_rhythm(2, 20, plain_first=True) == (False, True, False, True)
    assert decrease_rhythm(2, 2, plain_first=True) == (True, True)
    assert decrease_rhythm(0, 5, plain_first=True) == ()


@pytest.mark.parametrize("decreases", range(12))
@pytest.mark.parametrize("plain_first", [False, True])
def test_no_decrease_is_lost_and_the_room_is_kept(decreases: int, plain_first: bool) -> None:
    for room in range(-3, 30):
        rhythm = decrease_rhythm(decreases, room, plain_first=plain_first)
        assert sum(rhythm) == decreases
        assert len(rhythm) <= max(room, decreases)


@pytest.mark.parametrize("sole", range(8, 61))
def test_a_wedge_toe_meets_in_two_equal_halves(sole: int) -> None:
    for instep in range(max(8, sole - 6), sole + 7):
        toe = wedge_toe(sole, instep, 18, of=sole + instep)
        assert toe.single == (sole + instep) % 2
        assert sole + instep - toe.single - 2 * toe.evening - 4 * (toe.slow + toe.fast) == toe.left
        assert toe.left % 2 == 0
        assert toe.left > 0
        assert toe.fast <= toe.slow + 1


@pytest.mark.parametrize("half", range(3, 16))
def test_the_smallest_wedge_toe_leaves_each_half_room_for_both_of_its_decreases(half: int) -> None:
    """By hand: ssk and k2tog take four stitches and leave two; a half of three stays three."""
    for of in range(2 * half, 40):
        for rounds in range(12):
            assert wedge_toe(half, half, rounds, of).left >= (4 if half > 3 else 6)


@pytest.mark.parametrize("half", range(16, 61, 2))
def test_a_wedge_toe_keeps_its_limits_and_no_other_comes_nearer(half: int) -> None:
    foot = 2 * half
    for rounds in range(8, 41):
        toe = wedge_toe(half, half, rounds, of=foot)
        assert TOE_LEAST * foot <= toe.left <= TOE_MOST * foot
        assert toe.fast <= toe.slow
        nearest_toe = min(
            abs(2 * slow + fast - rounds)
            for left in range(foot)
            if TOE_LEAST * foot <= left <= TOE_MOST * foot and (foot - left) % 4 == 0
            for fast in range((foot - left) // 4 + 1)
            for slow in [(foot - left) // 4 - fast]
            if fast <= slow
        )
        assert abs(toe.rounds - rounds) == nearest_toe


@pytest.mark.parametrize("rounds", [16.5, 17.5, 18.5, 19.5])
def test_between_two_wedge_toes_that_are_equally_near_the_slower_one_is_knitted(rounds: float) -> None:
    assert wedge_toe(32, 32, rounds, of=64).rounds == rounds + 0.5


@pytest.mark.parametrize("rounds", range(6, 30, 2))
def test_the_rest_of_a_wedge_toe_keeps_no_more_fast_rounds_than_slow_ones(rounds: int) -> None:
    begun = wedge_toe(20, 20, rounds, of=64, rhythm=Rhythm(slow_done=6))
    assert begun.fast <= 6 + begun.slow
    # A toe whose slow half is done may be finished fast, which a new one may not.
    assert begun.rounds <= wedge_toe(20, 20, rounds, of=64).rounds


@pytest.mark.parametrize("heel", range(16, 61, 2))
def test_a_gusset_before_short_rows_makes_up_what_the_heel_lacks_up_to_half_its_stitches(heel: int) -> None:
    without = short_row_pass(heel, heel, FABRIC)
    for missing in range(-5, 40):
        a_side = gusset_increases(heel, heel, without + missing, FABRIC)
        assert 0 <= a_side <= heel // 2
        lacks = missing - FABRIC.width(2 * a_side)
        met = abs(lacks) <= FABRIC.width(1) + 1e-9
        assert met or (missing <= 0 and a_side == 0) or (lacks > 0 and a_side == heel // 2)
