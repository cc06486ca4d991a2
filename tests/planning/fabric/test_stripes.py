"""A stitch pattern in stripes: colours by rounds and stitches by the pattern, each as it is without the other."""

from __future__ import annotations

import re
from itertools import cycle, islice
from typing import Any

import pytest

from companion.planning import Plan, make_plan, pattern_of
from companion.planning.fabric.painter import HELIX
from companion.planning.fabric.second_sock import as_second_sock
from companion.planning.fabric.stripes import BUMPS, STEP
from companion.planning.pattern.pattern import Size
from companion.planning.pattern.rounds_text import PATTERN_ROUND, section_lines
from companion.planning.plan.rounds import one_by_one
from companion.planning.recalculation.ways.sock_in_progress import SockInProgress
from tests.planning.asking import FOLLOWS, asked, section
from tests.planning.pattern.read_back import check_every_size, sized

TWO = [{"key": "A"}, {"key": "B", "name": "rust"}]
STRIPES = "AAABB"


def striped(pattern: str = "k3 p1 rib", rows: str = STRIPES, **changes: Any) -> Plan:
    chart = {"width": 1, "rows": [*rows], "swap": changes.pop("swap", False)}
    leg = {"length_cm": changes.pop("leg_cm", 12), "chart": chart, "stitch_pattern": {"name": pattern}}
    return make_plan(asked(yarns=TWO, leg=leg, **{**FOLLOWS, **changes}))


def colours(plan: Plan) -> str:
    """The yarn of each round of the parts in stripes, in the order of knitting; rows of a heel stay in A."""
    found = ""
    for each in plan.sections:
        if not any(item.chart_row for item in each.rounds()):
            continue
        for item in filter(lambda item: item.side == "round", each.rounds()):
            [yarn] = {yarn or "A" for yarn, loops in item.drawn.items() if loops}
            found += yarn
    return found


def unnamed(plan: Plan) -> list[list[tuple[str, int]]]:
    """What is worked in each round, in no yarn."""
    return [[(each.op, each.n) for each in one_by_one(item.ops)] for item in plan.rounds()]


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
@pytest.mark.parametrize("heel", ["flap", "short-row", "afterthought"])
@pytest.mark.parametrize("pattern", ["k3 p1 rib", "lace rib", "cable rib"])
def test_each_round_has_the_yarn_of_its_stripe_and_the_stitches_of_its_pattern(
    pattern: str, heel: str, direction: str
) -> None:
    construction = {"heel": heel, "direction": direction}
    plan = striped(pattern, construction=construction)
    worked = colours(plan)
    assert worked == "".join(islice(cycle(STRIPES), len(worked)))
    leg = {"length_cm": 12, "stitch_pattern": {"name": pattern}}
    plain = make_plan(asked(yarns=TWO, leg=leg, construction=construction, **FOLLOWS))
    assert unnamed(plan) == unnamed(plain)
    assert [item.chart_row for item in plan.rounds()] == [item.chart_row for item in plain.rounds()]


def test_what_to_mind_is_said_once_and_of_purls_only_where_there_are_any() -> None:
    said = [item.note or "" for item in striped().rounds()]
    assert sum(STEP in note for note in said) == sum(BUMPS in note for note in said) == 1
    assert any(HELIX in item.note for item in striped(rows="AB").rounds() if item.note)
    assert not any(STEP in item.note for item in striped(rows="AB").rounds() if item.note)
    assert not any(STEP in item.note for item in striped(rows="AA").rounds() if item.note)
    chart = {"width": 1, "rows": [*STRIPES]}
    lace = {"rows": ["k1, yo, k2tog", "k3"]}
    plan = make_plan(asked(yarns=TWO, leg={"chart": chart, "stitch_pattern": lace}, **FOLLOWS))
    assert not any(BUMPS in item.note for item in plan.rounds() if item.note)


def test_the_second_sock_exchanges_the_stripes() -> None:
    plan = striped(swap=True)
    exchange = str.maketrans("AB", "BA")
    second = as_second_sock(plan)
    named = [{yarn or "B" for yarn, loops in item.drawn.items() if loops} for item in second.rounds()]
    first = [{yarn or "A" for yarn, loops in item.drawn.items() if loops} for item in plan.rounds()]
    assert named == [{yarn.translate(exchange) for yarn in yarns} for yarns in first]


