"""The drawing of the sock, measured as one would with a ruler on the screen."""

from __future__ import annotations

import re
from functools import cache
from typing import Any, get_args
from xml.etree import ElementTree as ET

import pytest

from companion.drawings.sock import sock_svg
from companion.planning import Plan, make_plan, read_request, written_pattern
from companion.planning.plan.rounds import zone_stitches
from companion.planning.units import Unit, show_length
from tests.planning import requests
from tests.planning.asking import planned, section
from tests.planning.requests import DIRECTIONS

FEET: dict[str, dict[str, Any]] = {
    "usual": {"foot": (22.5, 24.5)},
    "a child's in thick yarn": {"foot": (14, 13), "stitches": 20},
    "a big one with a knee-high leg": {"foot": (27, 31), "leg": 42},
    "a short leg on a wide foot": {"foot": (27, 24), "leg": 1, "cuff": 0.5},
    "a stout leg on a small foot": {"foot": (20, 20), "round_the_leg": 25, "leg": 30},
}
CONSTRUCTIONS = [(one["direction"], one["heel"], one["toe"]) for one in requests.CONSTRUCTIONS]
USUAL = FEET["usual"]["foot"]


@cache
def plan_for(
    foot: tuple[float, float],
    construction: tuple[str, str, str] = ("cuff-down", "flap", "wedge"),
    **other: float,
) -> Plan:
    ball, length = foot
    direction, heel, toe = construction
    request, faults = read_request(
        {
            "foot": {
                "ball_circumference_cm": ball,
                "length_cm": length,
                "ankle_circumference_cm": other.get("ankle"),
                "leg_circumference_cm": other.get("round_the_leg"),
            },
            "gauge": {"stitches_per_10cm": other.get("stitches", 32)},
            "construction": {"direction": direction, "heel": heel, "toe": toe},
            "leg": {"length_cm": other.get("leg", 14)},
            "cuff": {"length_cm": other.get("cuff", 4)},
        }
    )
    assert request, faults
    return make_plan(request)


def parts(drawing: ET.Element, kind: str) -> list[ET.Element]:
    return [item for item in drawing.iter() if kind in item.get("class", "").split()]


def points(item: ET.Element) -> list[tuple[float, float]]:
    found = re.findall(r"(-?[\d.]+) (-?[\d.]+)", item.get("d", ""))
    return [(float(x), float(y)) for x, y in found]


