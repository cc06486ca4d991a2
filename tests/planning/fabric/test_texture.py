"""A stitch pattern on a leg that is shaped: repeats from the front, and what is over plain at the centre back."""

from __future__ import annotations

import pytest

from companion.planning import Plan
from companion.planning.pattern.rounds_text import PATTERN_ROUND, round_words, section_lines
from companion.planning.stitches.ready import READY
from tests.planning.asking import document_of, knit_plan, planned, section
from tests.planning.patterned import takes
from tests.planning.test_patterned_plans import written_out


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


def off_the_middle(front: list[str]) -> float:
    """Stitches from the middle of a front to one of its ribs, the single knit stitch of each 11."""
    rib = next(at for at in range(2, len(front)) if front[at - 1 : at + 2] == ["p", "k", "p"])
    return (rib + 0.5 - len(front) / 2) % 11


@pytest.mark.parametrize(("ball", "gauge", "instep", "leg"), [(20, 30, 28, 66), (24, 34, 39, 88), (26, 24, 30, 66)])
def test_from_the_toe_up_wide_columns_run_on_from_the_middle_of_the_instep(
    ball: float, gauge: float, instep: int, leg: int
) -> None:
    """Where the leg has more stitches outer columns step aside; those in the middle go on as straight as a round can
    begin that cuts no cable of six: within half of it. By itself the leg would have lain half a repeat away."""
    rows = ["Round 1: 3/3 RC, p2, k1, p2", "Rounds 2-8: k6, p2, k1, p2"]
    plan = planned(
        leg={"length_cm": 10, "stitch_pattern": {"rows": rows}},
        foot={"ball_circumference_cm": ball, "length_cm": ball + 1},
        gauge={"stitches_per_10cm": gauge, "rounds_per_10cm": gauge * 1.4},
        foot_pattern="instep follows the leg",
        construction={"direction": "toe-up"},
    )
    shown: dict[str, list[str]] = {}
    for item in plan.rounds():
        part = document_of(item)["work"][-1]
        if item.chart_row == 1 and part["zone"] in ("instep", "leg"):
            shown.setdefault(part["zone"], [op for op in written_out(part["ops"]) for _ in range(takes(op))])
    assert (len(shown["instep"]), len(shown["leg"])) == (instep, leg)
    step = (off_the_middle(shown["leg"][-(leg // 2) :]) - off_the_middle(shown["instep"])) % 11
    assert min(step, 11 - step) <= 3
    knit_plan(plan)
