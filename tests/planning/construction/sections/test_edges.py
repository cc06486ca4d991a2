"""The edges of a cuff that have a name: how they are made, and that the knitted stitches lie as the ribbing needs."""

from __future__ import annotations

from itertools import takewhile
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.planning import Plan, read_request
from companion.planning.construction.planner import plan_from
from companion.planning.pattern.pattern import Size, pattern_of
from tests.planning.asking import WHOLE_PLANS, asked, knit_plan, plan_or_leave, planned, request_data, section
from tests.planning.asking import worked_out_again as again
from tests.planning.requests import DIRECTIONS, EDGES, TUBULAR_RIBS, requests
from tests.shape import shape

UP = {"direction": "toe-up"}
FACES = {"k": "k", "ktbl": "k", "p": "p", "sl": None, "slwyif": None}


def columns(plan: Plan) -> list[str]:
    """Each round of the cuff as its stitches look from outside, knit or purl; a slipped one as it looked before.

    A right or left cross of one stitch over one changes two columns: the knit stitch goes over the purl one (as the
    trade's standards of cable names have it: R over to the right, P with the one behind purled).
    """
    shown: list[str] = []
    for item in section(plan, "cuff").rounds():
        ops = _one_by_one(item.ops)
        before = shown[-1] if shown else ""
        if ops[0] in ("co", "bo"):
            continue
        now = ""
        for op in ops:
            if op in FACES:
                now += FACES[op] or (before[len(now)] if before else "?")
            else:
                now += {"1/1 RPC": "kp", "1/1 LPC": "pk"}[op]
        shown.append(now)
    return shown


def _one_by_one(ops: Any) -> list[str]:
    found: list[str] = []
    for op in ops:
        found += _one_by_one(op.ops) * op.times if hasattr(op, "times") else [op.op] * op.n
    return found


