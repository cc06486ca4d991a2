"""Every sock in a stitch pattern can be knitted, has its sizes, and shows the pattern where it is said to be.

The knitter, the reader of words and the shape are independent of the planning core.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.planning import Check, Plan, PlanRequest, pattern_of, read_plan, read_request
from companion.planning.gauge.check import Spot
from companion.planning.pattern.pattern import Size
from companion.planning.pattern.render import as_markdown_text, as_text
from companion.planning.pattern.rounds_text import round_words
from companion.planning.stitches.fabric import fabric_by_kind
from companion.planning.stitches.ready import READY
from tests.knitter import Stitch, WorkedRound
from tests.planning.asking import (
    WHOLE_PLANS,
    document_of,
    knit_plan,
    plan_or_leave,
    planned,
    recalculated_or_leave,
    section,
    worked_out_again,
)
from tests.planning.patterned import patterned_requests, takes
from tests.planning.requests import HEELS_AND_TOES, each_with, names
from tests.reader import read_words, read_zones
from tests.shape import Pattern, Tape, shape
from tests.written_plan import written_rounds

FOLLOWS = "instep follows the leg"
FEW_ROUNDS = 12
COLUMNS = ("k2 p2 rib", "k3 p1 rib", "twisted rib")
"""Patterns all of whose rounds are alike."""


def written_out(ops: Sequence[Any]) -> list[str]:
    """Operations one by one."""
    return [
        name
        for op in ops
        for name in (written_out(op["ops"]) * op["times"] if "ops" in op else [op["op"]] * op.get("n", 1))
    ]


def typed(plan: Plan) -> list[list[str]]:
    """The rounds of the pattern as an independent reader reads them, each as wide as the repeat."""
    pattern = plan.request.leg.stitch_pattern
    assert pattern
    rows: dict[int, list[str]] = {}
    for number, row in enumerate(pattern.rows, start=1):
        label, _, words = row.rpartition(": ")
        ops = written_out(read_words({"knit": "k1"}.get(words, words.replace("yo twice", "yo x 2"))))
        first, _, last = label.removeprefix("Rounds ").removeprefix("Round ").partition("-")
        rows |= dict.fromkeys(range(int(first or number), int(last or first or number) + 1), ops)
    width = max(sum(map(takes, ops)) for ops in rows.values())
    return [ops * (width // sum(map(takes, ops))) for _, ops in sorted(rows.items())]


def in_pattern(request: PlanRequest, stitches: float, rounds: float) -> Pattern:
    """The fabric of a leg in pattern as it was counted, and else by its kind."""
    pattern = request.leg.stitch_pattern
    assert pattern
    likely = fabric_by_kind(pattern.rounds)
    wide, high = pattern.stitches_per_10cm, pattern.rounds_per_10cm
    tape = Tape(wide / 10 if wide else stitches * likely.stitches, high / 10 if high else rounds * likely.rounds)
    panel, placed = pattern.panel, pattern.placement
    if panel is None or placed is None:
        return Pattern(tape, follows=request.instep_follows, repeat=pattern.width)
    panels = 2 if placed.on == "front and back" else 1
    return Pattern(tape, request.instep_follows, on_leg=panels * panel.width, on_instep=panel.width)


def beginnings(ops: list[str], row: list[str]) -> set[int]:
    """The stitches of the repeat, from 0, with which a round that is nothing but its repeats can begin."""
    if len(ops) % len(row):
        return set()
    whole = len(ops) // len(row)
    return {sum(map(takes, row[:at])) for at in range(len(row)) if ops == (row[at:] + row[:at]) * whole}


@WHOLE_PLANS
@given(patterned_requests(), st.integers(0, 1000))
def test_every_patterned_plan_can_be_knitted_with_its_sizes_and_is_worked_out_again_the_same(
    data: dict[str, Any], part: int
) -> None:
    plan = plan_or_leave(data)
    request = plan.request
    stitches = request.gauge.stitches_per_10cm / 10
    rounds = (request.gauge.rounds_per_10cm or request.gauge.stitches_per_10cm * 1.35) / 10
    found = shape(knit_plan(plan), stitches, rounds, in_pattern(request, stitches, rounds))
    assert found.leg_cm == pytest.approx(plan.sizes.leg_cm)
    # Where gusset and toe meet, the foot is measured on the toe, which is plain.
    assert found.foot_cm == pytest.approx(plan.sizes.foot_circumference_cm, abs=1e-6 if plan.span("foot") else 0.1)
    assert found.foot_length_cm == pytest.approx(plan.sizes.foot_length_cm)
    assert found.heel_pass_cm == pytest.approx(plan.sizes.heel_pass_cm)
    assert read_plan(json.loads(plan.model_dump_json())) == (plan, [])
    assert worked_out_again(plan, part * plan.count // 1000).rounds() == plan.rounds()


@WHOLE_PLANS
@given(patterned_requests(placed=False))
def test_the_leg_has_whole_repeats_that_begin_with_the_same_stitch_in_every_round_of_as_many_stitches(
    data: dict[str, Any],
) -> None:
    plan = plan_or_leave(data)
    rows, width = typed(plan), sum(map(takes, typed(plan)[0]))
    leg = [item for item in plan.rounds() if item.work[0].zone == "leg" and item.chart_row]
    straight = [item for item in leg if item.before == item.after and item.before % width == 0]
    if not straight:
        # From the toe up a leg gets its count in steps, and finishes the rows before each: a low one ends before that.
        assert plan.request.construction.direction == "toe-up"
        assert len(section(plan, "leg").rounds()) < FEW_ROUNDS + len(rows)
        return
    if plan.request.construction.direction == "cuff-down" or data["foot_pattern"] == "plain":
        assert [item.chart_row for item in leg] == [number % len(rows) + 1 for number in range(len(leg))]
    common = {item.before: set(range(width)) for item in straight}
    for item in straight:
        assert item.chart_row
        common[item.before] &= beginnings(written_out(document_of(item)["work"][0]["ops"]), rows[item.chart_row - 1])
    assert all(common.values())


@WHOLE_PLANS
@given(patterned_requests(placed=True))
def test_a_panel_lies_on_the_middle_of_the_front_with_mirrored_columns_beside_it(data: dict[str, Any]) -> None:
    """Each round is the columns beside, a stretch of whole repeats and what closes them, and the columns mirrored."""
    plan = plan_or_leave(data)
    rows, asked = typed(plan), plan.request.leg.stitch_pattern
    assert asked
    assert asked.placement
    beside = asked.placement.beside
    columns = {"plain": ["k"], "purl": ["p"]}.get(beside) or written_out(read_words(beside.replace(" ", ", ")))
    for item in {item for item in plan.rounds() if item.chart_row and item.work[-1].zone == "instep"}:
        assert item.chart_row
        ops, row = written_out(document_of(item)["work"][-1]["ops"]), rows[item.chart_row - 1]
        least = asked.placement.repeats * len(row)
        splits = [(begin, end) for begin in range(len(ops)) for end in range(begin + least, len(ops) + 1)]
        assert any(
            abs(sum(map(takes, ops[:begin])) - sum(map(takes, ops[end:]))) <= 1
            and _outwards(ops[:begin][::-1], columns)
            and _outwards(ops[end:], columns)
            and _is_of(ops[begin:end], row)
            for begin, end in splits
        ), ops


def _outwards(ops: list[str], columns: list[str]) -> bool:
    """Whether stitches are those beside a panel, from it on."""
    return all(op == columns[at % len(columns)] for at, op in enumerate(ops))


def _is_of(ops: list[str], row: list[str]) -> bool:
    """Whether a stretch is of a row that is worked over and over, from any of its stitches on."""
    over_and_over = row * (len(ops) // len(row) + 2)
    return any(over_and_over[at : at + len(ops)] == ops for at in range(len(row)))


@pytest.mark.parametrize("construction", HEELS_AND_TOES, ids=names)
def test_the_columns_of_a_panel_and_those_beside_it_run_down_to_the_toe(construction: dict[str, str]) -> None:
    """On a sock of one count every purl of leg and instep is knitted on by a purl, up to where all of it is plain."""
    plan = planned(
        leg={
            "length_cm": 8,
            "stitch_pattern": {"name": "k3 p1 rib", "placement": {"on": "front", "repeats": 2, "beside": "p2 k2"}},
        },
        foot_pattern=FOLLOWS,
        construction=construction,
        foot={"ball_circumference_cm": 22.2, "length_cm": 24},
    )
    assert plan.sizes.leg_stitches == plan.sizes.foot_stitches == 64
    in_pattern = [item.chart_row is not None for item in plan.rounds()]
    begun, leg = in_pattern.index(True), plan.span("leg").start
    checked = 0
    for number, worked in enumerate(knit_plan(plan).rounds):
        if in_pattern[number] and number not in (begun, leg):
            for stitch in worked.made:
                if stitch.op == "p":
                    assert stitch.parents[0].op == "p", worked.written.place
                    checked += 1
    assert checked > 500


@WHOLE_PLANS
@given(patterned_requests())
def test_the_words_of_every_patterned_round_read_back_to_it(data: dict[str, Any]) -> None:
    for item in set(plan_or_leave(data).rounds()):
        work = document_of(item)["work"]
        zones = [part["zone"] for part in work] if len(work) > 1 else [""]
        assert read_zones(round_words(item)) == [
            {"zone": zone, "ops": part["ops"]} for zone, part in zip(zones, work, strict=True)
        ]


@WHOLE_PLANS
@given(patterned_requests(), st.integers(0, 1000), st.integers(-15, 15), st.integers(-15, 15), st.booleans())
def test_a_patterned_sock_is_worked_out_again_and_what_is_knitted_stays(
    data: dict[str, Any], part: int, stitches_off: int, rounds_off: int, counted_in_pattern: bool
) -> None:
    plan = plan_or_leave(data)
    done = part * plan.count // 1000
    stitches = data["gauge"]["stitches_per_10cm"] / 10
    tape = Tape(stitches, (data["gauge"]["rounds_per_10cm"] or stitches * 13.5) / 10)
    if counted_in_pattern:
        tape = in_pattern(plan.request, tape.stitches, tape.rounds).tape
    check = Check(
        stitches=(Spot(count=round(tape.stitches * (100 + stitches_off) / 5, 1), over_cm=20),),
        rounds=(Spot(count=round(tape.rounds * (100 + rounds_off) / 5, 1), over_cm=20),),
        in_pattern=counted_in_pattern,
    )
    found = recalculated_or_leave(plan, done, [check])
    for option in found.options:
        assert option.plan.rounds()[: option.done] == plan.rounds()[: option.done]
        knit_plan(option.plan)
        assert read_plan(option.plan.model_dump(mode="json")) == (option.plan, [])


def purl(pattern: str) -> str:
    """The stitch that tells the columns of a ribbing apart."""
    return "ktbl" if pattern == "twisted rib" else "p"


def purls(worked: WorkedRound, pattern: str) -> list[Stitch]:
    return [stitch for stitch in worked.made if stitch.op == purl(pattern)]


@pytest.mark.parametrize(("construction", "pattern"), each_with([*COLUMNS]))
def test_columns_run_from_the_cuff_to_the_toe_without_a_step(pattern: str, construction: dict[str, str]) -> None:
    """On a sock of one count every purl of leg and instep lies on a purl, or on the plain edge of the pattern."""
    rib = "k1tbl p1" if pattern == "twisted rib" else pattern.removesuffix(" rib")
    plan = planned(
        leg={"length_cm": 8, "stitch_pattern": {"name": pattern}},
        foot_pattern=FOLLOWS,
        construction=construction,
        cuff={"rib": rib},
        foot={"ball_circumference_cm": 22.2, "length_cm": 24},
    )
    assert plan.sizes.leg_stitches == plan.sizes.foot_stitches == 64
    in_pattern = [item.chart_row is not None for item in plan.rounds()]
    begun = in_pattern.index(True)
    over_the_heel = plan.span("leg").start if construction["direction"] == "toe-up" else None
    checked = 0
    for number, worked in enumerate(knit_plan(plan).rounds):
        if number == begun or not in_pattern[number]:
            continue
        for stitch in purls(worked, pattern):
            if number != over_the_heel:
                assert stitch.parents[0].op == stitch.op, worked.written.place
                checked += 1
        if number == over_the_heel:
            # From the toe up the leg begins all round over a plain heel, and over the columns of the instep.
            below = [(stitch, stitch.parents[0]) for stitch in worked.made]
            there = [stitch for stitch, parent in below if parent.op == purl(pattern) and not parent.flat]
            assert len(there) > 5
            assert {stitch.op for stitch in there} == {purl(pattern)}
    assert checked > 500


@pytest.mark.parametrize("rib", ["k2 p1", "k10 p1"])
def test_columns_of_an_odd_repeat_run_from_an_odd_instep_into_the_leg(rib: str) -> None:
    """From the toe up on 66 stitches, 33 of them the instep's: every purl there is knitted on by a purl of the leg."""
    plan = planned(
        leg={"length_cm": 8, "stitch_pattern": {"rows": [rib]}},
        foot_pattern=FOLLOWS,
        construction={"direction": "toe-up", "heel": "afterthought"},
        cuff={"rib": "k2 p1"},
        foot={"ball_circumference_cm": 22.9, "length_cm": 24},
    )
    assert plan.sizes.leg_stitches == plan.sizes.foot_stitches == 66
    leg = knit_plan(plan).section("leg")
    below = [(stitch.op, stitch.parents[0].op) for stitch in leg[0].made if stitch.parents[0].op != "co"]
    purls_of_the_instep = [op for op, parent in below if parent == "p"]
    assert len(purls_of_the_instep) >= 2
    assert set(purls_of_the_instep) == {"p"}