@pytest.mark.parametrize("share", [0.2, 0.5, 0.7])
def test_a_sock_worked_out_again_goes_on_with_the_stripe_that_follows(share: float) -> None:
    plan = striped()
    done = int(len(plan.rounds()) * share)
    looser = plan.request.gauge.model_copy(update={"stitches_per_10cm": 28, "rounds_per_10cm": 39})
    other = SockInProgress(plan, done, plan.request.model_copy(update={"gauge": looser})).plan_from()
    assert len(other.rounds()) != len(plan.rounds())
    worked = colours(other)
    assert worked == "".join(islice(cycle(STRIPES), len(worked)))
    assert other.rounds()[:done] == plan.rounds()[:done]


def test_each_yarn_is_calculated_for_its_rounds() -> None:
    needs = {need.key: need.metres_a_sock for need in striped().yarn}
    together = {need.key: need.metres_a_sock for need in striped(rows="AA").yarn}
    assert sum(needs.values()) == pytest.approx(sum(together.values()), rel=0.02)
    leg = section(striped(), "leg")
    loops = sum(item.drawn.get("B", 0) for item in leg.rounds())
    assert loops / sum(sum(item.drawn.values()) for item in leg.rounds()) == pytest.approx(2 / 5, abs=0.03)


def test_the_written_pattern_says_once_what_pattern_and_stripes_repeat_together() -> None:
    """By hand: ten rounds of stripes and four of lace are together again after 20, and 59 rounds have them twice."""
    plan = striped("lace rib", "AAAAAABBBB", leg_cm=14)
    repeated = re.compile(r"work these 20 rounds 2 times")
    leg = section(plan, "leg")
    lines = section_lines(leg, PATTERN_ROUND)
    assert any(repeated.search(line.text) for line in lines)
    assert len(lines) < len(leg.rounds()) / 2


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_the_pattern_names_the_stripes_where_a_part_begins_and_in_none_of_its_rounds(direction: str) -> None:
    """Written out, a gusset in stripes of five rounds and lace of four would repeat nothing on its way to the foot."""
    plan = striped("lace rib", construction={"direction": direction})
    pattern = pattern_of([Size("one", plan)], "cm")
    parts = {part.key: part for part in pattern.sections if "Stripes: begin with row" in part.opening}
    assert set(parts) == {"leg", "gusset", "foot"}
    assert not any(re.search(r" in B\b", line.text) for part in parts.values() for line in part.lines)
    assert len(parts["gusset"].lines) < len(section(plan, "gusset").rounds()) / 2


def test_stripes_go_on_where_the_pattern_has_ended() -> None:
    leg = {"stitch_pattern": {"name": "lace rib", "ends_before_toe_cm": 30}, "chart": {"width": 1, "rows": [*STRIPES]}}
    sizes = sized(asked(yarns=TWO, leg=leg, **FOLLOWS), (20, 24))
    assert not any(item.chart_row for item in section(sizes[0].plan, "foot").rounds())
    [foot] = [part for part in check_every_size(sizes).sections if part.key == "foot"]
    assert "Stripes: begin with row" in foot.opening


def test_a_part_that_was_begun_in_other_stripes_names_the_yarn_of_each_round() -> None:
    plan = striped("lace rib")
    other = plan.request.leg.chart.model_copy(update={"rows": (*"AB",)}) if plan.request.leg.chart else None
    leg = plan.request.leg.model_copy(update={"chart": other})
    done = len(section(plan, "cuff").rounds()) + 20
    changed = SockInProgress(plan, done, plan.request.model_copy(update={"leg": leg})).plan_from()
    parts = {part.key: part for part in pattern_of([Size("one", changed)], "cm").sections}
    assert "Stripes" not in parts["leg"].opening
    assert any(" in B" in line.text for line in parts["leg"].lines)
    assert "Stripes: begin with row" in parts["gusset"].opening


def test_a_striped_round_among_the_rows_of_a_heel_in_its_own_yarn_names_none_beside_its_stripe() -> None:
    leg = {"length_cm": 4, "stitch_pattern": {"name": "basketweave"}, "chart": {"width": 1, "rows": [*"AB"]}}
    construction = {"direction": "toe-up", "heel": "short-row"}
    request = asked(yarns=TWO, leg=leg, parts={"heel": "B"}, construction=construction, **FOLLOWS)
    [heel] = [part for part in check_every_size(sized(request, (20, 24))).sections if part.key == "heel"]
    assert "With yarn B" in heel.opening
    assert "Stripes: begin with row" in heel.opening
    assert not any("in A" in line.text for line in heel.lines)
