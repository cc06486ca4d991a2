"""Rounds of a stitch pattern as steps: gone through one after the other they are the round, and rests have none."""

from __future__ import annotations

import re
from itertools import groupby
from typing import Any

import pytest
from hypothesis import given

from companion.planning.pattern.stepwise import HandPart, repeats_of
from companion.planning.plan.document import Round
from tests.planning.asking import WHOLE_PLANS, document_of, plan_or_leave, planned, section
from tests.planning.patterned import patterned_requests
from tests.planning.test_patterned_plans import written_out
from tests.reader import read_words
from tests.written_plan import CABLES, OPS

IN_ONE_YARN = re.compile(r"(: )?all in [a-d]$")
"""What is said of a round in stripes before its stitches."""

LACE = ["k1, yo, k2, ssk, k2tog, k2, yo, k1, p1", "k10, p1"]


def gone_through(parts: tuple[HandPart, ...]) -> list[tuple[str, list[str]]]:
    """The stitches of all steps one by one, zone by zone."""
    told = [(*part.text.rpartition(": ")[::2], part.times) for part in parts]
    steps = [(IN_ONE_YARN.sub("", zone.lower()), words, times) for zone, words, times in told]
    return [
        (zone, [name for _, words, times in same for name in written_out(read_words(words)) * times])
        for zone, same in groupby(steps, key=lambda step: step[0])
    ]


def worked(item: Round) -> list[tuple[str, list[str]]]:
    """The same of the round, from its document; a single zone is not named."""
    found = [(part["zone"], written_out(part["ops"])) for part in document_of(item)["work"]]
    return found if len(found) > 1 else [("", found[0][1])]


@WHOLE_PLANS
@given(data=patterned_requests())
def test_the_steps_of_a_round_are_the_round(data: dict[str, Any]) -> None:
    for item in {each for each in plan_or_leave(data).rounds() if each.chart_row}:
        parts = repeats_of(item)
        assert not parts or gone_through(parts) == worked(item)
        for part in parts:
            names = written_out(read_words(part.text.rpartition(": ")[2]))
            careful = any(name in CABLES or OPS[name] not in {(1, 1), (0, 0)} for name in names)
            assert (part.each == "repeat") == (part.times > 1)
            assert careful or part.each == "stitch"


@pytest.mark.parametrize("follows", ["plain", "instep follows the leg"])
def test_each_repeat_of_a_lace_round_is_a_step_and_a_plain_one_has_none(follows: str) -> None:
    """By hand: a leg of 66 is six repeats of 11; the instep of 34 has three and the purl that closes them."""
    foot = {"ball_circumference_cm": 25, "length_cm": 26}
    plan = planned(foot=foot, leg={"stitch_pattern": {"rows": LACE}}, foot_pattern=follows)
    lace, rest = section(plan, "leg").rounds()[1:3]
    assert repeats_of(lace) == (HandPart("k1, yo, k2, ssk, k2tog, k2, yo, k1, p1", 6, "repeat"),)
    assert repeats_of(rest) == ()
    in_foot = [repeats_of(item) for item in section(plan, "foot").rounds() if item.chart_row == 1]
    if follows == "plain":
        assert not in_foot
        return
    assert in_foot[0] == (
        HandPart("Sole: k36", 1),
        HandPart("Instep: p1, k1, yo, k2, ssk, k2tog, k2, yo, k1", 3, "repeat"),
        HandPart("Instep: p1", 1),
    )


def test_a_long_stretch_of_lace_that_repeats_nothing_is_stepped_in_pieces_that_give_back_what_they_take() -> None:
    """By hand: an instep of 34 has one and a half repeats of 22, and what closes them; a short panel stays whole."""
    rows = ["k1, yo, k8, ssk, k2tog, k8, yo, k1", "k22"]
    foot = {"ball_circumference_cm": 24, "length_cm": 25}
    plan = planned(
        foot=foot,
        gauge={"stitches_per_10cm": 36, "rounds_per_10cm": 50},
        leg={"stitch_pattern": {"rows": rows}},
        foot_pattern="instep follows the leg",
    )
    lace = next(item for item in section(plan, "foot").rounds() if item.chart_row == 1)
    assert repeats_of(lace) == (
        HandPart("Sole: k42", 1),
        HandPart("Instep: k2, k2tog, k8, yo", 1),
        HandPart("Instep: k2, yo, k8, ssk", 1),
        HandPart("Instep: k10", 1),
    )
    panel = planned(leg={"stitch_pattern": {"name": "lace rib", "placement": {"on": "front"}}})
    assert not any(map(repeats_of, section(panel, "leg").rounds()))
