"""By which plans sock two can be knitted, once sock one was changed."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from companion.pair.changing.second_sock import second_sock_options
from companion.pair.revisions import Revision
from companion.pair.state import PairState
from companion.planning import PlanRequest, make_plan

from ...conftest import made
from ..states import state_of


def revision(request_data: dict[str, Any], number: int, done: int, cm: float) -> Revision:
    """A plan of sock 1 for a foot of this length, accepted after so many rounds."""
    foot = {**request_data["foot"], "length_cm": cm}
    plan = make_plan(PlanRequest.model_validate({**request_data, "foot": foot}))
    return Revision(number, 1, done, 0, "", plan.model_dump_json())


def pair_with(request_data: dict[str, Any], *later: Revision) -> PairState:
    state = state_of(request_data, [made(1, kind="go", round=60)])
    return replace(state, revisions=[*state.revisions, *later])


def test_without_a_change_while_it_was_knitted_there_is_nothing_to_choose(request_data: dict[str, Any]) -> None:
    assert second_sock_options(pair_with(request_data)) == ()
    assert second_sock_options(pair_with(request_data, revision(request_data, 2, 0, 26))) == ()


def test_as_planned_is_the_plan_that_sock_one_was_cast_on_by(request_data: dict[str, Any]) -> None:
    """It was planned again before its cast-on, and then changed twice while it was knitted."""
    changes = [(2, 0, 26.0), (3, 30, 27.0), (4, 50, 28.0)]
    pair = pair_with(request_data, *(revision(request_data, *one) for one in changes))
    found = {match.key: match.plan for match in second_sock_options(pair)}
    assert found["planned"].request.foot.length_cm == 26
    assert found["knitted"].request.foot.length_cm == 28
