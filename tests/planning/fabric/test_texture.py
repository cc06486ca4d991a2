"""A stitch pattern on a leg that is shaped: repeats from the front, and what is over plain at the centre back."""

from __future__ import annotations

import pytest

from companion.planning import Plan
from companion.planning.pattern.rounds_text import PATTERN_ROUND, round_words, section_lines
from companion.planning.stitches.ready import READY
from tests.planning.asking import knit_plan, planned, section


def shaped(name: str, direction: str = "cuff-down") -> Plan:
    """A plan whose leg is narrowed at the centre back for the calf, or widened from the toe up.

    Its pattern is as wide and high as plain knitting.
    """
    pattern = {"name": name, "stitches_per_10cm": 32, "rounds_per_10cm": 44}
    return planned(
        leg={"length_cm": 22, "stitch_pattern": pattern},
        foot={"leg_circumference_cm": 28},
        foot_pattern="instep follows the leg",
        construction={"direction": direction},
    )


@pytest.mark.parametrize("name", READY)
@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_a_shaped_leg_in_pattern_can_be_knitted(name: str, direction: str) -> None:
    plan = shaped(name, direction)
    counts = {item.before for item in section(plan, "leg").rounds() if item.chart_row}
    assert len(counts) > 4
    knit_plan(plan)


def test_the_stitches_over_lie_plain_at_the_centre_back_between_whole_repeats() -> None:
    """On 78, 76 and 74 stitches of a repeat of six, worked out by hand: thirteen whole ones, then twelve."""
    said = {round_words(item) for item in section(shaped("cable rib"), "leg").rounds()}
    assert {
        "[2/2 RC, p2] x 13",
        "[k4, p2] x 3, k1, ssk, k2, k2tog, k3, p2, [k4, p2] x 8",
        "[2/2 RC, p2] x 3, k4, [2/2 RC, p2] x 9",
        "[2/2 RC, p2] x 3, k2, [2/2 RC, p2] x 9",
        "[2/2 RC, p2] x 12",
    } <= said


def test_the_round_of_a_pattern_is_named_once_however_often_it_is_worked() -> None:
    plan = planned(leg={"length_cm": 12, "stitch_pattern": {"name": "k2 p2 rib"}})
    labels = [line.label for line in section_lines(section(plan, "leg"), PATTERN_ROUND)]
    assert [label.partition(" (")[2] for label in labels] == ["pattern round 1)"]
