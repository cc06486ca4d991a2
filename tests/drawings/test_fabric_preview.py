"""How a way to go on looks, read back from its drawing and held against the rounds of its plan.

A purl is sunk, a yarn over is a hole, stitches that cross are strands. Rounds are read as their document has them.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.drawings.fabric_preview import FabricPreview, fabric_preview
from companion.planning import Check, Plan
from companion.planning.gauge.check import Spot
from companion.planning.plan.document import Round
from companion.planning.recalculation.options import Option
from tests.planning.asking import (
    FOLLOWS,
    LOZENGE,
    TWO,
    WHOLE_PLANS,
    document_of,
    made_in,
    plan_or_leave,
    planned,
    recalculated_or_leave,
)
from tests.planning.patterned import patterned_requests
from tests.planning.requests import requests
from tests.written_plan import CABLES, OPS

SUNK = {"p", "ptbl", "p2tog", "ssp", "p3tog", "sssp", "m1p", "pfb"}
SQUARES = re.compile(r"M(-?[\d.]+) (\d+)h(\d+)v(\d+)h-\3z")
INSTEP = "instep follows the leg"


class Drawn(NamedTuple):
    """A row of a drawing from its right end: purls, holes and other stitches, and how many cables begin in it."""

    stitches: str
    cables: int


def rows_drawn(preview: FabricPreview) -> list[list[Drawn]]:
    """The stretches of a drawing from the top on, each with its rows in the order of knitting."""
    halves = [_half(group) for group in ET.fromstring(str(preview.drawing)).iter("g")]
    stretches = []
    for front, back in zip(halves[::2], halves[1::2], strict=True):
        assert front.keys() == back.keys()
        rows = [
            Drawn(back[row].stitches + front[row].stitches, back[row].cables + front[row].cables)
            for row in sorted(front, reverse=True)
        ]
        stretches.append(rows)
    return stretches


def _half(group: ET.Element) -> dict[int, Drawn]:
    ways = {path.get("class", ""): path.get("d", "") for path in group}
    ground = ways.get("fabric") or group[0].get("d") or ""
    sunk = set(_places(ways.get("sunk", "")))
    holes = {(int(row), float(left)) for left, row in re.findall(r"M(-?[\d.]+) (\d+)m", ways.get("hole", ""))}
    cables = Counter(int(row) - 1 for row in re.findall(r"M-?[\d.]+ (\d+)l", ways.get("strand", "")))
    rows: dict[int, str] = {}
    for row, left in sorted(_places(ground), key=lambda place: -place[1]):
        seen = "p" if (row, left) in sunk else "o" if (row, left) in holes else "."
        rows[row] = rows.get(row, "") + seen
    return {row: Drawn(stitches, cables[row]) for row, stitches in rows.items()}


def _places(way: str) -> Iterator[tuple[int, float]]:
    """The squares of a path, each by its row and its left edge."""
    for left, top, wide, high in SQUARES.findall(way):
        for row in range(int(top), int(top) + int(high)):
            yield from ((row, float(left) + column) for column in range(int(wide)))


def as_drawn(item: Round) -> Drawn:
    """What a round leaves, as a drawing has it."""
    names = [name for part in document_of(item)["work"] for name in _written_out(part["ops"])]
    stitches = "".join(
        ("p" if name in SUNK else "o" if name == "yo" else ".") * (CABLES.get(name) or OPS[name][1]) for name in names
    )
    return Drawn(stitches, sum(name in CABLES for name in names))


def _written_out(ops: Sequence[Any]) -> Iterator[str]:
    for op in ops:
        if "ops" in op:
            yield from [*_written_out(op["ops"])] * op["times"]
        else:
            yield from [op["op"]] * op.get("n", 1)


def looser(plan: Plan, stitches: float, rounds: float = 1.0) -> Check:
    """A check that counts so many times the plan's stitches and rounds, often enough to be believed."""
    gauge = plan.request.gauge
    per_10cm = gauge.rounds_per_10cm or gauge.stitches_per_10cm * 1.35
    return Check(
        stitches=(Spot(count=round(gauge.stitches_per_10cm * stitches * 2, 1), over_cm=20),) * 4,
        rounds=(Spot(count=round(per_10cm * rounds * 2, 1), over_cm=20),) * 4,
    )


@WHOLE_PLANS
@given(patterned_requests() | requests(), st.integers(1, 999), st.integers(-15, 15), st.integers(-15, 15))
def test_what_is_drawn_are_rounds_of_the_plan_one_after_the_other(
    data: dict[str, Any], part: int, stitches_off: int, rounds_off: int
) -> None:
    """Every row has the stitches of its round, its purls, holes and cables where the round has them."""
    plan = plan_or_leave(data)
    done = part * plan.count // 1000
    check = looser(plan, 1 + stitches_off / 100, 1 + rounds_off / 100)
    for option in recalculated_or_leave(plan, done, [check]).options:
        preview = fabric_preview(plan, option.plan, option.done)
        rounds = option.plan.rounds()
        if preview is None:
            tubes = (option.plan.span(key) for key in ("leg", "foot"))
            columns = any(rounds[at].chart_row for tube in tubes for at in tube if at >= option.done)
            assert not columns or (
                option.plan.request.leg.stitch_pattern is None and data["leg"]["chart"]["width"] == 1
            )
            continue
        known = [as_drawn(item) for item in rounds]
        for rows in rows_drawn(preview):
            assert rows in [known[at : at + len(rows)] for at in range(len(known))]
        said = re.findall(r"[a-z]+ (\d+), [a-z]+ (\d+)", ET.fromstring(str(preview.drawing)).get("aria-label", ""))
        ends = {len(rows[-1].stitches) for rows in rows_drawn(preview)}
        assert {int(front) + int(back) for front, back in said} == ends


