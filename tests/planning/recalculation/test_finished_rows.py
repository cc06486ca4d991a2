"""A stitch pattern or chart that was begun is finished up to the end of its rows before its stitches change."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, TypeAlias

from hypothesis import given
from hypothesis import strategies as st

from companion.planning import Check, Plan
from companion.planning.gauge.check import Spot
from companion.planning.gauge.estimate import gauges_of
from companion.planning.gauge.observations import assumed
from companion.planning.gauge.parts import Fabrics
from companion.planning.plan.rounds import makes, takes
from companion.planning.recalculation.leg_length import with_leg
from companion.planning.recalculation.second_sock_options import matches_for
from companion.planning.recalculation.try_on import Felt, after_try_on
from tests.planning.asking import (
    TWO,
    WHOLE_PLANS,
    knit_plan,
    plan_or_leave,
    planned,
    recalculated_or_leave,
    section,
    worked_out_again,
)
from tests.planning.patterned import patterned_requests
from tests.planning.requests import charts, requests

Becomes: TypeAlias = Callable[[Plan, int, Check], Iterator[tuple[Plan, int]]]

FOLLOWS = "instep follows the leg"
TOE_UP = {"direction": "toe-up"}
EVENLY = "Evenly spread"
ENDS = "The pattern ends here"
IN_PATTERN = ("leg", "instep")


def broken(plan: Plan, done: int = 0) -> list[tuple[str, int, int]]:
    """Even changes after the first `done` rounds within the rows of a pattern: section, round, row worked last.

    Stripes are not broken by them. Where a panel has found no room there are no rows to finish.
    """
    pattern = plan.request.leg.pattern
    assert pattern
    rows = pattern.height if plan.request.leg.stitch_pattern or pattern.width > 1 else 1
    found, last, number = [], 0, 0
    for each in plan.sections:
        shown = each.key == "leg" or (plan.request.instep_follows and each.key != "cuff")
        for item in each.rounds():
            number += 1
            note = item.note or ""
            changes = any(takes(part.ops) != makes(part.ops) for part in item.work if part.zone in IN_PATTERN)
            if ENDS in note or (item.side == "round" and shown and not item.chart_row and not changes):
                last = 0
            if number > done and shown and changes and EVENLY in note and last % rows:
                found.append((each.key, number, last))
            last = item.chart_row or last
    return found


def recalculated(plan: Plan, done: int, check: Check) -> Iterator[tuple[Plan, int]]:
    """What it can become after a check, and then sock two; with the rounds that are knitted by then."""
    found = recalculated_or_leave(plan, done, [check])
    yield from ((option.plan, option.done) for option in found.options)
    gauges = gauges_of([assumed(plan.request), check])
    matches = matches_for(plan, found.recommended.plan, Fabrics(ahead=gauges, leg=gauges, foot=gauges))
    yield from ((match.plan, 0) for match in matches if match.key == "measured")


def tried_on(plan: Plan, done: int, check: Check) -> Iterator[tuple[Plan, int]]:
    """What it can become after it was tried on."""
    gauges = gauges_of([assumed(plan.request), check])
    for felt in (Felt(where="leg", feels="tight"), Felt(where="foot", feels="loose")):
        options = after_try_on(plan, done, felt, gauges).options
        yield from ((option.plan, option.done) for option in options)


def of_other_lengths(plan: Plan, done: int, _check: Check) -> Iterator[tuple[Plan, int]]:
    """What it can become with a longer or shorter leg."""
    if done <= plan.span("leg").stop:
        yield from ((with_leg(plan, done, rounds), done) for rounds in (4, 7, 60))


OFF = st.integers(-15, 15).map(lambda percent: 1 + percent / 100)


@WHOLE_PLANS
@given(
    patterned_requests() | requests(chart=charts()),
    st.integers(0, 1000),
    st.sampled_from([recalculated, tried_on, of_other_lengths]),
    st.tuples(OFF, OFF),
)
def test_stitches_in_pattern_change_only_where_its_rows_are_finished(
    data: dict[str, Any], part: int, becomes: Becomes, off: tuple[float, float]
) -> None:
    plan = plan_or_leave(data)
    assert not broken(plan)
    gauge, done = plan.request.gauge, part * plan.count // 1000
    high = gauge.rounds_per_10cm or gauge.stitches_per_10cm * 1.35
    check = Check(
        stitches=(Spot(count=round(gauge.stitches_per_10cm * off[0] * 2, 1), over_cm=20),) * 4,
        rounds=(Spot(count=round(high * off[1] * 2, 1), over_cm=20),) * 4,
    )
    for then, knitted in becomes(plan, done, check):
        assert not broken(then, knitted)


def toe_up(foot_pattern: str, length_cm: float, rows: int = 6) -> Plan:
    """A sock in cables so many rows high, whose leg gets more stitches than its foot, in steps."""
    leg = {"length_cm": length_cm, "stitch_pattern": {"rows": ["2/2 RC, p2"] + ["k4, p2"] * (rows - 1)}}
    return planned(leg=leg, foot_pattern=foot_pattern, construction=TOE_UP)


def rows_of(plan: Plan, key: str) -> list[tuple[int, int | None]]:
    """The stitches after each round of a section, with its row of the pattern."""
    return [(item.after, item.chart_row) for item in section(plan, key).rounds()]


def test_from_the_toe_up_the_leg_goes_on_with_the_rows_of_the_instep_before_it_gets_its_stitches() -> None:
    plan = toe_up(FOLLOWS, 14)
    below = [item.chart_row for item in plan.rounds()[: plan.span("leg").start] if item.chart_row][-1]
    rows = rows_of(plan, "leg")
    finished = [(70, row) for row in range(below + 1, 7)]
    assert 0 < len(finished) < 6
    assert rows[: len(finished) + 2] == [*finished, (76, None), (76, 1)]
    assert rows[len(finished) + 7 :][:2] == [(78, None), (78, 1)], "and the same before the second step"
    for done in (plan.span("gusset").start, *range(plan.span("leg").start, plan.span("leg").start + 7)):
        assert worked_out_again(plan, done).rounds() == plan.rounds()


def test_the_rows_that_are_finished_lie_over_those_of_the_instep() -> None:
    """Every purl of the leg is over a purl of the instep, over the plain heel, or beside the instep's columns."""
    plan = toe_up(FOLLOWS, 14)
    first = knit_plan(plan).section("leg")[0]
    instep = [stitch for stitch in first.made if stitch.parents[0].op != "co" and not stitch.parents[0].flat]
    over = [(stitch.op, stitch.parents[0].op) for stitch in instep if stitch.parents[0].op == "p"]
    assert len(over) > 5
    assert {op for op, _ in over} == {"p"}


