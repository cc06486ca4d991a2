"""The files of a pattern for knitting from left to right: the same rounds, the sides in words exchanged."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from companion.planning import pattern_of, written_pattern
from companion.planning.pattern.left_handed import TOLD, left_handed
from companion.planning.pattern.pattern import Pattern, Size
from companion.planning.pattern.render import as_markdown_text, as_text
from tests.planning.asking import planned

ROUND = re.compile(r"\A(?:- \*\*)?(?:(?:RS|WS) )?(?:rounds?|rows?) ", re.IGNORECASE)
CHART = {"width": 4, "rows": ["AAAB", "ABBB"]}


@pytest.mark.parametrize("write", [as_text, as_markdown_text])
def test_only_sides_change_and_the_title_stays(write: Callable[[Pattern], str]) -> None:
    plan = planned(
        title="For my left foot",
        construction={"toe": "left foot"},
        leg={"chart": CHART},
        yarns=[{"key": "A"}, {"key": "B"}],
    )
    usual = write(pattern_of([Size("22 cm", plan)], "cm"))
    other = left_handed(usual)
    assert other.splitlines()[0] == usual.splitlines()[0]
    assert other.splitlines()[2] == TOLD
    lines = dict(zip(usual.splitlines()[1:], other.splitlines()[3:], strict=True))
    rounds = [line for line in lines if ROUND.match(line)]
    assert len(rounds) > 15
    assert all(lines[line] == line for line in rounds)
    text = "\n".join(lines.values())
    for said in (
        "knit two together: one less, leaning to the left",
        "through the back loops: one less, leaning to the right",
        "This sock is for the right foot",
        "as it is knitted, from its left end",
        "the yarn comes from the left end of the back needle",
        "right side, the outside of the sock",
    ):
        assert said in text


def test_a_plan_as_text_can_be_read_so_too() -> None:
    plan = planned()
    assert "leaning to the right" in written_pattern(plan, "cm")
    assert re.search("k2tog: .* leaning to the left", left_handed(written_pattern(plan, "cm")))
