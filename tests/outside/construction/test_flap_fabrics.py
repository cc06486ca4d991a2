"""The fabrics of a heel flap as published patterns have them, over an even number of stitches."""

from __future__ import annotations

import pytest

from companion.planning.construction.sections.heels.flap_fabric import flap_row
from companion.planning.plan.rounds import one_by_one
from companion.planning.request.construction import FlapFabric


def worked(fabric: FlapFabric, stitches: int, row: int, *, garter_edge: bool = False) -> str:
    """A row of the flap, from 1, one letter a stitch: slipped, knit or purled."""
    ops = one_by_one(flap_row(fabric, stitches, row - 1, garter_edge=garter_edge))
    return "".join("s" if each.op.startswith("sl") else each.op for each in ops)


@pytest.mark.parametrize("stitches", [28, 30, 32])
def test_every_second_stitch_of_a_right_side_row_is_slipped(stitches: int) -> None:
    # knittingdaily.com, 2012/07/09, "Heel stitches": slip one, knit one across; the wrong side slips one and purls.
    for row in (1, 3):
        assert worked("slipped", stitches, row) == "sk" * (stitches // 2)
        assert worked("slipped", stitches, row + 1) == "s" + "p" * (stitches - 1)


@pytest.mark.parametrize("stitches", [28, 30, 32])
def test_the_slipped_stitches_of_every_second_right_side_row_are_offset(stitches: int) -> None:
    # haveayarn.ca, stitch of March 2009: slip one, knit one across; then slip two, knit one and slip one across, knit
    # two. Ours knits the second stitch, so that the edge to pick up along is a single chain.
    published = "ss" + "ks" * (stitches // 2 - 2) + "kk"
    assert worked("offset slipped", stitches, 1) == "sk" * (stitches // 2)
    assert worked("offset slipped", stitches, 3) == "sk" + published[2:]
    assert worked("offset slipped", stitches, 5) == worked("offset slipped", stitches, 1)


def test_a_garter_edge_is_three_stitches_knit_on_both_sides() -> None:
    # Common practice: three stitches, the first of them slipped, knit on the wrong side too.
    for row in (1, 2):
        told = worked("plain", 30, row, garter_edge=True)
        assert (told[:3], told[-3:]) == ("skk", "kkk")
    assert set(worked("plain", 30, 2, garter_edge=True)[3:-3]) == {"p"}


@pytest.mark.parametrize("fabric", ["slipped", "offset slipped", "plain"])
def test_the_edge_stitch_is_slipped_with_the_yarn_where_the_row_before_has_left_it(fabric: FlapFabric) -> None:
    # interweave.com, "The chain selvedge": on garter stitch every row slips its first stitch with the yarn in front,
    # for round the edge it would leave a purl bump on the chain. chicorysticks.com, 2019/11/04, on stockinette: with
    # the yarn in back on the right side, in front on the wrong side.
    for garter_edge, slips in ((True, ["slwyif"] * 4), (False, ["sl", "slwyif"] * 2)):
        rows = [flap_row(fabric, 32, number, garter_edge=garter_edge) for number in range(4)]
        assert [next(one_by_one(ops)).op for ops in rows] == slips
