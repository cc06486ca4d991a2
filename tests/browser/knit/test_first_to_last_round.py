"""Small socks stepped from the first to the last round: the page shows what the plan says, round by round.

What is expected is read from the plan document by the independent knitter and the reader of words, never from the
page's own data.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from companion.planning import Plan, make_plan, read_request
from tests.knitter import WorkedRound, knit
from tests.reader import Op, read_words

from ..knitting import Knitting, rounds_of
from ..server import Server

pytestmark = pytest.mark.usefixtures("without_worker")

TINY: dict[str, Any] = {
    "foot": {"ball_circumference_cm": 11, "length_cm": 10},
    "gauge": {"stitches_per_10cm": 16, "rounds_per_10cm": 18},
    "cuff": {"rib": "k1 p1", "length_cm": 0.5},
    "leg": {"length_cm": 2},
}
"""A doll's sock of 16 stitches in bulky yarn."""

CHART = ["AABA", "ABBB", "BAAB"]

SOCKS: dict[str, dict[str, Any]] = {
    "toe-up with a flap": {"construction": {"direction": "toe-up", "heel": "flap", "toe": "wedge"}},
    "short rows": {"construction": {"direction": "cuff-down", "heel": "short-row", "toe": "short-row"}},
    "stranded": {
        "leg": {"length_cm": 3, "chart": {"width": 4, "rows": CHART}},
        "foot_pattern": "instep follows the leg",
        "yarns": [{"key": "A", "name": "oat", "colour": "#f0e6d0"}, {"key": "B", "name": "moss", "colour": "#40603a"}],
    },
}

SHOWN = """() => {
    const text = (id) => document.getElementById(id).textContent;
    const chart = document.getElementById("chart");
    const drawn = chart && !chart.hidden ? chart.querySelector("svg[role=img]") : null;
    const top = drawn?.querySelector(".now").getAttribute("y");
    return {
        progress: text("progress"), section: text("section"), number: text("number"), stitches: text("stitches"),
        lines: [...document.querySelectorAll("#words p")].map((line) => {
            const zone = line.querySelector("span")?.textContent ?? "";
            return [zone, line.textContent.slice(zone.length).trim()];
        }),
        chart: drawn && {
            says: drawn.getAttribute("aria-label"),
            row: [...drawn.querySelectorAll(`.cell[y="${top}"]`)].map((cell) => cell.getAttribute("fill")),
            counts: chart.querySelector("p").textContent.trim().replace(/\\s+/g, " "),
        },
    };
}"""


@dataclass(frozen=True)
class Expected:
    """One round of the document: how it was knitted, its data, and where it stands in its section, from 1."""

    worked: WorkedRound
    data: dict[str, Any]
    title: str
    number: int
    of: int

    @property
    def ops(self) -> list[Op]:
        return [op for work in self.data["work"] for op in written_out(work["ops"])]


def written_out(ops: list[Op]) -> list[Op]:
    """Every operation as often as it is worked, one by one."""
    single: list[Op] = []
    for op in ops:
        inside = written_out(op["ops"]) * op["times"] if "times" in op else [{**op, "n": 1}] * op.get("n", 1)
        single += inside
    return single


def expected_rounds(plan: Plan) -> Iterator[Expected]:
    document = json.loads(plan.model_dump_json())
    worked = iter(knit(document).rounds)
    for section in document["sections"]:
        rounds = [data for step in section["steps"] for data in step["rounds"] * step["times"]]
        for number, data in enumerate(rounds, start=1):
            yield Expected(next(worked), data, section["title"], number, len(rounds))


def check_place(shown: dict[str, Any], expected: Expected) -> None:
    written = expected.worked.written
    assert shown["section"] == expected.title
    noun, side = ("Round", "") if written.side == "round" else ("Row", f" ({written.side})")
    assert shown["number"] == f"{noun} {expected.number} of {expected.of}{side}"
    change = f"{written.before} → " if written.before != written.after else ""
    assert shown["stitches"] == f"{change}{written.after} stitches"


def check_words(shown: dict[str, Any], expected: Expected) -> None:
    """The words mean the round's operations; "knit" alone is a round of knit stitches in the main colour."""
    work = expected.data["work"]
    lines = [tuple(line) for line in shown["lines"]]
    if lines[0] == ("", "knit"):
        assert {(op["op"], op.get("yarn")) for op in expected.ops} == {("k", None)}
        assert len(expected.ops) == expected.worked.written.before
        lines = lines[1:]
    if lines:
        assert [read_words(words) for _, words in lines] == [part["ops"] for part in work]
        assert [zone.lower() for zone, _ in lines] == [part["zone"] if len(work) > 1 else "" for part in work]


def check_chart(shown: dict[str, Any], expected: Expected, plan: Plan) -> None:
    row = expected.data["chart_row"]
    if row is None:
        assert shown["chart"] is None
        return
    colours = {yarn.key: yarn.colour for yarn in plan.request.yarns}
    names = {yarn.key: yarn.name for yarn in plan.request.yarns}
    # Design rules of the trade: in the round every row is worked on the right side, from right to left.
    assert shown["chart"]["says"] == f"Row {row} of {len(CHART)} of the chart, worked from right to left"
    assert shown["chart"]["row"] == [colours[key] for key in CHART[row - 1]]
    worked = [op.get("yarn", "A") for op in expected.ops]
    counts = Counter(worked)
    told = " ".join(f"{key}: {counts[key]} {names[key]}" for key in names if counts[key])
    assert shown["chart"]["counts"] == told
    if expected.data["work"][0]["zone"] == "leg":
        assert "".join(worked) in CHART[row - 1][::-1] * (len(worked) // 4 + 1)


@pytest.mark.parametrize("name", SOCKS)
def test_every_round_is_shown_as_it_is_planned(page: Page, server: Server, name: str) -> None:
    request, faults = read_request({**TINY, **SOCKS[name]})
    assert request, faults
    plan = make_plan(request)
    rounds = list(expected_rounds(plan))
    knitting = Knitting(page, server.add_plan(plan)).open()
    knitting.is_complete()
    told = rounds_of(knitting.data(), 1)
    box = knitting.done.bounding_box()
    assert box
    thumb = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    for expected in rounds:
        place = expected.worked.written.place.number - 1
        knitting.is_at(place)
        row = expected.data["chart_row"]
        chart = page.locator("#chart")
        if row is None:
            expect(chart).to_be_hidden()
        else:
            expect(chart.get_by_role("img")).to_have_attribute("aria-label", re.compile(rf"^Row {row} of"))
        shown = page.evaluate(SHOWN)
        assert shown["progress"] == f"{place} of {len(rounds)}"
        check_place(shown, expected)
        check_words(shown, expected)
        check_chart(shown, expected, plan)
        for _ in range(sum(part["times"] for part in told[place]["parts"]) or 1):
            knitting.let_time_pass()
            page.touchscreen.tap(*thumb)  # which stays where the button is
    expect(page.locator("#words")).to_have_text("Sock 1 is finished.")
    knitting.everything_is_sent()
    assert server.counted(knitting.link) == list(range(1, len(rounds) + 1))
