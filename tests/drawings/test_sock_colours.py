"""The sock's colours on the drawing are those of the stitches in the plan."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from functools import cache
from typing import Any
from xml.etree import ElementTree as ET

import pytest

from companion.drawings.chart import COLOURS
from companion.drawings.outline import outline_of
from companion.drawings.sock import LEFT, TOP, second_sock_svg, sock_svg
from companion.planning import Plan, make_plan, read_request
from companion.planning.plan.document import Op, Repeat, Round
from tests.conftest import Browser

ROWS = ("BAAABAAA", "ABABBBAA", "CABACBAA")
EXCHANGE = {ord("A"): "B", ord("B"): "A"}


@cache
def plan_in(direction: str, rows: tuple[str, ...] = ROWS, heel: str = "flap", *, swap: bool = False) -> Plan:
    wanted: dict[str, Any] = {
        "foot": {"ball_circumference_cm": 23, "length_cm": 25, "leg_circumference_cm": 23},
        "gauge": {"stitches_per_10cm": 30, "rounds_per_10cm": 40},
        "construction": {"direction": direction, "heel": heel},
        "leg": {"chart": {"width": len(rows[0]), "rows": rows, "swap": swap}},
        "foot_pattern": "instep follows the leg",
        "yarns": [{"key": key} for key in "ABC"],
    }
    request, faults = read_request(wanted)
    assert request, faults
    return make_plan(request)


def stitches(item: Round, zone: str) -> str:
    """The yarns of a zone's stitches in the order of working."""

    def flat(ops: Iterable[Op | Repeat]) -> str:
        return "".join(
            op.times * flat(op.ops) if isinstance(op, Repeat) else op.n * (op.yarn or "A")
            for op in ops
        )  # fmt: skip

    return "".join(flat(work.ops) for work in item.work if work.zone == zone)


class Filled:
    """What a pattern of the drawing paints at a point of the page, calculated by the rules of SVG."""

    def __init__(self, drawing: ET.Element, name: str) -> None:
        found = drawing.find(f".//*[@id='{name}']")
        assert found is not None
        self.width, self.height = float(found.get("width", "")), float(found.get("height", ""))
        numbers = re.findall(r"-?[\d.]+", found.get("patternTransform", ""))
        self.x, self.y, self.turned, self.right, self.down = map(float, numbers)
        self.paths = {item.get("fill", ""): item.get("d", "") for item in found}

    def at(self, x: float, y: float) -> str:
        """The letter of the yarn at a point in the drawing's units."""
        angle = math.radians(-self.turned)
        dx, dy = x - self.x, y - self.y
        u = (dx * math.cos(angle) - dy * math.sin(angle) - self.right) % self.width
        v = (dx * math.sin(angle) + dy * math.cos(angle) - self.down) % self.height
        inside = []
        for colour, way in self.paths.items():
            for left, top, wide, high in re.findall(r"M([\d.]+) ([\d.]+)h([\d.]+)v([\d.]+)h", way):
                if 0 <= u - float(left) < float(wide) and 0 <= v - float(top) < float(high):
                    inside.append(colour)
        [found] = inside
        return {colour: key for key, colour in COLOURS.items()}[found]


def leg_of(plan: Plan) -> list[Round]:
    return [item for section in plan.sections if section.key == "leg" for item in section.rounds()]


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
@pytest.mark.parametrize("heel", ["flap", "short-row"])
def test_the_front_of_the_leg_shows_the_stitches_of_the_plan(direction: str, heel: str) -> None:
    """From the cuff down a sock is worn with its first round on top, so work goes from left to right on the drawing."""
    plan = plan_in(direction, heel=heel)
    sock = outline_of(plan)
    leg = leg_of(plan)
    filled = Filled(ET.fromstring(sock_svg(plan, "cm")), "leg-fabric")
    scale = filled.width / len(ROWS[0]) / (plan.sizes.leg_cm / plan.sizes.leg_stitches)
    wide = plan.sizes.leg_cm / plan.sizes.leg_stitches
    high = (sock.leg_end - sock.cuff_end) / len(leg)
    middle = plan.sizes.leg_stitches * 3 // 4  # the back is the first half of the round
    assert sum(bool(item.chart_row) for item in leg) >= len(leg) - 1
    for number, item in enumerate(leg):
        if not item.chart_row:  # where the count changes
            continue
        down = sock.cuff_end + (number + 0.5) * high
        if direction == "toe-up":
            down = sock.leg_end - (number + 0.5) * high
        for beside in range(8):
            place = middle - 1 - beside if direction == "cuff-down" else middle + beside
            x = LEFT + (sock.leg_wide - (beside + 0.5) * wide) * scale
            assert filled.at(x, TOP + down * scale) == stitches(item, "leg")[place], (number, beside)


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_the_instep_shows_the_stitches_of_the_plan(direction: str) -> None:
    plan = plan_in(direction)
    sock = outline_of(plan)
    foot = [
        item
        for section in plan.sections
        if section.key in ("gusset", "gusset-increases", "foot")
        for item in section.rounds()
        if item.chart_row
    ]
    filled = Filled(ET.fromstring(sock_svg(plan, "cm")), "instep-fabric")
    wide = plan.sizes.foot_circumference_cm / plan.sizes.foot_stitches
    scale = filled.width / len(ROWS[0]) / wide
    high = filled.height / len(ROWS) / scale
    for number, item in enumerate(foot):
        along = sock.toe_start - (len(foot) - number - 0.5) * high
        if direction == "toe-up":
            along = sock.toe_start - (number + 0.5) * high
        told = stitches(item, "instep")
        for beside in range(8):
            place = len(told) // 2 - 1 - beside if direction == "cuff-down" else len(told) // 2 + beside
            y = TOP + (sock.instep + (beside + 0.5) * wide) * scale
            assert filled.at(LEFT + along * scale, y) == told[place], (number, beside)


