"""The edges of a cuff that have a name: how they are made, and that the knitted stitches lie as the ribbing needs."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.planning import Plan, read_request
from tests.planning.asking import WHOLE_PLANS, asked, knit_plan, plan_or_leave, planned, request_data, section
from tests.planning.asking import worked_out_again as again
from tests.planning.requests import DIRECTIONS, TUBULAR_RIBS, requests

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


def test_an_edge_leaves_the_stitches_and_the_height_of_the_cuff_as_they_were() -> None:
    for direction in DIRECTIONS:
        usual = planned(construction={"direction": direction})
        for edge in ("twisted", "tubular"):
            plan = planned(construction={"direction": direction}, cuff={"edge": edge})
            counts = [[(item.before, item.after) for item in one.rounds()] for one in (usual, plan)]
            assert counts[0] == counts[1]


def test_a_tubular_edge_is_refused_where_the_ribbing_does_not_suit_it() -> None:
    request, faults = read_request(request_data(cuff={"rib": "k3 p1", "edge": "tubular"}))
    assert request is None
    assert "k1 p1, k1tbl p1 or k2 p2, and not with k3 p1" in str(faults[0])
    assert "edge" not in asked().model_dump(mode="json")["cuff"]
    assert asked(cuff={"edge": "twisted"}).model_dump(mode="json")["cuff"]["edge"] == "twisted"


@WHOLE_PLANS
@given(requests(chart=st.none()), st.sampled_from(TUBULAR_RIBS), st.integers(0, 1000))
def test_a_tubular_cuff_is_carried_on_from_any_round(data: dict[str, Any], rib: str, part: int) -> None:
    plan = plan_or_leave(data | {"cuff": {**data["cuff"], "rib": rib, "edge": "tubular"}})
    knit_plan(plan)
    span = plan.span("cuff")
    done = span.start + part * len(span) // 1000
    assert again(plan, done).rounds() == plan.rounds()