@pytest.mark.parametrize("direction", DIRECTIONS)
@pytest.mark.parametrize("rib", TUBULAR_RIBS)
def test_a_tubular_edge_runs_from_single_stitches_into_the_ribbing(rib: str, direction: str) -> None:
    plan = planned(construction={"direction": direction}, cuff={"rib": rib, "length_cm": 4, "edge": "tubular"})
    knit_plan(plan)
    shown = columns(plan)
    edge, ribbing = (shown, shown[-1]) if direction == "cuff-down" else (shown[::-1], shown[0])
    count = len(ribbing)
    assert ribbing == ("kkpp" * count if rib == "k2 p2" else "kp" * count)[:count]
    outermost = edge[1] if direction == "cuff-down" else edge[0]
    assert outermost.replace("?", "k") == "kp" * (count // 2)


@pytest.mark.parametrize("direction", DIRECTIONS)
def test_its_two_rounds_work_every_stitch_once_and_slip_it_once(direction: str) -> None:
    plan = planned(construction={"direction": direction}, cuff={"rib": "k1 p1", "length_cm": 4, "edge": "tubular"})
    slipped = [item for item in section(plan, "cuff").rounds() if item.uses("sl", "slwyif")]
    assert len(slipped) == 2
    for item in slipped:
        assert item.uses("sl", "slwyif") == item.uses("k", "p") == item.before // 2
    assert [bool(item.uses("k")) for item in slipped] == [True, False]


def test_each_edge_says_how_it_is_made_and_what_yarn_it_takes() -> None:
    def note(edge: str, direction: str) -> str:
        rounds = section(
            planned(construction={"direction": direction}, cuff={"rib": "k2 p2", "length_cm": 4, "edge": edge}), "cuff"
        ).rounds()
        return str(rounds[0 if direction == "cuff-down" else -1].note)

    assert "needle under both strands of the thumb" in note("twisted", "cuff-down")
    assert "yarn over, work the next stitch" in note("twisted", "toe-up")
    assert "A knit loop" in note("tubular", "cuff-down")
    assert "graft the two together" in note("tubular", "toe-up")
    # 68 stitches at 32 over 10 cm are 21.25 cm: three times that and a tail of 15 is 78.75, four times 100.
    assert "A long tail takes 80 cm" in note("tubular", "cuff-down")
    assert "A long tail takes 100 cm" in note("twisted", "cuff-down")


@pytest.mark.parametrize("edge", EDGES)
@pytest.mark.parametrize("direction", DIRECTIONS)
@pytest.mark.parametrize("length_cm", [0.5, 2, 4])
def test_an_edge_leaves_the_stitches_and_the_height_of_the_cuff_as_they_were(
    length_cm: float, direction: str, edge: str
) -> None:
    usual = planned(construction={"direction": direction}, cuff={"length_cm": length_cm})
    plan = planned(construction={"direction": direction}, cuff={"length_cm": length_cm, "edge": edge})
    assert {item.before for item in usual.rounds()} == {item.before for item in plan.rounds()}
    a_round = 10 / 44
    found = shape(knit_plan(plan), 3.2, 4.4).cuff_length_cm
    # A hem goes round its fold, and cannot be lower than a round on either side.
    assert found == pytest.approx(section(plan, "cuff").length_cm, abs=a_round / 2 + 1e-9)
    assert found == pytest.approx(length_cm, abs=a_round + 1e-9)


HEMS = {"folded hem": {"p"}, "picot hem": {"yo", "k2tog"}}


@pytest.mark.parametrize("edge", HEMS)
@pytest.mark.parametrize("direction", DIRECTIONS)
def test_a_hem_is_as_high_inside_as_outside_and_ends_where_it_is_joined(direction: str, edge: str) -> None:
    """Two centimetres are 9 rounds of 44 over 10 cm; worked so in technique articles on hems (common practice)."""
    plan = planned(construction={"direction": direction}, cuff={"rib": "k2 p2", "length_cm": 4, "edge": edge})
    rounds = [frozenset(_one_by_one(item.ops)) for item in section(plan, "cuff").rounds()]
    plain, fold, ribbing = frozenset("k"), frozenset(HEMS[edge]), frozenset("kp")
    hem = [plain] * 9 + [fold] + [plain] * 9
    if direction == "cuff-down":
        assert rounds == [{"co"}, *hem, {"join"}, *[ribbing] * 8]
    else:
        assert rounds == [*[ribbing] * 9, *hem, {"sew"}]


def test_a_pattern_asks_for_a_needle_to_sew_the_hem_with() -> None:
    construction = {"direction": "toe-up"}
    for edge, what in (("picot hem", "the hem and ends"), ("tubular", "ends")):
        pattern = pattern_of([Size("25 cm", planned(construction=construction, cuff={"edge": edge}))], "cm")
        assert f"blunt tapestry needle for {what}, stitch markers" in dict(pattern.facts)["Notions"]


def test_a_tubular_edge_is_refused_where_the_ribbing_does_not_suit_it() -> None:
    request, faults = read_request(request_data(cuff={"rib": "k3 p1", "edge": "tubular"}))
    assert request is None
    assert "k1 p1, k1tbl p1 or k2 p2, and not with k3 p1" in str(faults[0])
    assert "edge" not in asked().model_dump(mode="json")["cuff"]
    assert asked(cuff={"edge": "twisted"}).model_dump(mode="json")["cuff"]["edge"] == "twisted"


@WHOLE_PLANS
@given(requests(chart=st.none()), st.sampled_from(EDGES), st.sampled_from(TUBULAR_RIBS), st.integers(0, 1000))
def test_a_cuff_with_an_edge_is_carried_on_from_any_round(data: dict[str, Any], edge: str, rib: str, part: int) -> None:
    plan = plan_or_leave(data | {"cuff": {**data["cuff"], "rib": rib, "edge": edge}})
    knit_plan(plan)
    span = plan.span("cuff")
    done = span.start + part * len(span) // 1000
    assert again(plan, done).rounds() == plan.rounds()


@WHOLE_PLANS
@given(requests(chart=st.none()), st.sampled_from(EDGES), st.integers(0, 1000), st.integers(85, 115))
def test_it_can_be_knitted_when_another_gauge_is_found_on_the_way(
    data: dict[str, Any], edge: str, part: int, percent: int
) -> None:
    """A hem that is begun is folded in its middle all the same, or its edge would not reach."""
    plan = plan_or_leave(data | {"cuff": {**data["cuff"], "rib": "k1 p1", "edge": edge}})
    span = plan.span("cuff")
    gauge = plan.request.gauge
    rounds = (gauge.rounds_per_10cm or gauge.stitches_per_10cm * 1.35) * percent / 100
    other = gauge.model_copy(update={"rounds_per_10cm": rounds})
    knitted = {}
    done = span.start + part * len(span) // 1000
    for one, where in plan.spans():
        knitted[one.key] = one.rounds()[: max(0, done - where.start)]
    changed = plan_from(plan.request.model_copy(update={"gauge": other}), {k: v for k, v in knitted.items() if v})
    knit_plan(changed)
    assert changed.rounds()[:done] == plan.rounds()[:done]
    cuff = section(changed, "cuff").rounds()
    if edge in HEMS:
        fold = next(number for number, item in enumerate(cuff) if item.uses("yo") or 0 < item.uses("p") == item.before)
        end = next(number for number, item in enumerate(cuff) if item.uses("join", "sew"))
        beyond = [
            len([*takewhile(lambda item: set(_one_by_one(item.ops)) == {"k"}, side)])
            for side in (cuff[fold + 1 :], cuff[:fold][::-1])
        ]
        assert beyond[0] == beyond[1] == end - fold - 1
