"""Rounds made of operations, and what they take, make and use."""

from __future__ import annotations

import pytest

from companion.planning.pattern.rounds_text import ops_words
from companion.planning.plan.document import Repeat, Round
from companion.planning.plan.rounds import (
    _periods,
    fabric_rounds,
    fold,
    fold_groups,
    makes,
    narrowed,
    one_by_one,
    op,
    repeat,
    row,
    takes,
    zone_stitches,
)
from companion.planning.stitches.operations import OPERATIONS
from tests.planning.asking import planned
from tests.written_plan import OPS


def knit(stitches: int, note: str | None = None) -> Round:
    return row(("leg", op("k", stitches)), before=stitches, note=note)


def flat(side: str) -> Round:
    return row(("heel", op("sl") + op("k", 9) + op("turn")), before=20, side="RS" if side == "RS" else "WS")


def test_operations_take_and_make_what_an_independent_reader_has_for_them() -> None:
    assert {name: (known.takes, known.makes) for name, known in OPERATIONS.items()} == OPS


def test_only_stitches_that_are_moved_unworked_need_no_yarn() -> None:
    no_new_loop = {name for name, known in OPERATIONS.items() if known.loops == 0}
    assert no_new_loop == {"sl", "slwyif", "turn", "ds", "wrap", "rest", "draw"}


def test_no_times_is_nothing_and_once_needs_no_brackets() -> None:
    assert op("k", 0) == ()
    assert repeat(0, op("k")) == ()
    assert repeat(1, op("k"), op("p")) == op("k") + op("p")
    assert ops_words(repeat(3, op("k"), op("p"))) == "[k1, p1] x 3"


def test_repeats_inside_repeats_are_counted_through() -> None:
    work = repeat(4, op("k2tog"), repeat(3, op("kfb"), op("sl", 2)), op("m1l")) + op("ssk")
    assert takes(work) == 4 * (2 + 3 * 3) + 2
    assert makes(work) == 4 * (1 + 3 * 4 + 1) + 1
    item = row(("leg", work), before=takes(work))
    assert item.made == makes(work)
    assert item.drawn == {None: 4 * (1 + 3 * 2 + 1) + 1}
    assert (item.uses("sl"), item.uses("kfb", "ssk"), item.uses("p")) == (24, 13, 0)


@pytest.mark.parametrize("stitches", range(4, 80))
def test_a_narrowed_zone_has_two_fewer_and_leans_inwards(stitches: int) -> None:
    work = narrowed(stitches)
    assert takes(work) == stitches
    assert makes(work) == stitches - 2
    words = ops_words(work)
    assert words == words.strip(", ")
    assert words.index("ssk") < words.index("k2tog")
    assert words.startswith("k1, ssk") == words.endswith("k2tog, k1") == (stitches >= 6)


def test_the_count_after_a_round_follows_from_its_operations() -> None:
    item = row(("sole", narrowed(32)), ("instep", op("k", 30)), ("toe", ()), before=62, kind="decrease")
    assert (item.after, len(item.work)) == (60, 2)
    assert zone_stitches(item, "sole") == 30
    assert zone_stitches(item, "sole", "instep") == 60
    assert item.ops == narrowed(32) + op("k", 30)


def test_in_a_row_what_is_not_reached_stays() -> None:
    assert row(("heel", op("k", 5) + op("ssk") + op("turn")), before=20, side="RS").after == 19


def test_casting_on_and_grafting_add_no_height() -> None:
    cast_on = row(("leg", op("co", 20)), before=0)
    graft = row(("toe", op("graft", 8)), before=16)
    assert [item.is_fabric for item in (cast_on, knit(20), graft)] == [False, True, False]
    assert fabric_rounds([cast_on, knit(20), knit(20), graft]) == 2


def test_like_neighbours_are_written_as_a_repeat() -> None:
    groups = [op("k", 3), op("k", 3), op("k", 2), op("k", 3)]
    assert ops_words(fold_groups(groups)) == "[k3] x 2, k2, k3"
    assert fold_groups([]) == ()


def test_like_rounds_and_like_pairs_of_rows_are_one_step() -> None:
    rounds = [knit(20, "Begin."), *[knit(20)] * 5, *[flat("RS"), flat("WS")] * 4, flat("RS")]
    steps = fold(rounds)
    assert [(step.times, len(step.rounds)) for step in steps] == [(1, 1), (5, 1), (4, 2), (1, 1)]
    assert fold([]) == ()


def test_folding_loses_no_round() -> None:
    for each in planned().sections:
        rounds = each.rounds()
        assert fold(rounds) == each.steps
        assert [item for step in fold(rounds) for _ in range(step.times) for item in step.rounds] == list(rounds)
        assert len(each.steps) < len(rounds) or len(rounds) < 30


def test_stitches_of_their_own_are_not_copied_one_by_one() -> None:
    """A chart has tens of thousands of them."""
    single, pair = op("k")[0], op("p", 2)[0]
    ones = list(one_by_one([single, Repeat(times=2, ops=(single, pair))]))
    assert ops_words(ones) == "k1, k1, p1, p1, k1, p1, p1"
    assert all(each is single for each in ones if each.op == "k")


def test_only_groups_that_come_again_are_compared() -> None:
    numbers = [1, 2, 3, 1, 4, 1, 1]
    assert _periods(numbers) == [3, 5, 6]
    assert _periods(numbers[:5]) == [3]
    assert _periods(numbers[1:]) == []
