"""A plan that is changed: what is knitted stays, what lies ahead follows the changed request."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.planning import CannotKnitError, Plan, PlanRequest, make_plan, read_request
from companion.planning.recalculation.changed_request import change_plan, settled
from companion.resources import SAMPLE_PROJECTS
from companion.web.samples import read_samples
from tests.knitter import knit
from tests.planning.asking import WHOLE_PLANS, asked, made, planned

SAMPLES = {key: sample.request for key, sample in read_samples(SAMPLE_PROJECTS).items()}


def changed(request: PlanRequest, **sections: dict[str, Any]) -> PlanRequest:
    """The request with other entries."""
    data = request.model_dump()
    for section, entries in sections.items():
        data[section] |= entries
    found, faults = read_request(data)
    assert found, faults
    return found


def after(plan: Plan, key: str) -> int:
    """Rounds done at the end of a section."""
    return plan.span(key).stop


# The measurements of a foot are times its own.
CHANGES: list[dict[str, dict[str, Any]]] = [
    {"foot": {"length_cm": 1.05}},
    {"foot": {"ball_circumference_cm": 1.06}},
    {"leg": {"length_cm": 11}},
    {"construction": {"toe": "round"}},
    {"construction": {"heel": "short-row with gusset"}},
    {"ease": {"length_cm": 0.5}},
    {"needles": {"arrangement": "long circular"}},
]


@WHOLE_PLANS
@given(st.sampled_from(sorted(SAMPLES)), st.sampled_from(CHANGES), st.data())
def test_knitted_rounds_stay_and_the_whole_can_be_knitted(
    sample: str, change: dict[str, dict[str, Any]], data: st.DataObject
) -> None:
    plan = made(SAMPLES[sample])
    done = data.draw(st.integers(0, plan.count), label="done")
    foot = plan.request.foot
    times = {name: round(getattr(foot, name) * by, 1) for name, by in change.get("foot", {}).items()}
    request = changed(plan.request, **change | ({"foot": times} if times else {}))
    if settled(plan, done, request):
        with pytest.raises(CannotKnitError):
            change_plan(plan, done, request)
        return
    new = change_plan(plan, done, request)
    assert new.rounds()[:done] == plan.rounds()[:done]
    assert new.request == request
    knit(new.model_dump(mode="json"))


def test_before_the_cast_on_the_plan_is_made_anew() -> None:
    request = asked(construction={"direction": "toe-up", "heel": "short-row", "toe": "wedge"})
    assert change_plan(planned(), 0, request) == make_plan(request)


def test_a_longer_foot_gets_more_rounds_and_keeps_its_stitches() -> None:
    plan = planned()
    done = after(plan, "heel-flap")
    longer = change_plan(plan, done, changed(plan.request, foot={"length_cm": 27}))
    assert longer.sizes.foot_stitches == plan.sizes.foot_stitches
    assert longer.count > plan.count
    assert longer.sizes.foot_length_cm == pytest.approx(plan.sizes.foot_length_cm + 2, abs=0.3)


def test_a_wider_foot_is_reached_at_the_gusset_when_the_leg_is_knitted() -> None:
    plan = planned()
    wider = change_plan(plan, after(plan, "leg"), changed(plan.request, foot={"ball_circumference_cm": 25}))
    assert wider.sizes.leg_stitches == plan.sizes.leg_stitches
    assert wider.sizes.foot_stitches > plan.sizes.foot_stitches


def test_nothing_changes_where_nothing_else_is_asked_for() -> None:
    for request in SAMPLES.values():
        plan = made(request)
        for done in (0, 1, plan.count // 3, plan.count // 2, plan.count):
            assert change_plan(plan, done, plan.request).rounds() == plan.rounds()


@pytest.mark.parametrize(
    ("part", "change", "where"),
    [
        ("cuff", {"construction": {"direction": "toe-up"}}, "construction.direction"),
        ("cuff", {"gauge": {"stitches_per_10cm": 30}}, "gauge.stitches_per_10cm"),
        ("cuff", {"cuff": {"rib": "k1 p1"}}, "cuff.rib"),
        ("leg", {"leg": {"length_cm": 20}}, "leg.length_cm"),
        ("heel-flap", {"construction": {"heel": "afterthought"}}, "construction.heel"),
        ("toe", {"construction": {"toe": "round"}}, "construction.toe"),
    ],
)
def test_what_is_knitted_settles_what_can_be_asked(part: str, change: dict[str, dict[str, Any]], where: str) -> None:
    plan = planned()
    request = changed(plan.request, **change)
    assert not settled(plan, 0, request)
    [fault] = settled(plan, after(plan, part), request)
    assert fault.where == where
    assert fault.message[0].isupper()
    assert fault.message.endswith(".")
    with pytest.raises(CannotKnitError):
        change_plan(plan, after(plan, part), request)


@pytest.mark.parametrize(("done", "refused"), [("cuff", ["cuff"]), ("leg", ["cuff"]), ("heel-flap", ["cuff", "heel"])])
def test_a_part_gets_another_yarn_until_it_is_begun(done: str, refused: list[str]) -> None:
    plan = planned(yarns=[{"key": "A"}, {"key": "B"}])
    for part in ("cuff", "heel", "toe"):
        request = asked(yarns=[{"key": "A"}, {"key": "B"}], parts={part: "B"})
        faults = settled(plan, after(plan, done), request)
        assert [fault.where for fault in faults] == [f"parts.{part}"] * (part in refused)
        if not faults:
            changed_plan = change_plan(plan, after(plan, done), request)
            assert any("B" in item.drawn for item in changed_plan.rounds()[after(plan, done) :])


@pytest.mark.parametrize(
    ("before", "part", "entry"),
    [
        ({"direction": "toe-up", "toe": "short-row"}, "toe", {"short_rows": "yarn over"}),
        ({"heel": "short-row"}, "heel", {"short_rows": "yarn over"}),
        ({"heel": "short-row"}, "heel", {"rounds_between": 2}),
        ({"direction": "toe-up"}, "toe", {"toe_start": "Turkish"}),
    ],
)
def test_what_is_begun_goes_on_as_it_was_made(before: dict[str, str], part: str, entry: dict[str, Any]) -> None:
    plan = planned(construction=before)
    request = changed(plan.request, construction=entry)
    where = next(f"construction.{name}" for name in entry)
    first = plan.span(part).start
    assert [fault.where for fault in settled(plan, first + 5, request)] == [where]
    assert first == 0 or change_plan(plan, first, request).request == request
    wedge = planned(construction={"toe": "wedge"})
    assert not settled(wedge, wedge.count, changed(wedge.request, construction=entry))