def test_a_pattern_that_is_not_begun_waits_for_the_stitches_that_the_leg_keeps() -> None:
    rows = rows_of(toe_up("plain", 14), "leg")
    assert rows[:6] == [(72, None)] * 4 + [(78, None), (78, 1)]
    stripes = {"chart": {"width": 1, "rows": ["A", "B", "B"]}}
    plan = planned(leg={"length_cm": 14, **stripes}, yarns=TWO, construction=TOE_UP, foot={"leg_circumference_cm": 27})
    striped = rows_of(plan, "leg")
    assert [row for _, row in striped[:5]] == [1, 2, 3, 1, 2], "stripes go through"
    assert len({count for count, _ in striped}) > 1


def test_a_leg_too_short_to_finish_the_rows_keeps_its_stitches_and_its_ribbing_suits_them() -> None:
    plan = toe_up(FOLLOWS, 2, rows=40)
    assert {count for count, _ in rows_of(plan, "leg")} == {70}
    assert plan.sizes.leg_stitches == 70
    assert any("it stays on 70, " in warning and "78 were wanted" in warning for warning in plan.warnings)
    assert section(plan, "cuff").rounds()[2].after == 64
    for done in range(plan.span("gusset").start, plan.count + 1, 9):
        assert worked_out_again(plan, done).rounds() == plan.rounds()


def test_a_foot_too_short_to_finish_the_rows_keeps_its_instep_and_widens_its_sole_as_far_as_that_may() -> None:
    leg = {"stitch_pattern": {"rows": ["2/2 RC, p2"] + ["k4, p2"] * 47}}
    foot = {"ball_circumference_cm": 26, "leg_circumference_cm": 21}
    plan = planned(leg=leg, foot_pattern=FOLLOWS, foot=foot, construction={"heel": "short-row"})
    last = section(plan, "foot").rounds()[-1]
    assert [takes(part.ops) for part in last.work] == [38, 36]
    assert plan.sizes.foot_stitches == 74
    [said] = [warning for warning in plan.warnings if "What is left of the foot is too short" in warning]
    assert "it stays on 36 stitches, and the foot is 21.8 cm (8 5/8 in) round on 74, where 78 were wanted" in said
    for done in range(plan.span("heel").start, plan.count, 17):
        assert worked_out_again(plan, done).rounds() == plan.rounds()


def test_a_try_on_says_when_the_stitches_change_or_why_they_stay() -> None:
    plan = toe_up(FOLLOWS, 14)
    gauges, felt = gauges_of([assumed(plan.request)]), Felt(where="leg", feels="loose")
    done = plan.span("leg").stop - 20
    below = plan.rounds()[done - 1].chart_row
    assert below
    way = after_try_on(plan, done, felt, gauges).options[0]
    assert f"It comes {6 - below} rounds on, where the rows of the pattern are finished." in way.why
    late = after_try_on(plan, plan.span("leg").stop - 1, felt, gauges)
    assert late.options == ()
    assert "Too few rounds of the leg are left to finish the rows of the pattern" in late.said
