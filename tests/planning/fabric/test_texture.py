"""A stitch pattern on a leg that is shaped: repeats from the front, and what is over plain at the centre back.

Between panels on front and back it is shaped at its sides.
"""

from __future__ import annotations

import pytest

from companion.planning import CannotKnitError, Plan
from companion.planning.fabric.panel import panel_on_the_leg
from companion.planning.pattern.rounds_text import PATTERN_ROUND, round_words, section_lines
from companion.planning.plan.rounds import op, row
from companion.planning.request.stitch_pattern import StitchPattern
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


@pytest.mark.parametrize(("ball", "gauge", "instep", "leg"), [(20, 30, 28, 55), (24, 34, 39, 77), (26, 24, 30, 66)])
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


PURLED = {"p", "p2tog", "ssp", "m1p"}


@pytest.mark.parametrize("beside", ["plain", "purl", "p2 k2", "k1 p1"])
@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_a_leg_is_shaped_between_two_panels_whose_columns_and_those_beside_them_run_on(
    direction: str, beside: str
) -> None:
    """Purl lies on purl and knit on knit, but for the pair that shapes where the columns of two panels meet."""
    panels = {"on": "front and back", "repeats": 3, "beside": beside}
    plan = planned(
        leg={"length_cm": 24, "stitch_pattern": {"name": "k3 p1 rib", "placement": panels}},
        foot={"leg_circumference_cm": 29},
        foot_pattern="instep follows the leg",
        construction={"direction": direction},
    )
    leg = [worked for worked in knit_plan(plan).section("leg") if worked.written.before]
    begun = next(at for at, worked in enumerate(leg) if {"k", "p"} <= set(worked.written.ops))
    shaping = 0
    for worked in leg[begun + 1 :]:
        shaped = worked.written.before != worked.written.after
        shaping += shaped
        off = [each for each in worked.made if each.parents and (each.op in PURLED) != (each.parents[0].op in PURLED)]
        assert len(off) <= 2 * shaped, worked.written.place
    assert shaping > 6
    said = "narrowed at both sides, between its panels" if direction == "cuff-down" else "widened at both sides"
    assert any(said in (item.note or "") for item in section(plan, "leg").rounds())


def test_two_panels_with_a_leg_shaped_between_them_worked_out_by_hand() -> None:
    """Beside panels of 14 a back of 37 stitches has 11 and 12, and a front of 36 has 11 and 11: sides of 22 and 23."""
    panel = StitchPattern.model_validate(
        {"name": "cable rib", "placement": {"on": "front and back", "repeats": 2, "beside": "purl"}}
    ).panel
    assert panel
    ops = op("k", 15) + op("ssk") + op("k", 2) + op("k2tog") + op("k", 52)
    laid = row(("leg", panel_on_the_leg(panel, 0, ops, 36, back=True)), before=73)
    said = "ssp, p9, [p2, 2/2 RC] x 2, p12, p2tog, p11, [p2, 2/2 RC] x 2, p13"
    assert (round_words(laid), laid.after) == (said, 71)


def test_two_panels_that_leave_a_shaped_back_no_stitch_beside_them_are_refused_with_the_sum() -> None:
    panels = {"on": "front and back", "repeats": 8, "beside": "plain"}
    with pytest.raises(CannotKnitError, match="33 stitches and the back of the leg 34 at its narrowest"):
        planned(
            leg={"length_cm": 24, "stitch_pattern": {"name": "k3 p1 rib", "placement": panels}},
            foot={"leg_circumference_cm": 29},
        )


def test_panels_on_front_and_back_begin_where_a_leg_that_widens_has_room_for_both() -> None:
    plan = planned(
        foot={"ball_circumference_cm": 12.6, "length_cm": 11},
        gauge={"stitches_per_10cm": 18.5, "rounds_per_10cm": None},
        ease={"circumference_percent": 0, "length_cm": 0},
        construction={"direction": "toe-up", "heel": "strong"},
        cuff={"rib": "k1 p1", "length_cm": 1},
        leg={
            "length_cm": 6,
            "stitch_pattern": {
                "name": "cable rib",
                "stitches_per_10cm": 21.5,
                "rounds_per_10cm": 21.2,
                "placement": {"on": "front and back", "repeats": 2, "beside": "plain"},
            },
        },
    )
    knit_plan(plan)
    leg = [plan.rounds()[place] for place in plan.span("leg")]
    assert {item.after for item in leg if not item.chart_row} == {26, 28}
    assert {(item.before, item.after) for item in leg if item.chart_row} == {(28, 28)}