def ways(plan: Plan, done: int, off: float) -> dict[str, Option]:
    return {option.key: option for option in recalculated_or_leave(plan, done, [looser(plan, off)]).options}


def in_leg(plan: Plan) -> int:
    return plan.span("leg").start + 20


def test_a_leg_that_changes_in_whole_repeats_is_drawn_below_and_above_the_line() -> None:
    plan = planned(leg={"length_cm": 16, "stitch_pattern": {"name": "k3 p1 rib"}}, foot_pattern=INSTEP)
    here = ways(plan, in_leg(plan), 0.88)["here"]
    preview = fabric_preview(plan, here.plan, here.done)
    assert preview
    stitches = here.plan.sizes.leg_stitches
    assert f"Leg: {stitches // 4} whole repeats." in preview.said
    assert str(preview.drawing).count('class="seam"') == 1
    *_, new, old = rows_drawn(preview)
    assert (len(new[-1].stitches), len(old[-1].stitches)) == (stitches, plan.sizes.leg_stitches)
    assert Counter(new[-1].stitches)["p"] == stitches // 4


def test_a_leg_that_is_no_whole_repeats_says_how_many_stitches_lie_behind_and_draws_them() -> None:
    """Of a repeat of 22 one column is purled: beside its repeats the columns are plain; those of a rib are purled."""
    rows = ["p1, k2tog, yo, k19", "p1, k21"]
    plan = planned(leg={"length_cm": 16, "stitch_pattern": {"rows": rows}}, foot_pattern=INSTEP)
    columns = ways(plan, in_leg(plan), 1.1)["columns"]
    preview = fabric_preview(plan, columns.plan, columns.done)
    whole, over = divmod(columns.plan.sizes.leg_stitches, 22)
    assert over
    assert preview
    assert f"Leg: {whole} repeats and {over} plain stitches at the centre back." in preview.said
    plan = planned(leg={"length_cm": 16, "stitch_pattern": {"name": "k3 p1 rib"}}, foot_pattern=INSTEP)
    columns = ways(plan, in_leg(plan), 0.92)["columns"]
    preview = fabric_preview(plan, columns.plan, columns.done)
    whole, over = divmod(columns.plan.sizes.leg_stitches, 4)
    assert preview
    assert f"Leg: {whole} repeats and {over} purl stitch at the centre back." in preview.said
    *_, new, _ = rows_drawn(preview)
    assert Counter(new[-1].stitches)["p"] == whole + over


def test_a_cable_that_goes_on_from_the_back_into_the_front_is_drawn_within_the_back() -> None:
    """Nothing lies beyond the stitches of a half, of which its rows say how many they are."""
    rows = ["3/3 RC, p2", *["k6, p2"] * 7]
    plan = planned(leg={"length_cm": 14, "stitch_pattern": {"rows": rows}}, foot_pattern=INSTEP)
    columns = ways(plan, in_leg(plan), 0.9)["columns"]
    preview = fabric_preview(plan, columns.plan, columns.done)
    assert preview
    cut = 0
    for group in ET.fromstring(str(preview.drawing)).iter("g"):
        left = min(column for path in group for _, column in _places(path.get("d", "")))
        strands = [path.get("d", "") for path in group if "strand" in path.get("class", "")]
        for begins, leans, wide in re.findall(r"M(-?[\d.]+) \d+l(-?[\d.]+)-\d+h([\d.]+)", " ".join(strands)):
            corners = float(begins), float(begins) + float(leans), float(begins) + float(leans) + float(wide)
            assert min(corners) >= left
            cut += float(wide) != 3
    assert cut


def test_a_leg_that_stays_shows_the_sole_alone_with_other_stitches() -> None:
    plan = planned(leg={"length_cm": 16, "stitch_pattern": {"name": "k3 p1 rib"}}, foot_pattern=INSTEP)
    rest = ways(plan, in_leg(plan), 0.9)["rest"]
    preview = fabric_preview(plan, rest.plan, rest.done)
    assert preview
    assert "Instep: as planned; the sole alone changes." in preview.said
    assert re.search(r">sole \d+ → \d+<", str(preview.drawing))
    assert 'class="seam"' not in str(preview.drawing)


def test_a_colour_chart_is_drawn_in_the_yarns_of_its_rounds() -> None:
    plan = planned(leg={"length_cm": 12, "chart": LOZENGE}, yarns=TWO, **FOLLOWS)
    preview = fabric_preview(plan, plan, in_leg(plan))
    assert preview
    *_, front, back = ET.fromstring(str(preview.drawing)).iter("g")
    rounds = plan.rounds()[in_leg(plan) : in_leg(plan) + 8]
    drawn = [place for half in (front, back) for path in [*half][1:] for place in _places(path.get("d", ""))]
    assert len(drawn) == sum(made_in(item, "leg").count("B") for item in rounds) > 0


@pytest.mark.parametrize("leg", [{}, {"chart": {"width": 1, "rows": ["A", "B"]}}], ids=["plain", "stripes"])
def test_without_columns_there_is_nothing_to_see(leg: dict[str, Any]) -> None:
    plan = planned(leg=leg, yarns=TWO)
    assert fabric_preview(plan, plan, 0) is None
