"""The independent knitter crosses stitches as the published standard says, and refuses what the hands could not do.

The names and how they are worked are those of the Craft Yarn Council's standards (knitting abbreviations, cables):
for a right cross the stitches on the cable needle are held in back, for a left cross in front; in a purl cross those
that lie behind are purled.
"""

from __future__ import annotations

import pytest

from tests.knitter import KnittingError, knit
from tests.knitting.tiny_socks import bound_off, cast_on, line, part, plan


@pytest.mark.parametrize(
    ("cable", "order", "ops"),
    [
        ("1/1 RC", [1, 0], "kk"),
        ("1/1 LC", [1, 0], "kk"),
        ("1/1 LPC", [1, 0], "pk"),
        ("2/1 RC", [1, 2, 0], "kkk"),
        ("2/1 LC", [2, 0, 1], "kkk"),
        ("2/1 RPC", [1, 2, 0], "kkp"),
        ("2/1 LPC", [2, 0, 1], "pkk"),
        ("2/2 RC", [2, 3, 0, 1], "kkkk"),
        ("2/2 LPC", [2, 3, 0, 1], "ppkk"),
        ("3/1 RPC", [1, 2, 3, 0], "kkkp"),
        ("3/3 LC", [3, 4, 5, 0, 1, 2], "kkkkkk"),
    ],
)
def test_a_cable_brings_the_stitches_that_waited_behind_those_that_passed(
    cable: str, order: list[int], ops: str
) -> None:
    rest = 8 - len(order)
    knitted = knit(plan(cast_on(8), part("leg", line("k8", 8, 8), line(f"{cable}, k{rest}", 8, 8)), bound_off(8)))
    below, crossed = knitted.section("leg")
    assert [below.made.index(stitch.parents[0]) for stitch in crossed.made] == [*order, *range(len(order), 8)]
    assert "".join(stitch.op for stitch in crossed.made) == ops + "k" * rest


def test_a_cable_needs_all_of_its_stitches() -> None:
    with pytest.raises(KnittingError, match="2/2 RC takes 4 from the left needle, which holds 2"):
        knit(plan(cast_on(8), part("leg", line("k6, 2/2 RC", 8, 8)), bound_off(8)))


def test_a_cable_is_not_worked_from_the_other_side() -> None:
    rows = (line("k8, turn", 8, 8, side="RS"), line("2/2 RC, p4, turn", 8, 8, side="WS"))
    with pytest.raises(KnittingError, match="written as the right side shows it"):
        knit(plan(cast_on(8), part("heel", *rows), bound_off(8)))


@pytest.mark.parametrize(("words", "takes"), [("s2kpo", 3), ("sk2p", 3), ("skp", 2)])
def test_a_stitch_passed_over_others_joins_them(words: str, takes: int) -> None:
    lace = "[yo, s2kpo, yo, k1] x 2" if takes == 3 else "[k2, yo, skp] x 2"
    knitted = knit(plan(cast_on(8), part("leg", line(lace.replace("s2kpo", words), 8, 8)), bound_off(8)))
    joined = [stitch for stitch in knitted.section("leg")[0].made if stitch.op == words]
    assert [len(stitch.parents) for stitch in joined] == [takes, takes]