def length_of(arrow: ET.Element) -> float:
    (x1, y1), (x2, y2) = points(arrow)
    return float(((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5)


def straight_arrows(drawing: ET.Element) -> list[float]:
    """Lengths of the arrows that are level or upright: down the back, along the foot, round leg and foot."""
    arrows = parts(drawing, "sock-arrow")
    return [length_of(arrow) for arrow in arrows if any(a == b for a, b in zip(*points(arrow), strict=True))]


@pytest.fixture(params=requests.each_with([*FEET]), ids=str)
def plan(request: pytest.FixtureRequest) -> Plan:
    one, foot = request.param
    return plan_for(construction=(one["direction"], one["heel"], one["toe"]), **FEET[foot])


def lengths(plan: Plan) -> dict[str, float]:
    return {section.key: section.length_cm for section in plan.sections}


def around_the_top(plan: Plan) -> float:
    """The way round the leg at its widest, from the stitches of its rounds."""
    leg = next(section for section in plan.sections if section.key == "leg").rounds()
    return max(item.after for item in leg) * plan.sizes.leg_cm / plan.sizes.leg_stitches


def down_the_back(plan: Plan) -> list[float]:
    """What is measured from the edge of the cuff down: cuff, leg, the gusset's rounds on the leg, flap or heel."""
    long = lengths(plan)
    if "heel-flap" in long:
        return [long["cuff"], long["leg"], long["heel-flap"]]
    from_toe = plan.request.construction.direction == "toe-up"
    gusset = long.get("gusset" if from_toe else "gusset-increases", 0)
    # A turn without a flap lies along the sole from the cuff down, and goes up the back from the toe up.
    heel = long["heel"] if "heel-turn" not in long else long["heel-turn"] if from_toe else 0
    return [size for size in (long["cuff"], long["leg"], gusset, heel) if size]


def scale_of(straight: list[float], plan: Plan) -> float:
    """How long a cm is drawn, by the last arrow along the sole, which is as long as the foot."""
    return straight[len(down_the_back(plan)) + 2] / plan.sizes.foot_length_cm


def test_the_arrows_are_as_long_as_what_they_measure(plan: Plan) -> None:
    sizes = plan.sizes
    toe = lengths(plan)["toe"]
    along = [sizes.foot_length_cm - toe, toe, sizes.foot_length_cm]
    about = [around_the_top(plan), sizes.leg_cm] if around_the_top(plan) > sizes.leg_cm + 0.01 else [sizes.leg_cm]
    wanted = [*down_the_back(plan), *along, *(round_ / 2 for round_ in about), sizes.foot_circumference_cm / 2]
    straight = straight_arrows(ET.fromstring(sock_svg(plan, "cm")))
    scale = scale_of(straight, plan)
    assert [arrow / scale for arrow in straight] == pytest.approx(wanted, abs=0.04)


def test_the_toe_ends_as_wide_as_its_tip(plan: Plan) -> None:
    """A tip of so many stitches round is half as wide when it lies flat; a short row is on both sides of it."""
    toe = next(section for section in plan.sections if section.key == "toe").rounds()
    rows = [zone_stitches(item, "toe") for item in toe if item.side != "round"]
    round_the_tip = 2 * min(rows) if rows else min(item.after for item in toe if item.is_fabric)
    drawing = ET.fromstring(sock_svg(plan, "cm"))
    [shape] = parts(drawing, "sock-shape")
    tip = max(x for x, _ in points(shape))
    edge = [y for x, y in points(shape) if x == tip]
    sizes = plan.sizes
    scale = scale_of(straight_arrows(drawing), plan)
    wide = round_the_tip * sizes.foot_circumference_cm / sizes.foot_stitches / 2
    assert (max(edge) - min(edge)) / scale == pytest.approx(wide, abs=0.04)


@pytest.mark.parametrize("direction", DIRECTIONS)
@pytest.mark.parametrize(("toe", "straighter"), [("left foot", "below"), ("right foot", "above")])
def test_a_toe_for_one_foot_is_drawn_from_above_and_straighter_along_the_big_toe(
    direction: str, toe: str, straighter: str
) -> None:
    # Toes to the right, seen from above: the big toe of a left foot is the lower one.
    drawing = ET.fromstring(sock_svg(plan_for(USUAL, (direction, "short-row", toe)), "cm"))
    [shape] = parts(drawing, "sock-shape")
    tip = max(x for x, _ in points(shape))
    edge = [y for x, y in points(shape) if x == tip]
    border = [y for item in parts(drawing, "sock-border")[-1:] for _, y in points(item)]
    above, below = min(edge) - min(border), max(border) - max(edge)
    assert (below < 0.75 * above) if straighter == "below" else (above < 0.75 * below)
    assert f"the toe is for the {toe}, seen from above." in "".join(drawing.itertext())


def test_a_gusset_is_named_where_there_is_one(plan: Plan) -> None:
    named = [item.text for item in parts(ET.fromstring(sock_svg(plan, "cm")), "sock-name")]
    assert ("gusset" in named) == any(key.startswith("gusset") for key in lengths(plan))
    assert ("turn" in named) == ("heel-turn" in lengths(plan))


@pytest.mark.parametrize("heel", ["flap", "strong"])
def test_a_turn_in_a_yarn_of_its_own_has_the_letter_of_that(heel: str) -> None:
    plan = planned(construction={"heel": heel}, yarns=[{"key": "A"}, {"key": "B"}], parts={"heel": "B"})
    named = [item.text for item in parts(ET.fromstring(sock_svg(plan, "cm")), "sock-name")]
    assert "turn B" in named


def test_everything_drawn_lies_inside_the_frame(plan: Plan) -> None:
    drawing = ET.fromstring(sock_svg(plan, "in"))
    _, _, width, height = map(float, drawing.get("viewBox", "").split())
    drawn = [
        point
        for kind in ("sock-shape", "sock-border", "sock-arrow")
        for item in parts(drawing, kind)
        for point in points(item)
    ]
    assert all(0 <= x <= width and 0 <= y <= height for x, y in drawn)
    words = [item for item in drawing.iter("text") if item.get("x")]
    assert all(0 <= float(item.get("x", "-1")) <= width and 10 < float(item.get("y", "-1")) < height for item in words)


@pytest.mark.parametrize("unit", get_args(Unit))
def test_lengths_are_written_in_the_unit_asked_for(unit: Unit) -> None:
    plan = plan_for(USUAL)
    words = " ".join(sock_svg(plan, unit).striptags().split())
    for size in (plan.sizes.foot_length_cm, plan.sections[0].length_cm, plan.sizes.heel_pass_cm):
        assert show_length(size, unit) in words
    assert not re.search(r"\d cm\b" if unit == "in" else r"\d in\b", words)


@pytest.mark.parametrize("construction", CONSTRUCTIONS, ids=str)
def test_the_drawing_can_be_read_aloud(construction: tuple[str, str, str]) -> None:
    drawing = ET.fromstring(sock_svg(plan_for(USUAL, construction), "cm"))
    named = [drawing.find(f".//*[@id='{name}']") for name in drawing.get("aria-labelledby", "").split()]
    told = " ".join(item.text or "" for item in named if item is not None)
    assert len(named) == 2
    sizes = [(item.text or "").removesuffix(" round") for item in parts(drawing, "sock-size")]
    assert len(sizes) >= 9
    assert all(re.search(rf"[a-z] {re.escape(size)}\b", told) for size in sizes)


def test_the_drawing_has_no_styles_of_its_own_that_the_page_would_refuse(plan: Plan) -> None:
    drawing = ET.fromstring(sock_svg(plan, "cm"))
    assert not list(drawing.iter("style"))
    assert not [item for item in drawing.iter() if item.get("style")]


def test_a_length_is_shown_as_in_the_pattern() -> None:
    """A toe of 4.75 cm lies halfway between two marks: drawing and pattern must round it to the same one."""
    plan = planned(gauge={"stitches_per_10cm": 30, "rounds_per_10cm": 40})
    assert section(plan, "toe").length_cm == 4.75
    assert "\n\nToe (4.8 cm)\n" in written_pattern(plan, "cm")
    assert "4.8 cm" in [item.text for item in parts(ET.fromstring(sock_svg(plan, "cm")), "sock-size")]


@pytest.mark.parametrize("direction", DIRECTIONS)
def test_a_leg_that_narrows_towards_the_ankle_is_drawn_and_described_at_both_ends(direction: str) -> None:
    plan = plan_for((23, 24.5), (direction, "flap", "wedge"), ankle=21, round_the_leg=29)
    top = around_the_top(plan)
    assert top > plan.sizes.leg_cm + 4, "29 cm of leg over 23 cm of ball, less a tenth each"
    drawing = ET.fromstring(sock_svg(plan, "cm"))
    arrows = straight_arrows(drawing)
    scale = scale_of(arrows, plan)
    for about in (top, plan.sizes.leg_cm):
        assert any(arrow == pytest.approx(about / 2 * scale, abs=0.3) for arrow in arrows), about
        assert any(show_length(about, "cm") in (item.text or "") for item in parts(drawing, "sock-size"))
    told = drawing.findtext("{*}desc") or ""
    assert f"round the top of the leg {show_length(top, 'cm')}" in told
    [shape] = parts(drawing, "sock-shape")
    (left, _), (right, _), *_ = points(shape)
    assert right - left == pytest.approx(top / 2 * scale, abs=0.3)