def test_stripes_go_round_the_sole_too() -> None:
    drawing = ET.fromstring(sock_svg(plan_in("cuff-down", tuple("AABBBC")), "cm"))
    sole, instep = Filled(drawing, "sole-fabric"), Filled(drawing, "instep-fabric")
    for along in range(150, 250, 3):
        assert sole.at(along + 0.1, 300) == instep.at(along + 0.1, 200)


def test_a_plain_foot_has_the_main_yarn_and_a_plain_sock_no_colour() -> None:
    asked = plan_in("cuff-down").request
    plain_foot = make_plan(asked.model_copy(update={"foot_pattern": "plain"}))
    drawing = ET.fromstring(sock_svg(plain_foot, "cm"))
    fills = [item.get("fill") for item in drawing.iter() if item.get("class") in ("sock-yarn", "sock-fabric")]
    assert fills == [COLOURS["A"], "url(#leg-fabric)"]
    plain = make_plan(asked.model_copy(update={"leg": asked.leg.model_copy(update={"chart": None})}))
    assert "sock-yarn" not in sock_svg(plain, "cm")


def test_the_second_sock_has_the_first_two_yarns_exchanged_wherever_they_are() -> None:
    plan = plan_in("cuff-down", swap=True)
    first, second = ET.fromstring(sock_svg(plan, "cm")), ET.fromstring(second_sock_svg(plan))
    for name in ("leg-fabric", "instep-fabric", "sole-fabric"):
        one, other = Filled(first, name), Filled(second, f"{name}-2")
        places = [(x + 0.1, y + 0.1) for x in range(100, 300, 7) for y in range(80, 300, 7)]
        assert [other.at(*place) for place in places] == [one.at(*place).translate(EXCHANGE) for place in places]
    fills = [item.get("fill") for item in second.iter() if item.get("class") == "sock-yarn"]
    assert fills == [COLOURS["B"]]
    outlines = [[item.get("d") for item in each.iter() if item.get("class") == "sock-yarn"] for each in (first, second)]
    assert outlines[0] == outlines[1]


def test_a_plan_shows_the_second_sock_only_where_it_differs(browser: Browser) -> None:
    chart = {"yarn_count": "2", "colour_pattern": "chart", "chart": "AB\nBA"}
    for swap, socks in ({}, 0), ({"swap": "y"}, 1):
        page = browser.get(f"/pair/{browser.make_pair(**chart, **swap)}").text
        assert page.count("The second sock, with yarns A and B exchanged") == socks


def test_everything_that_is_referred_to_is_there_and_has_no_style() -> None:
    drawing = ET.fromstring(f"<both>{sock_svg(plan_in('toe-up'), 'cm')}{second_sock_svg(plan_in('toe-up'))}</both>")
    names = [item.get("id") for item in drawing.iter() if item.get("id")]
    assert len(names) == len(set(names))
    for item in drawing.iter():
        assert not item.get("style")
        for value in item.attrib.values():
            assert set(re.findall(r"url\(#([\w-]+)\)", value)) <= set(names)


@pytest.mark.parametrize("heel", ["flap", "short-row", "short-row with gusset", "afterthought"])
@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_cuff_heel_and_toe_are_in_their_yarns_and_say_which(direction: str, heel: str) -> None:
    wanted: dict[str, Any] = {
        "foot": {"ball_circumference_cm": 23, "length_cm": 25},
        "gauge": {"stitches_per_10cm": 30, "rounds_per_10cm": 40},
        "construction": {"direction": direction, "heel": heel},
        "yarns": [{"key": key} for key in "ABC"],
        "parts": {"cuff": "B", "heel": "C", "toe": "A"},
    }
    request, faults = read_request(wanted)
    assert request, faults
    plan = make_plan(request)
    sock, drawing = outline_of(plan), ET.fromstring(str(sock_svg(plan, "cm")))
    main = drawing.find(".//*[@class='sock-yarn']")
    assert main is not None
    assert main.get("fill") == COLOURS["A"]
    filled = {item.get("fill"): corners(item) for item in drawing.iter() if item.get("class") == "sock-fabric"}
    assert set(filled) == {COLOURS["B"], COLOURS["C"]}  # the toe is in the main yarn, as all else
    scale = (filled[COLOURS["B"]][1][0] - LEFT) / sock.top_wide
    assert filled[COLOURS["B"]][2] == pytest.approx(
        (LEFT + sock.top_wide * scale, TOP + sock.cuff_end * scale), abs=0.1
    )
    across = [x for x, _ in filled[COLOURS["C"]]]
    down = [y for _, y in filled[COLOURS["C"]]]
    assert min(across) == pytest.approx(LEFT)
    assert max(across) == pytest.approx(LEFT + max(sock.side, sock.heel_front) * scale, abs=0.1)
    assert (min(down), max(down)) == pytest.approx((TOP + sock.heel_top * scale, TOP + sock.sole * scale), abs=0.1)
    words = {"".join(item.itertext()) for item in drawing.iter() if item.tag.endswith("text")}
    assert {"cuff B", "flap C" if heel == "flap" else "heel C", "toe", "leg", "foot"} <= words
    assert "; cuff in yarn B; heel in yarn C." in "".join(drawing.itertext())


def corners(item: ET.Element) -> list[tuple[float, float]]:
    """The corners of a filled part, in the drawing's units."""
    numbers = [float(each) for each in re.findall(r"-?[\d.]+", item.get("d", ""))]
    return list(zip(numbers[::2], numbers[1::2], strict=True))
