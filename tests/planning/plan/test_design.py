"""A design and a body make a plan request; notes and stages find their place in any construction."""

from __future__ import annotations

from itertools import accumulate, product
from typing import Any

import pytest

from companion.planning import Plan, PlanRequest, make_plan
from companion.planning.construction.design_sections import notes_by_section, rounds_until, section_ends
from companion.planning.pattern.size_grid import grid_of
from companion.planning.plan.design import Design, read_design, request_for
from companion.planning.plan.document import PARTS_OF_SOCK
from companion.planning.request.construction import Construction
from companion.planning.request.foot import Foot
from companion.planning.request.plan_request import Gauge
from tests.planning.requests import DIRECTIONS, HEELS, TOES

FOOT = Foot(ball_circumference_cm=22.5, length_cm=24.5, heel_diagonal_cm=32)
GAUGE = Gauge(stitches_per_10cm=30)

SPOKEN_OF = {
    "cuff": "cuff",
    "leg": "leg",
    "heel-flap": "heel",
    "heel-turn": "heel",
    "heel-opening": "heel",
    "heel": "heel",
    "gusset-increases": "gusset",
    "gusset": "gusset",
    "foot": "foot",
    "toe": "toe",
}
"""What a knitter calls the part of the sock that each section belongs to (common practice)."""

CONSTRUCTIONS = [
    Construction(direction=direction, heel=heel, toe=toe) for direction, heel, toe in product(DIRECTIONS, HEELS, TOES)
]


def plan_of(construction: Construction) -> Plan:
    return make_plan(PlanRequest(foot=FOOT, gauge=GAUGE, construction=construction))


def test_a_design_takes_every_entry_of_a_request_but_the_body_and_the_construction() -> None:
    own = {
        "constructions",
        "notes",
        "own",
        "leader",
        "welcome",
        "numbers_hidden",
        "hidden_until",
        "time_zone",
        "stages",
    }
    assert set(Design.model_fields) - own == set(PlanRequest.model_fields) - {
        "foot",
        "other_foot",
        "gauge",
        "construction",
    }


def test_the_request_of_a_follower_has_the_design_and_her_own_body() -> None:
    data = {"title": "Larch", "cuff": {"rib": "k1 p1", "length_cm": 6}, "leg": {"length_cm": 9}}
    design, faults = read_design(data)
    assert design, faults
    assert request_for(design, FOOT, GAUGE) == PlanRequest.model_validate(
        {**data, "foot": FOOT.model_dump(), "gauge": GAUGE.model_dump()}
    )


def test_a_leg_until_half_the_yarn_leaves_the_constructions_from_the_toe_up() -> None:
    both = [{"direction": "toe-up"}, {"direction": "cuff-down"}, {"direction": "toe-up", "heel": "short-row"}]
    design, faults = read_design({"constructions": both, "leg": {"until": "half the yarn"}})
    assert design, faults
    assert [one.heel for one in design.constructions if one.direction == "toe-up"] == ["flap", "short-row"]
    assert len(design.constructions) == 2
    for construction in (*design.constructions, Construction()):
        assert make_plan(request_for(design, FOOT, GAUGE, construction)).request.construction.direction == "toe-up"


def test_a_leg_until_half_the_yarn_from_the_cuff_down_alone_is_reported() -> None:
    design, [fault] = read_design({"leg": {"until": "half the yarn"}})
    assert design is None
    assert "only from the toe up" in fault.message


def test_a_follower_takes_any_construction_allowed_and_no_other() -> None:
    flap, short_row = Construction(), Construction(heel="short-row")
    design = Design(constructions=(flap, short_row))
    assert request_for(design, FOOT, GAUGE, short_row).construction == short_row
    assert request_for(design, FOOT, GAUGE).construction == flap
    assert request_for(design, FOOT, GAUGE, Construction(toe="round")).construction == flap


