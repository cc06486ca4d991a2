"""Several sizes in a stitch pattern: what they share is told once, and each reads its own rounds back."""

from __future__ import annotations

import re
from itertools import cycle, product
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.planning import pattern_of
from companion.planning.stitches.ready import READY
from tests.conftest import fully
from tests.planning.asking import WHOLE_PLANS, asked
from tests.planning.pattern.read_back import BALLS, check_every_size, document_rounds, sized
from tests.planning.patterned import patterned_requests
from tests.planning.requests import DIRECTIONS


@pytest.mark.parametrize("name", READY)
@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_every_stitch_pattern_reads_back_in_every_size(name: str, direction: str) -> None:
    leg = {"length_cm": 12, "stitch_pattern": {"name": name}}
    sizes = sized(asked(leg=leg, foot_pattern="instep follows the leg", construction={"direction": direction}))
    assert len(sizes) == len(BALLS)
    assert check_every_size(sizes).stitch_pattern


@pytest.mark.parametrize(
    ("name", "direction"),
    [*product(READY, DIRECTIONS)] if fully() else [*zip(READY, cycle(DIRECTIONS), strict=False)],
)
def test_a_long_leg_in_pattern_is_told_in_common_by_all_its_sizes(name: str, direction: str) -> None:
    """Common practice: "keep in pattern" while a leg is shaped, for in each size a repeat ends elsewhere."""
    leg = {"length_cm": 24, "stitch_pattern": {"name": name}}
    sizes = sized(asked(leg=leg, construction={"direction": direction}), (20, 22, 24, 26))
    shaped = [item for item in document_rounds(sizes[0].plan, "leg") if item["before"] != item["after"]]
    assert len(shaped) > 1
    [part] = [each for each in check_every_size(sizes).sections if each.key == "leg"]
    assert "whole repeats" in (part.lines[0].note or "")
    assert len(part.lines) <= 50
    [alone] = [each for each in pattern_of(sizes[:1], "cm").sections if each.key == "leg"]
    assert not any("in pattern" in line.text for line in alone.lines)


PANELS = [{"on": "front", "repeats": 2, "beside": "purl"}, {"on": "front and back", "repeats": 2, "beside": "k2 p2"}]


@pytest.mark.parametrize("placement", PANELS, ids=lambda placed: f"{placed['on']}, {placed['beside']}")
@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_a_panel_is_written_once_for_all_sizes_with_the_columns_beside_it_in_brackets(
    placement: dict[str, Any], direction: str
) -> None:
    """Common practice: "k2, p2, panel, k1 (3, 5)", and no round a size.

    From the toe up some sizes first finish the rows of the instep, and then become wider or narrower.
    """
    leg = {"length_cm": 12, "stitch_pattern": {"name": "lace rib", "placement": placement}}
    sizes = sized(
        asked(leg=leg, foot_pattern="instep follows the leg", construction={"direction": direction}),
        (18, 20, 22, 24, 26),
    )
    pattern = check_every_size(sizes)
    for key, most in (("leg", 4 if direction == "toe-up" else 2), ("gusset", 7), ("foot", 1)):
        [part] = [each for each in pattern.sections if each.key == key]
        assert len(part.lines) <= most
        assert any("panel" in line.text for line in part.lines)
        assert not any(re.search(r"\b[kp]0[,;]|\] x [01][,;]", line.text) for line in part.lines)
        assert sum("Instep: " in line.text for line in part.lines) <= 1


@pytest.mark.parametrize("placement", PANELS, ids=lambda placed: f"{placed['on']}, {placed['beside']}")
@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_a_long_leg_beside_a_panel_is_told_in_common_by_all_its_sizes(
    placement: dict[str, Any], direction: str
) -> None:
    leg = {"length_cm": 24, "stitch_pattern": {"name": "cable rib", "placement": placement}}
    sizes = sized(asked(leg=leg, construction={"direction": direction}), (20, 23, 26))
    [part] = [each for each in check_every_size(sizes).sections if each.key == "leg"]
    assert "in pattern means the panel" in (part.lines[0].note or "")
    assert len(part.lines) <= 60


def test_sizes_whose_toes_begin_in_three_ways_shape_them_together_after_that() -> None:
    """Where sole and instep differ, a first round changes one of them alone (common practice)."""
    arrows = {"rows": ["k2tog, yo, k3, yo, ssk", "k7"], "placement": {"on": "front", "beside": "purl"}}
    design = asked(leg={"stitch_pattern": arrows}, foot_pattern="instep follows the leg")
    sizes = sized(design, (18, 20, 22, 24, 26))
    first = (document_rounds(size.plan, "toe")[0]["work"] for size in sizes)
    assert len({tuple(work["zone"] for work in item if "k2tog" in str(work["ops"])) for item in first}) == 3
    [toe] = [part for part in check_every_size(sizes).sections if part.key == "toe"]
    assert len(toe.lines) <= 8


def test_a_ribbing_all_round_is_written_out_on_the_leg_of_every_size() -> None:
    """A pattern of one round needs no look at its chart: "[k2, p2] x 13 (14, 16)" says all (common practice)."""
    sizes = sized(asked(leg={"stitch_pattern": {"name": "k2 p2 rib"}}))
    [leg] = [part for part in check_every_size(sizes).sections if part.key == "leg"]
    assert re.search(r"\[k2, p2\] x \d+ \(", leg.lines[0].text)


def test_both_ways_to_shape_beside_a_panel_are_explained() -> None:
    placement = {"on": "front and back", "repeats": 2, "beside": "k2 p2"}
    leg = {"length_cm": 24, "stitch_pattern": {"name": "cable rib", "placement": placement}}
    pattern = pattern_of(sized(asked(leg=leg), (22, 24)), "cm")
    [leg_told] = [part for part in pattern.sections if part.key == "leg"]
    assert any("ssk or ssp" in line.text for line in leg_told.lines)
    assert {"ssk", "ssp", "k2tog", "p2tog"} <= pattern.abbreviations.keys()


@WHOLE_PLANS
@given(patterned_requests(), st.lists(st.integers(32, 54).map(lambda half: half / 2), min_size=2, max_size=3))
def test_every_size_in_any_stitch_pattern_reads_back(data: dict[str, Any], balls: list[float]) -> None:
    sizes = sized(asked(**data), sorted(set(balls)))
    if sizes:
        check_every_size(sizes)
