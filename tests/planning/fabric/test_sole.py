"""The fabrics of a sole, read off the knitted sock."""

from __future__ import annotations

import json
from itertools import pairwise
from typing import Any

import pytest

from companion.planning import Plan, read_plan, read_request
from companion.planning.pattern.pattern import Size, pattern_of
from companion.planning.pattern.render import as_text
from companion.planning.pattern.rounds_text import round_words
from companion.planning.plan.rounds import makes
from tests.planning.asking import FOLLOWS, LOZENGE, TWO, knit_plan, planned, request_data, section, worked_out_again
from tests.planning.requests import DIRECTIONS, HEELS, SOLES, alternately
from tests.shape import shape


def sock(sole: str, **construction: Any) -> Plan:
    return planned(construction={"sole": sole, **construction}, leg={"length_cm": 4})


def soles(plan: Plan) -> list[str]:
    """The words of the sole in each round of the foot."""
    said = [round_words(item) for item in section(plan, "foot").rounds()]
    return [words.partition("Sole: ")[2].partition(";")[0] for words in said]


def test_each_second_round_of_a_padded_sole_slips_each_second_stitch() -> None:
    # b-ark.ca, 2023/10/22, "a sock experiment": heel stitch on the whole bottom of the foot, (s1, k1) to the end, then
    # a plain one.
    assert set(soles(sock("slipped"))[0::2]) == {"[sl1, k1] x 17"}
    assert set(soles(sock("slipped"))[1::2]) == {"k34"}


def test_an_offset_padded_sole_slips_the_other_stitch_each_time() -> None:
    # Common practice; the flap of the same name is sourced in tests/outside/construction/test_flap_fabrics.py.
    assert soles(sock("offset slipped"))[:8] == ["[sl1, k1] x 17", "k34", "[k1, sl1] x 17", "k34"] * 2


def test_four_rounds_of_an_offset_sole_are_written_once_and_repeated() -> None:
    text = as_text(pattern_of([Size("23", sock("offset slipped"))], "cm", {}))
    assert "work these 4 rounds" in text.partition("\nFoot,")[2].partition("\nToe,")[0]


COLUMNS = {"slipped": "sl", "offset slipped": "sl", "garter": "p", "purl": "p"}


@pytest.mark.parametrize(
    ("sole", "direction", "heel"), alternately(COLUMNS, DIRECTIONS, ("flap", "short-row with gusset", "strong"))
)
def test_from_the_heel_on_a_sole_lies_in_the_same_columns_over_the_gusset(sole: str, direction: str, heel: str) -> None:
    foot = {"ball_circumference_cm": 23, "length_cm": 25, "heel_diagonal_cm": 35}
    plan = planned(
        construction={"sole": sole, "sole_from_heel": True, "direction": direction, "heel": heel},
        foot=foot,
        leg={"length_cm": 4},
    )
    knitted = knit_plan(plan)
    keys = [key for key in ("gusset-increases", "gusset", "foot") if key in knitted.sections()]
    found: list[set[int]] = []
    rounds = [one for key in keys for one in knitted.section(key)]
    for worked in sorted(rounds, key=lambda one: one.written.place.number):
        item = plan.rounds()[worked.written.place.number - 1]
        wide = sum(makes(part.ops) for part in item.work if part.zone == "sole")
        # From the middle of the sole, in half stitches, so that odd and even soles compare.
        columns = {2 * at - wide + 1 for at, stitch in enumerate(worked.made[:wide]) if stitch.op == COLUMNS[sole]}
        if columns:
            found.append(columns)
    assert len(found) > 10
    for one, other in pairwise(found):
        if sole == "offset slipped":
            assert not one & other
        else:
            # An odd sole has a knit stitch at one side, and a shaped round of a purl sole its last decreases at both.
            assert len(one ^ other) <= (4 if sole == "purl" else 1)
    for done in (*range(plan.span(keys[0]).start, plan.span(keys[0]).stop + 4), plan.count):
        assert worked_out_again(plan, done).rounds() == plan.rounds()


@pytest.mark.parametrize("heel", ["flap", "short-row"])
def test_an_offset_sole_in_stripes_goes_on_with_the_other_stitch_after_any_round(heel: str) -> None:
    plan = planned(
        construction={"sole": "offset slipped", "sole_from_heel": True, "heel": heel},
        leg={"length_cm": 4, "chart": {"width": 1, "rows": ["A", "B"]}},
        foot_pattern="instep follows the leg",
        yarns=TWO,
    )
    begins = plan.span("foot").start
    for done in range(begins - 6, begins + 9):
        assert worked_out_again(plan, done).rounds() == plan.rounds()


