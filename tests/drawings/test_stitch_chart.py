"""The chart of a stitch pattern: one square a stitch, read from the right, cables crossing the way they lean."""

from __future__ import annotations

import re
from typing import get_args
from xml.etree import ElementTree as ET

import pytest

from companion.drawings.chart import CELL, LEFT
from companion.drawings.stitch_chart import chart_rows, stitch_chart_svg, stitch_key, stitches_shown
from companion.drawings.stitch_symbols import MEANINGS, SYMBOLS
from companion.planning.pattern.abbreviations import ABBREVIATIONS
from companion.planning.request.stitch_pattern import StitchPattern
from companion.planning.stitches.operations import CABLES, MIRRORED, OPERATIONS, OpName
from companion.planning.stitches.ready import READY

TURNED = ("wrap", "kw", "pw", "twin", "ktw", "ptw")
NOT_IN_PATTERNS = {
    "co",
    "pu",
    "pup",
    "bo",
    "graft",
    "draw",
    "turn",
    "ds",
    "kds",
    "pds",
    *TURNED,
    "rest",
    "resume",
    "join",
    "sew",
}


def paths(pattern: StitchPattern, kind: str) -> list[str]:
    """The ways of the lines of one kind, in the order of drawing."""
    drawing = ET.fromstring(str(stitch_chart_svg(pattern.rounds, "a pattern")))
    found = (item for item in drawing.iter() if item.tag.endswith("path"))
    return [item.attrib["d"] for item in found if item.attrib["class"].split()[0] == kind]


def middles(pattern: StitchPattern) -> list[tuple[float, float]]:
    """Where symbols lie: the stitch from the right and the round from the bottom, both from 1."""
    places = [re.match(r"M(\d+) (\d+)m(\d+) (\d+)", way) for way in paths(pattern, "stitch-symbol")]
    return sorted(
        (
            pattern.width - (int(place[1]) + int(place[3]) - LEFT - CELL // 2) / CELL,
            pattern.height - (int(place[2]) + int(place[4]) - CELL // 2) / CELL,
        )
        for place in places
        if place
    )


@pytest.mark.parametrize("name", sorted(set(get_args(OpName)) - NOT_IN_PATTERNS))
def test_every_stitch_of_a_pattern_has_a_symbol_of_its_own_and_a_meaning(name: OpName) -> None:
    assert name in SYMBOLS or name in CABLES
    assert [other for other, way in SYMBOLS.items() if way == SYMBOLS.get(name)] in ([name], [])
    assert name in MEANINGS or name in ABBREVIATIONS


def test_what_leans_has_a_mirror_that_works_as_many_stitches_and_leans_back() -> None:
    decreases = {"k2tog", "ssk", "skp", "p2tog", "ssp", "k3tog", "p3tog", "sssk", "sssp", "sk2p"}
    assert set(MIRRORED) == {*CABLES, *decreases, "m1l", "m1r"}
    for name, other in MIRRORED.items():
        assert OPERATIONS[name] == OPERATIONS[other]
        assert MIRRORED[other] == {"skp": "ssk", "sk2p": "sssk"}.get(name, name)
    assert {(name, MIRRORED[name]) for name in ("2/1 RC", "1/1 LPC", "ssp", "sssp")} == {
        ("2/1 RC", "2/1 LC"),
        ("1/1 LPC", "1/1 RPC"),
        ("ssp", "p2tog"),
        ("sssp", "p3tog"),
    }


def test_a_row_is_read_from_its_right_end_and_the_first_round_lies_at_the_bottom() -> None:
    pattern = StitchPattern(rows=("p1, k3", "k1, p1, k2"))
    assert middles(pattern) == [(1, 1), (2, 2)]


def test_a_decrease_and_its_yarn_over_take_a_square_each() -> None:
    assert middles(StitchPattern(rows=("k1, yo, s2kpo, yo, k2",))) == [(2, 1), (3, 1), (4, 1)]


@pytest.mark.parametrize(
    ("cable", "below", "above"),
    [("2/1 RC", 0, 1), ("2/1 LC", 1, 0), ("1/1 RPC", 0, 1), ("3/3 LPC", 3, 0)],
)
def test_the_strand_in_front_leans_as_the_cable_does(cable: str, below: int, above: int) -> None:
    """Seen from the outside a right cross goes up to the right (Craft Yarn Council, cables)."""
    pattern = StitchPattern(rows=(cable,))
    front = paths(pattern, "chart-cable")[-1]
    start = re.match(r"M(\d+) \d+m(\d+) 20l(-?\d+)-20h", front)
    assert start
    left, begins, over = (int(each) for each in start.groups())
    assert [(left + begins - LEFT) / CELL, (left + begins + over - LEFT) / CELL] == [below, above]


@pytest.mark.parametrize("name", READY)
def test_the_key_names_every_stitch_of_a_ready_pattern_once(name: str) -> None:
    pattern = StitchPattern(name=name, rows=READY[name].rows)
    names = {each for row in pattern.rounds for each in row}
    assert {words.partition(": ")[0] for _, words in stitch_key(pattern)} == names
    shown = stitches_shown(pattern)
    assert shown
    assert shown.size.startswith(f"{name}: ")
    assert shown.rounds


def test_a_leg_without_a_pattern_shows_none() -> None:
    assert stitches_shown(None) is None


@pytest.mark.parametrize(("beside", "repeats"), [("plain", 1), ("k2 p2", 3)])
def test_a_panel_is_drawn_and_described_as_it_is_worked(beside: str, repeats: int) -> None:
    """Wider than its repeats where it begins and ends alike: a chart of the repeat alone would begin elsewhere."""
    placement = {"on": "front", "repeats": repeats, "beside": beside}
    pattern = StitchPattern.model_validate({"name": "lace rib", "placement": placement})
    shown = stitches_shown(pattern)
    assert shown is not None
    wide = 6 * repeats + 1
    assert chart_rows(pattern).width == wide
    assert shown.size == f"Panel of lace rib: {wide} stitches and 4 rounds, over and over."
    assert f"{wide} by 4" in ET.fromstring(shown.chart).attrib["aria-label"]
    lace = "p1, k1, yo, s2kpo, yo, k1"
    assert shown.rounds[0] == f"Round 1: {lace if repeats == 1 else f'[{lace}] x {repeats}'}, p1"
    assert shown.rounds[1].startswith("Rounds 2 to 4: ")


def test_a_round_of_nothing_but_knit_or_purl_is_called_so() -> None:
    shown = stitches_shown(StitchPattern(rows=("k2tog, yo", "knit", "purl")))
    assert shown is not None
    assert shown.rounds[1:] == ["Round 2: knit", "Round 3: purl"]


def test_a_chart_of_a_flat_piece_has_the_numbers_of_its_rows_where_they_are_begun() -> None:
    rounds = StitchPattern(rows=("k2", "p2", "k1, p1", "p1, k1")).rounds
    drawing = ET.fromstring(str(stitch_chart_svg(rounds, "a swatch", flat=True)))
    left, _, wide, _ = map(int, drawing.attrib["viewBox"].split())
    placed = {int(item.text or ""): item for item in drawing.iter() if item.attrib.get("class") == "chart-row"}
    assert [*placed] == [1, 2, 3, 4]
    for number, item in placed.items():
        at_left = int(item.attrib["x"]) < LEFT
        assert at_left == (number % 2 == 0)
        assert item.attrib.get("text-anchor") == ("end" if at_left else None)
        assert left < int(item.attrib["x"]) < left + wide
