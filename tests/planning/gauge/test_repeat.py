"""Which repeat of a sock can be counted, and from when on."""

from __future__ import annotations

from companion.planning.gauge.repeat import Repeat, repeat_knitted

from ..asking import LOZENGE, TWO, planned


def test_a_repeat_can_be_counted_once_a_round_of_the_chart_is_knitted() -> None:
    plan = planned(leg={"length_cm": 16, "chart": LOZENGE}, yarns=TWO)
    first = plan.span("leg").start
    assert repeat_knitted(plan, first) is None
    assert repeat_knitted(plan, first + 1) == Repeat(stitches=6, rounds=4)


def test_the_repeat_of_a_stitch_pattern_is_counted_as_that_of_a_chart_is() -> None:
    """Stitches are hard to find in lace; its repeats are not (common practice)."""
    plan = planned(leg={"length_cm": 16, "stitch_pattern": {"name": "lace rib"}})
    assert repeat_knitted(plan, plan.span("leg").stop) == Repeat(stitches=6, rounds=4)


def test_a_plain_sock_has_no_repeat() -> None:
    plan = planned()
    assert repeat_knitted(plan, plan.count) is None
