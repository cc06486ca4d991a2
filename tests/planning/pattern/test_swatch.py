"""A swatch that is knitted flat by its words shows on its right side what the rounds show by theirs."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given

from companion.planning import pattern_of
from companion.planning.pattern.left_handed import left_handed
from companion.planning.pattern.pattern import Pattern, Size
from companion.planning.pattern.render import as_markdown_text, as_text
from companion.planning.pattern.stitch_pattern_text import pattern_lines
from companion.planning.pattern.swatch import NOT_FLAT, WrittenSwatch, swatch_of, written_swatch
from companion.planning.request.stitch_pattern import StitchPattern
from companion.planning.stitches.ready import READY
from tests.knitting.flat_piece import Fabric, lies_in
from tests.planning.asking import asked, planned
from tests.planning.pattern.laid_out import described_rounds
from tests.planning.patterned import stitch_patterns
from tests.reader import read_words
from tests.written_plan import OPS

ROW = re.compile(r"Rows? (?P<numbers>[\d, and]+) \((?P<side>RS|WS)\), read from the (?P<end>right|left): (?P<words>.*)")
TYPED: dict[str, tuple[str, ...]] = {
    "every round alike": ("k2, p2",),
    "three rounds": ("k3, p1", "sl1, k2, p1", "p4"),
    "crossed in even rounds": ("k4, p2", "2/2 RC, p2"),
    "decreased from both sides": ("yo, k1, yo, k3tog", "k2, ssk, yo", "k1tbl, p3", "sk2p, yo twice, p1"),
    "floats": ("sl1 wyif, k3", "k2, sl1 wyif, k1"),
}
CROSSED_IN_ALL = ("2/2 RC, p2", "p2, 2/2 LC")


def swatch_in_words(pattern: dict[str, Any]) -> WrittenSwatch:
    swatch = swatch_of(asked(leg={"stitch_pattern": pattern}))
    assert swatch
    return written_swatch(swatch, "cm")


def one_by_one(words: str) -> list[str]:
    """The operations of words, each working on its own."""

    def each(items: list[dict[str, Any]]) -> Iterator[str]:
        for item in items:
            yield from [*each(item["ops"])] * item["times"] if "times" in item else [item["op"]] * item.get("n", 1)

    return [*each(read_words(words))]


def rows_of(written: WrittenSwatch) -> list[tuple[str, list[str]]]:
    """Its rows in order: the side, and the operations."""
    found: dict[int, tuple[str, list[str]]] = {}
    for line in written.rows:
        row = ROW.fullmatch(line)
        assert row, line
        assert row["end"] == ("right" if row["side"] == "RS" else "left")
        for number in map(int, re.findall(r"\d+", row["numbers"])):
            found[number] = row["side"], one_by_one(row["words"])
    return [found[number] for number in sorted(found)]


def rounds_of(pattern: dict[str, Any]) -> tuple[tuple[str, ...], ...]:
    """The operations of each round over one repeat."""
    return described_rounds(pattern_lines(StitchPattern.model_validate(pattern)))


def check_swatch(pattern: dict[str, Any]) -> None:
    """Knits the swatch and a tube, twice through the rows, and compares what the right sides show."""
    written = swatch_in_words(pattern)
    swatch, rows, rounds = written.swatch, rows_of(written), rounds_of(pattern)
    sides = ("RS", "WS" if swatch.is_flat else "RS")
    assert [side for side, _ in rows] == [sides[number % 2] for number in range(len(rows))]
    wide = sum(OPS[op][0] for op in rounds[0])
    cast_on = re.match(r"Cast on (\d+) stitches", written.how)
    assert cast_on
    assert int(cast_on[1]) == swatch.repeats * wide + 2
    assert swatch.width_cm >= 10

    fabric = Fabric()
    flat, tube = fabric.cast_on(swatch.repeats * wide + 2), fabric.cast_on((swatch.repeats + 1) * wide)
    for number in range(2 * len(rows)):
        side, ops = rows[number % len(rows)]
        flat = fabric.row(flat, ops, side)
        tube = fabric.row(tube, rounds[(number + swatch.begins) % len(rounds)] * (swatch.repeats + 1))
    assert lies_in(flat[1:-1], tube)


@pytest.mark.parametrize("name", READY)
def test_a_swatch_of_a_ready_pattern_looks_like_its_rounds(name: str) -> None:
    check_swatch({"name": name})
    assert swatch_in_words({"name": name}).swatch.is_flat


@pytest.mark.parametrize("name", TYPED)
def test_a_swatch_has_an_even_number_of_rows_and_begins_where_it_can_be_worked_flat(name: str) -> None:
    pattern = {"rows": TYPED[name]}
    check_swatch(pattern)
    swatch = swatch_in_words(pattern).swatch
    assert swatch.is_flat
    assert len(swatch.rounds) % 2 == 0
    assert swatch.begins == (name == "crossed in even rounds")


@given(stitch_patterns())
def test_any_swatch_looks_like_its_rounds(pattern: dict[str, Any]) -> None:
    check_swatch(pattern)


def test_what_cannot_be_worked_from_the_wrong_side_is_worked_from_the_right_side_alone() -> None:
    written = swatch_in_words({"rows": CROSSED_IN_ALL})
    assert NOT_FLAT in written.how
    assert {side for side, _ in rows_of(written)} == {"RS"}


def written_pattern_of(**pattern: Any) -> Pattern:
    return pattern_of([Size("22 cm", planned(leg={"stitch_pattern": pattern}))], "cm")


def test_the_swatch_stands_in_the_files_with_its_abbreviations() -> None:
    pattern = written_pattern_of(rows=("k2, k2tog, yo", "yo, ssk, p2"))
    assert pattern.swatch
    for line in pattern.swatch.rows:
        assert f"\n{line}\n" in as_text(pattern)
        assert line in re.sub(r"\\(.)", r"\1", as_markdown_text(pattern))
    assert {"RS", "WS", "ssp"} <= pattern.abbreviations.keys()
    assert written_pattern_of(name="seed stitch").swatch
    assert pattern_of([Size("22 cm", planned())], "cm").swatch is None


def test_the_left_handed_read_the_same_rows_from_the_other_end() -> None:
    pattern = written_pattern_of(name="lace rib")
    assert pattern.swatch
    other = left_handed(as_text(pattern))
    for line in pattern.swatch.rows:
        end = "right" if "(RS)" in line else "left"
        exchanged = {"right": "left", "left": "right"}[end]
        assert line.replace(f"read from the {end}", f"read from the {exchanged}") in other


def test_a_swatch_is_about_as_wide_as_a_hand_and_no_narrower_than_what_is_counted() -> None:
    narrow, wide = swatch_in_words({"rows": ("k1, p1",)}).swatch, swatch_in_words({"rows": ("k30", "p30")}).swatch
    assert narrow.width_cm == pytest.approx(12, abs=1)
    assert (wide.repeats, wide.stitches) == (2, 62)