@pytest.mark.parametrize("pattern", READY)
@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_the_instep_shows_one_stretch_of_the_pattern_that_begins_and_ends_alike(pattern: str, direction: str) -> None:
    plan = planned(
        leg={"stitch_pattern": {"name": pattern}}, foot_pattern=FOLLOWS, construction={"direction": direction}
    )
    rows = typed(plan)
    foot = [item for item in plan.rounds() if item.chart_row and item.work[-1].zone == "instep"]
    shown: dict[int, list[str]] = {}
    for item in foot:
        assert item.chart_row
        ops = written_out(document_of(item)["work"][-1]["ops"])
        assert shown.setdefault(item.chart_row, ops) == ops
        assert set(ops) - {"k"} <= set(rows[item.chart_row - 1])
    assert len(shown) == len(rows)
    edges = [
        next((number, op) for number, op in enumerate(side) if op != "k")
        for ops in shown.values()
        if set(ops) - {"k"}
        for side in (ops, ops[::-1])
    ]
    for (left, first), (right, last) in zip(edges[::2], edges[1::2], strict=True):
        assert first == last
        assert abs(left - right) <= 3
    assert any("begins and ends alike" in (item.note or "") for item in foot)


@pytest.mark.parametrize("pattern", READY)
def test_a_written_pattern_describes_the_repeat_and_every_round(pattern: str) -> None:
    plan = planned(leg={"stitch_pattern": {"name": pattern}}, foot_pattern=FOLLOWS)
    for text in (as_text(pattern_of([Size("M", plan)], "cm")), as_markdown_text(pattern_of([Size("M", plan)], "cm"))):
        assert "Stitch pattern" in text
        assert f"{pattern}: " in text
        assert "pattern from round 1 on" in text or "pattern round 1" in text


def test_the_document_of_a_pattern_by_name_explains_itself() -> None:
    plan = planned(leg={"stitch_pattern": {"name": "broken rib"}})
    document = json.loads(plan.model_dump_json())
    assert document["request"]["leg"]["stitch_pattern"] == {"name": "broken rib", "rows": ["k1, p1", "knit"]}
    assert list(written_rounds(document))


def test_a_plan_without_a_pattern_has_no_entry_for_one() -> None:
    assert list(json.loads(planned().model_dump_json())["request"]["leg"]) == ["length_cm", "chart", "until"]


def test_colours_and_a_stitch_pattern_together_are_refused_in_a_sentence() -> None:
    chart = {"width": 2, "rows": ["AA"]}
    request, faults = read_request(
        {
            "foot": {"ball_circumference_cm": 23, "length_cm": 25},
            "gauge": {"stitches_per_10cm": 32},
            "leg": {"chart": chart, "stitch_pattern": {"name": "seed stitch"}},
        }
    )
    assert request is None
    assert [str(fault) for fault in faults] == [
        "leg: a chart of colours and a stitch pattern are not planned together, only stripes are; "
        "leave one of the two out"
    ]
