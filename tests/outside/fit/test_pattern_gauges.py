"""The gauge of stitch patterns against what knitters have published of it."""

from __future__ import annotations

import pytest

from companion.planning.fit.targets import Fabric, Patterned
from companion.planning.stitches.fabric import fabric_by_kind
from companion.planning.stitches.ready import READY
from companion.planning.stitches.repeat import rounds_of

INCH = 2.54


def test_six_stitches_of_a_simple_cable_take_the_width_of_five() -> None:
    """heartstringsfiberarts.com/cable-takeup.shtm: "increasing from 5 stitches to 6 is probably adequate"."""
    likely = fabric_by_kind(rounds_of(("Round 1: 3/3 RC", "Rounds 2-6: knit")))
    assert 6 / likely.stitches == pytest.approx(5)


def test_a_panel_of_cables_counts_by_the_plain_stitches_as_wide() -> None:
    """pressreader.com, Creative Knitting of 2016-09-13: 46 stitches are 7 1/4 in, 43 1/2 of plain at 6 to the inch."""
    panel = Patterned(Fabric(6 / INCH, 8 / INCH), Fabric(46 / 7.25 / INCH, 8 / INCH), panel=46)
    assert panel.as_plain(46) == pytest.approx(43.5)
    assert panel.width(46) == pytest.approx(7.25 * INCH)
    assert panel.width(46 + 60) == pytest.approx((7.25 + 10) * INCH)
    assert panel.stitches_for((7.25 + 10) * INCH) == pytest.approx(46 + 60)


@pytest.mark.parametrize("name", READY)
def test_cables_draw_in_lace_gives_and_a_ribbed_leg_has_the_stitches_of_a_plain_one(name: str) -> None:
    """Common practice."""
    likely = fabric_by_kind(rounds_of(READY[name].rows))
    match name:
        case "cable rib":
            assert 1.05 < likely.stitches < 1.25
        case "lace rib":
            assert 0.85 < likely.stitches < 1
        case "k2 p2 rib" | "k3 p1 rib" | "twisted rib":
            assert (likely.stitches, likely.rounds) == (1, 1)
        case _:
            assert likely.stitches < 1 < likely.rounds


def test_moss_stitch_is_nearer_to_two_rounds_a_stitch_than_plain_knitting_is() -> None:
    """docslib.org/doc/5694404: garter has two rows for each stitch, and moss stitch is similar in shape."""
    seed, plain = fabric_by_kind(rounds_of(READY["seed stitch"].rows)), 1.35
    assert plain + (2 - plain) / 2 < plain * seed.rounds / seed.stitches < 2