@pytest.mark.parametrize(
    ("wrong", "where"),
    [
        ({"foot": {"ball_circumference_cm": 23, "length_cm": 25}}, "foot"),
        ({"constructions": []}, "constructions"),
        ({"constructions": [{}, {"heel": "flap"}]}, "constructions"),
        ({"stages": [{"name": "", "until": "leg", "by": "2026-12-06"}]}, "stages.0.name"),
        ({"stages": [{"name": "Leg", "until": "thumb", "by": "2026-12-06"}]}, "stages.0.until"),
        ({"stages": [{"name": "Leg", "until": "leg", "by": "2026-02-30"}]}, "stages.0.by"),
        ({"stages": [{"name": "Leg", "until": "leg", "by": "Sunday"}]}, "stages.0.by"),
        ({"stages": [{"name": "Leg", "until": "leg", "by": "2026-12-06"}] * 9}, "stages"),
        ({"time_zone": "../etc"}, "time_zone"),
        ({"notes": {"leg": "x" * 1001}}, "notes.leg"),
        ({"leg": {"length_cm": 0}}, "leg.length_cm"),
        ({"yarns": []}, "yarns"),
    ],
)
def test_what_is_wrong_is_reported_by_its_entry(wrong: dict[str, Any], where: str) -> None:
    design, faults = read_design(wrong)
    assert design is None
    assert [fault.where for fault in faults] == [where]
    assert faults[0].message


def test_a_design_survives_being_written_and_read() -> None:
    data = {
        "notes": {"heel": "Slip\x07 one\r\n\r\nthen two"},
        "stages": [{"name": "Leg", "until": "leg", "by": "2026-12-06"}],
    }
    design, _ = read_design(data)
    assert design
    assert design.notes["heel"] == "Slip  one\n\nthen two"
    assert Design.model_validate_json(design.model_dump_json()) == design


CHILD = Foot(ball_circumference_cm=16, length_cm=15)
STRANDED = {"leg": {"chart": {"width": 2, "rows": ["AB"]}}, "yarns": [{"key": "A"}, {"key": "B"}]}


@pytest.mark.parametrize(
    ("data", "ease"),
    [
        # Half as much shorter for a child as for an adult, and half as much narrower where it is stranded
        # (the sources stand beside the rules).
        ({}, (10, 0.75)),
        (STRANDED, (5, 0.75)),
        ({"ease": {"length_cm": 1.0}}, (10, 1.0)),
        ({**STRANDED, "ease": {"circumference_percent": 10}}, (10, 0.75)),
    ],
)
def test_ease_that_a_leader_left_out_suits_each_foot_also_when_the_design_was_kept(
    data: dict[str, Any], ease: tuple[float, float]
) -> None:
    design, _ = read_design(data)
    assert design
    kept = Design.model_validate_json(design.model_dump_json())
    for each in (design, kept, kept.sock_alone()):
        wanted = request_for(each, CHILD, GAUGE).ease
        assert (wanted.circumference_percent, wanted.length_cm) == ease
    [[cell]] = grid_of(request_for(kept, FOOT, GAUGE), [CHILD], [GAUGE]).cells
    assert cell.plan == make_plan(request_for(kept, CHILD, GAUGE)), "the grid has what a follower gets"


@pytest.mark.parametrize("construction", CONSTRUCTIONS, ids=str)
def test_notes_stand_at_every_section_of_their_part(construction: Construction) -> None:
    plan = plan_of(construction)
    notes = notes_by_section(Design(notes={part: part for part in PARTS_OF_SOCK}), plan)
    assert notes == {section.key: SPOKEN_OF[section.key] for section in plan.sections}
    assert notes_by_section(Design(notes={"gusset": "", "toe": "Soon"}), plan) == {"toe": "Soon"}


@pytest.mark.parametrize("construction", CONSTRUCTIONS, ids=str)
def test_a_part_is_done_with_the_last_of_its_sections(construction: Construction) -> None:
    plan = plan_of(construction)
    ends = dict(
        zip(
            (section.key for section in plan.sections),
            accumulate(len(section.rounds()) for section in plan.sections),
            strict=True,
        )
    )
    for part in PARTS_OF_SOCK:
        own = [end for key, end in ends.items() if SPOKEN_OF[key] == part]
        assert rounds_until(section_ends(plan), part) == max(
            own or [end for key, end in ends.items() if SPOKEN_OF[key] == "heel"]
        )
    assert max(rounds_until(section_ends(plan), part) for part in PARTS_OF_SOCK) == len(plan.rounds())