def test_a_sole_begins_behind_the_gusset_unless_it_is_to_begin_at_the_heel() -> None:
    assert "sole_from_heel" not in sock("slipped").request.construction.model_dump()
    behind, below = (sock("slipped", sole_from_heel=heel) for heel in (False, True))
    assert not any(item.uses("sl") for item in section(behind, "gusset").rounds())
    assert any(item.uses("sl") for item in section(below, "gusset").rounds())
    assert behind.sizes == below.sizes


def test_a_garter_sole_has_ridges_and_a_purl_sole_has_its_smooth_side_inside() -> None:
    # Common practice.
    assert soles(sock("garter"))[:4] == ["p34", "k34", "p34", "k34"]
    assert set(soles(sock("purl"))) == {"p34"}


@pytest.mark.parametrize("direction", DIRECTIONS)
def test_ribbing_lies_under_the_arch_and_nowhere_else(direction: str) -> None:
    plan = sock("ribbed arch", direction=direction, heel="short-row")
    ribbed = [number for number, words in enumerate(soles(plan)) if "p2" in words]
    assert ribbed == list(range(ribbed[0], ribbed[-1] + 1))
    before = section(plan, "toe" if direction == "toe-up" else "heel").length_cm
    begins, ends = ((before + number / 4.4) / plan.sizes.foot_length_cm for number in (ribbed[0], ribbed[-1] + 1))
    assert (begins, ends) == pytest.approx((0.35, 0.65), abs=0.02)


@pytest.mark.parametrize(("sole", "direction", "heel"), alternately(SOLES[1:], DIRECTIONS, HEELS))
def test_the_sock_is_knitted_to_its_sizes_and_worked_out_again_the_same(sole: str, direction: str, heel: str) -> None:
    plan = sock(sole, direction=direction, heel=heel)
    found = shape(knit_plan(plan), stitches_per_cm=3.2, rounds_per_cm=4.4)
    plain = sock("plain", direction=direction, heel=heel)
    assert (plan.sizes, plan.count) == (plain.sizes, plain.count)
    assert (found.foot_cm, found.foot_length_cm) == pytest.approx(
        (plan.sizes.foot_circumference_cm, plan.sizes.foot_length_cm), abs=0.006
    )
    assert read_plan(json.loads(plan.model_dump_json())) == (plan, [])
    begins = plan.span("foot").start
    for done in (begins, begins + 1, begins + 8, begins + 9, plan.count):
        assert worked_out_again(plan, done).rounds() == plan.rounds()


def test_a_slipped_sole_takes_less_yarn_and_a_garter_sole_as_much() -> None:
    metres = {sole: sock(sole).yarn[0].metres_a_sock for sole in SOLES}
    assert metres["slipped"] < metres["plain"] == metres["garter"] == metres["purl"]


@pytest.mark.parametrize("sole", SOLES)
def test_only_of_a_sole_that_draws_up_it_is_said_that_its_rounds_lie_closer(sole: str) -> None:
    warned = [warning for warning in sock(sole).warnings if "lie closer" in warning]
    assert bool(warned) == (sole in {"slipped", "offset slipped", "garter"})


@pytest.mark.parametrize(
    "leg",
    [{"length_cm": 8, "chart": LOZENGE}, {"length_cm": 8, "stitch_pattern": {"name": "k3 p1 rib"}}],
)
def test_beside_an_instep_in_pattern_the_sole_stays_plain(leg: dict[str, Any]) -> None:
    asked = request_data(leg=leg, yarns=TWO, construction={"sole": "slipped"}, **FOLLOWS)
    request, faults = read_request(asked)
    assert request is None
    assert "beside an instep in pattern" in str(faults[0])


def test_stripes_go_on_over_a_sole_of_its_own_fabric() -> None:
    stripes = {"width": 1, "rows": ["A", "A", "B", "B"]}
    plan = planned(
        leg={"length_cm": 4, "chart": stripes},
        yarns=TWO,
        foot_pattern="instep follows the leg",
        construction={"sole": "garter"},
    )
    foot = section(plan, "foot").rounds()
    drawn = ["".join(yarn or "A" for yarn in item.drawn) for item in foot[:8]]
    assert "".join(drawn) in "AABB" * 3
    assert knit_plan(plan).section("foot")
