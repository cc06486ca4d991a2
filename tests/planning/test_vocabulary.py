"""Every word that a sock can be asked for with goes through a design, a size grid and a graded pattern."""

from __future__ import annotations

import json

import pytest

from companion.planning import Plan, PlanRequest, make_plan
from companion.planning.pattern.size_grid import grid_of, table_of
from companion.planning.plan.design import read_design, request_for
from companion.planning.request.construction import Construction
from companion.planning.request.size_range import foot_for
from tests.planning.asking import asked
from tests.planning.pattern.read_back import check_every_size, sized
from tests.planning.vocabulary import VOCABULARY

BALLS = (20.0, 24.0)


def usual_beside(request: PlanRequest) -> Plan:
    """The sock that is planned where the word itself is left out."""
    words = request.construction.model_dump()
    plain = Construction(**{name: words[name] for name in ("direction", "heel") if name in words})
    left_out = plain if plain != request.construction else Construction()
    return make_plan(asked(construction=left_out.model_dump(), cuff={"rib": request.cuff.rib}))


@pytest.mark.parametrize("word", VOCABULARY)
def test_a_word_goes_through_a_design_its_grid_and_its_graded_pattern(word: str) -> None:
    request = asked(**VOCABULARY[word])
    kept = request.model_dump(mode="json", by_alias=True, exclude={"foot", "other_foot", "gauge"})
    kept["constructions"] = [kept.pop("construction")]
    design, faults = read_design(json.loads(json.dumps(kept)))
    assert design, faults
    followers = request_for(design, request.foot, request.gauge)
    assert followers == request

    plan = make_plan(followers)
    usual = usual_beside(request)
    assert (plan.rounds(), plan.warnings, plan.reinforcing_thread) != (
        usual.rounds(),
        usual.warnings,
        usual.reinforcing_thread,
    )

    grid = grid_of(followers, [foot_for(ball) for ball in BALLS], [request.gauge])
    sizes = sized(followers, BALLS)
    assert [size.plan for size in sizes] == [cell.plan for [cell] in grid.cells]
    cast_on = next(group for group in table_of(grid, "cm").groups if group.title.startswith("Stitches to cast on"))
    assert [row[-1] for row in cast_on.rows] == [str(size.plan.rounds()[0].after) for size in sizes]
    check_every_size(sizes)
