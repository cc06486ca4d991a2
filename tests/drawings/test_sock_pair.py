"""Both socks of two feet beside each other, measured as one would with a ruler on the screen."""

from __future__ import annotations

import re
from xml.etree import ElementTree as ET

import pytest

from companion.drawings.sock import sock_svg
from companion.drawings.sock_pair import sock_pair_svg
from companion.planning import make_plan
from companion.planning.units import show_length
from tests.planning.asking import LOZENGE, TWO, asked, planned, section
from tests.planning.requests import DIRECTIONS

SMALLER = {"ball_circumference_cm": 20.5, "length_cm": 21}


def test_two_socks_are_drawn_to_one_scale_with_their_names() -> None:
    request = asked(other_foot=SMALLER)
    one, two = make_plan(request), make_plan(request.for_the_other_foot())
    drawing = ET.fromstring(sock_pair_svg(one, two, "cm"))
    wide = []
    for group in drawing.findall("g"):
        scale = float(re.findall(r"scale\(([\d.]+)\)", group.get("transform", ""))[0])
        outline = next(item for item in group if "sock-shape" in item.get("class", ""))
        across = [float(x) for x, _ in re.findall(r"([\d.]+) ([\d.]+)", outline.get("d", ""))]
        wide.append(scale * (max(across) - min(across)))
    assert wide[0] / wide[1] == pytest.approx(one.sizes.foot_length_cm / two.sizes.foot_length_cm, rel=0.01)
    assert max(wide) <= 172  # half of the drawing, less what lies between them
    sizes = [
        (f"foot {show_length(plan.sizes.foot_length_cm, 'cm')} long", f"{show_length(plan.sizes.leg_cm, 'cm')} round")
        for plan in (one, two)
    ]
    assert [item.text for item in drawing.iter("text")] == ["Sock 1", *sizes[0], "Sock 2", *sizes[1]]


def test_socks_with_toes_for_one_foot_are_named_by_it() -> None:
    request = asked(construction={"toe": "right foot"})
    drawing = ET.fromstring(sock_pair_svg(make_plan(request), make_plan(request.for_the_other_foot()), "cm"))
    assert {"Sock 1, right foot", "Sock 2, left foot"} <= {item.text for item in drawing.iter("text")}


def test_colours_keep_their_ids_where_three_socks_stand_on_a_page() -> None:
    request = asked(other_foot=SMALLER, leg={"chart": LOZENGE | {"swap": True}}, yarns=TWO)
    one, two = make_plan(request), make_plan(request.for_the_other_foot())
    page = sock_pair_svg(one, two, "cm") + sock_svg(one, "cm")
    ids = re.findall(r' id="([^"]+)"', page)
    assert len(ids) == len(set(ids))
    assert set(re.findall(r"url\(#([^)]+)\)", page)) <= set(ids)
    fills = [[item.get("fill") for item in group.iter() if item.get("class") == "sock-yarn"] for group in _groups(page)]
    assert fills[0] != fills[1]


def _groups(page: str) -> list[ET.Element]:
    return ET.fromstring(page[: page.index("</svg>") + 6]).findall("g")


@pytest.mark.parametrize("direction", DIRECTIONS)
def test_a_hem_is_drawn_without_ribbing_and_a_picot_hem_with_points(direction: str) -> None:
    plan = planned(construction={"direction": direction}, cuff={"length_cm": 5, "edge": "picot hem"})
    drawing = ET.fromstring(sock_svg(plan, "cm"))
    rib = next(item.get("d", "") for item in drawing.iter() if item.get("class") == "sock-rib")
    top, bottom = (float(y) for y in re.findall(r" ([\d.]+)", rib))
    border = next(item.get("d", "") for item in drawing.iter() if item.get("class") == "sock-border")
    assert bottom == float(re.findall(r" ([\d.]+)", border)[0])
    # Two centimetres of five are hem.
    assert (bottom - top) / (bottom - 40) == pytest.approx(1 - 2 / section(plan, "cuff").length_cm, abs=0.03)
    assert any(item.get("class") == "sock-points" for item in drawing.iter())
    usual = sock_svg(planned(construction={"direction": direction}), "cm")
    assert "sock-points" not in usual
