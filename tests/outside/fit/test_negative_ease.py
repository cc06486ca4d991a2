"""Worked examples of negative ease, from circumference and gauge to a stitch count."""

from __future__ import annotations

from typing import Any

import pytest

from companion.planning.fit.targets import fit_of, nearest_multiple
from companion.planning.units import CM_PER_INCH
from tests.planning.asking import LOZENGE, TWO, asked, planned


def inches(around: float, stitches_an_inch: float, ease_percent: float = 10, rib: str = "k2 p2") -> dict[str, Any]:
    """A request in the words of the examples, with a foot as long as such feet are."""
    return {
        "foot": {"ball_circumference_cm": around * CM_PER_INCH, "length_cm": 1.08 * around * CM_PER_INCH},
        "gauge": {"stitches_per_10cm": stitches_an_inch / CM_PER_INCH * 10, "rounds_per_10cm": None},
        "ease": {"circumference_percent": ease_percent},
        "cuff": {"rib": rib},
    }


@pytest.mark.parametrize(
    ("around", "stitches_an_inch", "wanted", "chosen"),
    [
        (9, 7.5, 60.75, 60),  # wabi-sabi.ca, "ease-y socks": 9 in x 0.9 x 7.5 = 60.75 -> 60
        (9.75, 6.5, 57.04, 56),  # heidibearscreative.blogspot.com, 2010/08: 8.775 x 6.5 = 57.04 -> 56
        (9.75, 7.25, 63.62, 64),  # computed with the same method
    ],
)
def test_ten_percent_less_gives_the_published_multiple_of_four(
    around: float, stitches_an_inch: float, wanted: float, chosen: int
) -> None:
    request = inches(around, stitches_an_inch)
    fit = fit_of(asked(**request))
    assert fit.leg_target * fit.fabric.stitches == pytest.approx(wanted, abs=0.005)
    assert planned(**request).sizes.leg_stitches == chosen


@pytest.mark.parametrize(
    ("rib", "repeat", "chosen"),
    [("k1 p1", 2, 68), ("k3 p3", 6, 66)],  # computed: 7.5 in x 9 = 67.5
)
def test_one_inch_less_at_nine_stitches_an_inch(rib: str, repeat: int, chosen: int) -> None:
    # bartonriveryarn.com: one inch off for adults. 8.5 in round, so 7.5 in of sock. A multiple of the ribbing's
    # repeat is common practice.
    request = inches(8.5, 9, ease_percent=100 * 1 / 8.5, rib=rib)
    assert nearest_multiple(67.5, repeat) == chosen
    plan = planned(**request)
    assert plan.sizes.leg_stitches == chosen
    assert [choice.stitches for choice in plan.choices if choice.chosen] == [chosen]


def test_ten_percent_off_22_cm_and_half_of_it_where_yarns_lie_behind() -> None:
    # knittedinswitzerland.ch/?p=2629: a 22 cm foot and 10 % less is 19.8 cm; stranded 5 % less, by the same sum 20.9.
    foot = {"ball_circumference_cm": 22, "length_cm": 24}
    plain, stranded = asked(foot=foot), asked(foot=foot, leg={"chart": LOZENGE}, yarns=TWO)
    assert fit_of(plain).foot_target == pytest.approx(19.8)
    assert fit_of(stranded).foot_target == pytest.approx(20.9)


def test_ten_percent_is_what_is_taken_when_nothing_is_said() -> None:
    # wabi-sabi.ca, "ease-y socks": 10 % round, and 1 cm shorter than the foot; knitfrillsfood: 10 to 15 %.
    request = asked(foot={"length_cm": 25})
    assert request.ease.circumference_percent == 10
    assert fit_of(request).length_target == pytest.approx(24)


@pytest.mark.parametrize(
    ("ease", "verdicts"),
    [
        (0, {"loose"}),  # 3sleeves.blogspot.com, 2008/07: knitted as large as the foot, it was loose
        (10, {"good"}),  # the usual ease, and the least of both ranges
        (15, {"good", "snug"}),  # knitfrillsfood.blogspot.com, 2014/09: 10 to 15 %; a whole repeat may take two more
        (20, {"good", "snug"}),  # 3sleeves.blogspot.com: 10 to 20 %, so it goes on
    ],
)
def test_a_sock_with_a_published_ease_goes_on_and_stays_up(ease: float, verdicts: set[str]) -> None:
    plan = planned(foot={"ball_circumference_cm": 22.5, "length_cm": 24.5}, ease={"circumference_percent": ease})
    [foot] = [verdict.verdict for verdict in plan.fit if verdict.what == "Round the foot"]
    assert foot in verdicts


def test_choices_stand_on_both_sides_of_the_target() -> None:
    plan = planned(**inches(9, 7.5))
    counts = [choice.stitches for choice in plan.choices]
    assert 3 <= len(counts) <= 5
    assert counts == sorted(counts)
    assert min(counts) < 60.75 < max(counts)
    assert all(count % 4 == 0 for count in counts)
