"""Where the stitches lie on the needles when a section begins."""

from __future__ import annotations

import re
from typing import get_args

import pytest

from companion.planning.needles import needle_notes
from companion.planning.request import Arrangement
from tests.planning.asking import planned

CONSTRUCTIONS = [
    {"direction": direction, "heel": heel}
    for direction in ("cuff-down", "toe-up")
    for heel in ("flap", "short-row", "short-row with gusset", "afterthought")
]


@pytest.mark.parametrize("construction", CONSTRUCTIONS, ids=lambda each: " ".join(each.values()))
@pytest.mark.parametrize("arrangement", get_args(Arrangement))
def test_all_stitches_are_on_some_needle(construction: dict[str, str], arrangement: Arrangement) -> None:
    plan = planned(construction=construction, needles={"arrangement": arrangement})
    notes = needle_notes(plan)
    assert list(notes) == [section.key for section in plan.sections]
    if arrangement == "short circular":
        return
    for section in plan.sections:
        first = section.rounds()[0]
        numbers = re.sub(r"needle \d", "", notes[section.key])
        assert sum(map(int, re.findall(r"\d+", numbers))) == (first.before or first.after), section.key


def test_the_heel_is_on_one_needle_while_it_is_worked_in_rows() -> None:
    notes = needle_notes(planned())
    assert notes["heel-flap"] == "34 stitches on one needle; 17 and 17 wait on two others."
    assert notes["gusset"].startswith("10, 10, 17 and 17 stitches")
