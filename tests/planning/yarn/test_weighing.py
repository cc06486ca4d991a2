"""What weighings say of a yarn: balls told apart, forecasts, warnings, and how long the leg may become."""

from __future__ import annotations

from typing import Any

import pytest

from companion.planning import Plan
from companion.planning.recalculation.leg_length import LegReach, leg_reach, with_leg
from companion.planning.units import in_one_unit
from companion.planning.yarn.forecast import Done, Progress, YarnLeft, progress_of, yarns_left
from companion.planning.yarn.weighing import Weighed, use_of

from ..asking import planned

STRANDED = {"leg": {"chart": {"width": 4, "rows": ["AAAB", "ABBB"]}}, "yarns": [{"key": "A"}, {"key": "B"}]}
SWAPPED = {**STRANDED, "leg": {"chart": {"width": 4, "rows": ["AAAB", "AABB"], "swap": True}}}


def at(plan: Plan, done: Done, sock: int = 1) -> Progress:
    return progress_of((plan, plan), done, sock)


def only(plan: Plan, done: Done, *weighed: tuple[float, Done], sock: int = 1) -> YarnLeft:
    [yarn] = yarns_left(at(plan, done, sock), {"A": weighed})
    return yarn


def reach(plan: Plan, done: Done, **weighed: list[tuple[float, Done]]) -> LegReach | None:
    progress = at(plan, done)
    return leg_reach(progress, yarns_left(progress, weighed))


def test_nothing_weighed_is_the_model_alone() -> None:
    use = use_of(3.0, 100, [])
    assert (use.per_thousand, use.left(0).grams) == (3.0, 100)
    assert use.why.startswith("Only calculated so far")
    assert not use.weighed


@pytest.mark.parametrize(
    ("weighed", "left"),
    [
        ([Weighed(60, 1000)], 60),  # a ball begun by another pair of socks
        ([Weighed(80, 6000), Weighed(130, 6100)], 130),  # a second ball bought
        ([Weighed(80, 6000), Weighed(60, 6100)], 60),  # a friend has had some
        ([Weighed(70, 10_000), Weighed(76, 8000)], 76),  # ripped back: the yarn is there again
    ],
)
def test_what_is_left_is_what_was_weighed_last(weighed: list[Weighed], left: float) -> None:
    use = use_of(3.0, 100, weighed)
    assert use.left(weighed[-1].stitches).grams == pytest.approx(left, abs=0.6)
    assert 2.4 < use.per_thousand < 3.6


@pytest.mark.parametrize("grams", [30, 180])
def test_a_weight_that_is_far_off_counts_once_the_next_agrees(grams: float) -> None:
    """Expected are about 82 g: 100 less 3 for each thousand stitches."""
    odd = Weighed(grams, 6000)
    asked = use_of(3.0, 100, [odd])
    assert asked.asks
    assert asked.asks.startswith(f"{grams} g were weighed and about 82 g expected")
    assert asked.left(6000).grams == pytest.approx(82)
    taken_back = use_of(3.0, 100, [odd, Weighed(81, 6000)])
    assert taken_back.asks is None
    assert taken_back.left(6000).grams == pytest.approx(81, abs=1)
    agreed = use_of(3.0, 100, [odd, Weighed(grams - 1, 6200)])
    assert agreed.asks is None
    assert agreed.left(6200).grams == pytest.approx(grams - 1, abs=1)


@pytest.mark.parametrize("grams", [0, 60, 120])
def test_a_weight_that_may_be_is_not_asked_about(grams: float) -> None:
    """Some was given away, a ball was bought, or all of it is gone."""
    assert use_of(3.0, 100, [Weighed(grams, 6000)]).asks is None


def test_a_ball_that_was_weighed_once_tells_of_no_stitch() -> None:
    assert not use_of(3.0, 100, [Weighed(95, 0)]).weighed
    assert not use_of(3.0, 100, [Weighed(130, 6100)]).weighed
    assert use_of(3.0, 100, [Weighed(95, 0), Weighed(80, 5000)]).weighed


def test_yarn_that_came_or_went_is_reported() -> None:
    [_, told] = use_of(3.0, 100, [Weighed(60, 1000)]).sums
    told = in_one_unit(told, "cm")
    assert told.startswith("From 100 g at the start to 60 g after 1,000 stitches: no stitches explain that.")


def test_ripping_back_begins_no_other_ball() -> None:
    assert len(use_of(3.0, 100, [Weighed(70, 10_000), Weighed(76, 8000)]).sums) == 2


def test_a_model_that_is_far_off_is_left_out() -> None:
    """A band read as 800 m instead of 400 halves what is calculated; two weighings tell."""
    use = use_of(1.5, 100, [Weighed(100, 0), Weighed(73, 9000)])
    assert use.per_thousand == pytest.approx(3.0, rel=0.02)
    assert "left out" in use.why


def test_yarn_of_which_none_was_at_hand_at_first_can_be_weighed() -> None:
    assert use_of(3.0, 0, [Weighed(50, 2000)]).left(2000).grams == pytest.approx(50)


def test_what_is_knitted_and_what_is_ahead_make_the_pair() -> None:
    plan = planned()
    rounds = len(plan.rounds())
    begun, second = only(plan, (100, 0)), only(plan, (rounds, 30), sock=2)
    assert begun.knitted + begun.pair_stitches == pytest.approx(second.knitted + second.pair_stitches)
    assert begun.sock_stitches < begun.pair_stitches < begun.knitted + begun.pair_stitches
    assert second.sock_stitches == pytest.approx(second.pair_stitches)
    finished = only(plan, (rounds, rounds))
    assert finished.pair.grams == 0
    assert finished.reaches == "enough"


@pytest.mark.parametrize("grams", [0, 1, 60])
def test_a_yarn_that_no_round_ahead_takes_ends_nowhere(grams: float) -> None:
    plan = planned()
    rounds = len(plan.rounds())
    finished = only(plan, (rounds, rounds), (grams, (rounds, rounds)), sock=2)
    assert (finished.reaches, finished.ends) == ("enough", None)
    stranded = planned(**STRANDED)
    past_the_chart = stranded.span("leg").stop
    progress = at(stranded, (len(stranded.rounds()), past_the_chart), sock=2)
    main, contrast = yarns_left(progress, {key: [(0, progress.done)] for key in "AB"})
    assert (main.reaches, contrast.reaches, contrast.ends) == ("runs out", "enough", None)


def test_a_place_beyond_the_sock_is_its_end() -> None:
    plan = planned()
    rounds = len(plan.rounds())
    assert only(plan, (rounds + 40, 0)).knitted == only(plan, (rounds, 0)).knitted


def test_yarn_that_reaches_ends_nowhere() -> None:
    yarn = only(planned(), (60, 0), (100, (0, 0)), (92, (60, 0)))
    assert (yarn.reaches, yarn.ends) == ("enough", None)


def test_yarn_that_does_not_reach_is_reported_with_the_round_where_it_ends() -> None:
    plan = planned(yarns=[{"grams": 60}])
    yarn = only(plan, (60, 0), (60, (0, 0)), (50, (60, 0)))
    assert yarn.reaches == "runs out"
    assert yarn.after.grams < 0
    assert yarn.ends
    assert yarn.ends.about
    assert yarn.ends.about.sock == 2
    course = at(plan, (0, 0)).courses[1]
    ends = yarn.ends.about.round
    assert yarn.use.left(course.whole("A") + course.up_to("A", ends - 1)).grams >= 0
    assert yarn.use.left(course.whole("A") + course.up_to("A", ends)).grams < 0
    assert (yarn.ends.early.sock, yarn.ends.early.round) < (2, ends)


def test_two_at_a_time_a_yarn_ends_in_both_socks_at_once() -> None:
    plan = planned(yarns=[{"grams": 60}], needles={"two_at_a_time": True})
    yarn = only(plan, (60, 60), (60, (0, 0)), (36, (60, 60)))
    assert yarn.ends
    assert yarn.ends.about
    assert yarn.ends.about.round < len(plan.rounds())


def test_yarn_may_be_gone_already() -> None:
    plan = planned()
    rounds = len(plan.rounds())
    yarn = only(plan, (rounds, rounds - 1), (0, (rounds, rounds - 1)))
    assert yarn.reaches == "runs out"
    assert yarn.ends
    assert yarn.ends.early.round == rounds


def test_each_colour_has_its_own_figures() -> None:
    main, other = yarns_left(at(planned(**STRANDED), (40, 0)), {"B": [(70.0, (40, 0))]})
    assert main.pair.grams > other.pair.grams > 0
    assert main.use.why.startswith("Only calculated")
    assert other.now.grams == pytest.approx(70, abs=0.1)


def test_socks_that_exchange_their_colours_take_alike_of_both() -> None:
    one, two = yarns_left(at(planned(**SWAPPED), (0, 0)), {})
    assert one.pair_stitches == pytest.approx(two.pair_stitches)
    assert one.sock_stitches > two.sock_stitches


CONSTRUCTIONS: list[dict[str, Any]] = [
    {},
    {"heel": "short-row with gusset", "toe": "round"},
    {"heel": "afterthought"},
    {"direction": "toe-up"},
    {"direction": "toe-up", "heel": "afterthought", "toe": "short-row"},
]


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
def test_a_leg_of_as_many_rounds_as_planned_changes_nothing(construction: dict[str, Any]) -> None:
    plan = planned(construction=construction)
    leg = plan.span("leg")
    before = leg.start
    assert with_leg(plan, 0, len(leg)).rounds() == plan.rounds()
    longer = with_leg(plan, before + 3, len(leg) + 11)
    assert longer.span("leg") == range(before, leg.stop + 11)
    assert longer.rounds()[: before + 3] == plan.rounds()[: before + 3]
    assert len(longer.rounds()) == len(plan.rounds()) + 11


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
@pytest.mark.parametrize("grams", [70, 100])
def test_the_pair_with_the_leg_that_is_named_takes_what_is_there(construction: dict[str, Any], grams: float) -> None:
    plan = planned(construction=construction, yarns=[{"grams": grams}])
    before = plan.span("leg").start
    found = reach(plan, (before, 0))
    assert found
    assert found.safe
    assert found.likely
    assert found.most
    safe, likely, most = found.safe.rounds, found.likely.rounds, found.most.rounds
    assert safe < likely < most
    assert found.before == before

    def after(rounds: int) -> YarnLeft:
        return only(with_leg(plan, before, rounds), (before, 0))

    assert after(safe).reaches == "enough"
    assert after(safe + 1).reaches == "may run out"
    assert after(likely).after.grams >= 0 > after(likely + 1).after.grams
    assert after(most + 1).after.high < 0
    for told in (found.safe, found.likely, found.most, found.planned):
        there = after(told.rounds)
        assert told.ahead == pytest.approx(there.pair_stitches)
        assert (told.left.low, told.left.high) == pytest.approx((there.after.low, there.after.high))
        assert told.takes.grams == pytest.approx(there.pair.grams)


def test_weighing_makes_the_leg_surer() -> None:
    plan = planned(construction={"direction": "toe-up"})
    before = plan.span("leg").start
    unsure, sure = reach(plan, (before, 0)), reach(plan, (before, 0), A=[(100, (0, 0)), (81.0, (before, 0))])
    assert unsure
    assert sure
    assert unsure.safe
    assert unsure.most
    assert sure.safe
    assert sure.most
    assert sure.most.rounds - sure.safe.rounds < unsure.most.rounds - unsure.safe.rounds


def test_the_yarn_that_runs_out_first_decides() -> None:
    plan = planned(**{**STRANDED, "yarns": [{"key": "A", "grams": 200}, {"key": "B", "grams": 20}]})
    found = reach(plan, (0, 0))
    assert found
    assert found.yarn == "B"


def test_too_little_for_any_leg_is_said() -> None:
    found = reach(planned(yarns=[{"grams": 20}]), (0, 0))
    assert found
    assert (found.safe, found.likely, found.most) == (None, None, None)


def test_yarn_for_any_leg_is_said() -> None:
    found = reach(planned(yarns=[{"grams": 900}]), (0, 0))
    assert found
    assert found.safe == found.most
    assert found.safe
    assert found.safe.rounds == found.most_allowed


def test_a_leg_is_settled_past_its_end_and_by_a_second_sock_that_is_further() -> None:
    plan = planned()
    end = plan.span("leg").stop
    assert reach(plan, (end, 0))
    assert reach(plan, (end + 1, 0)) is None
    assert reach(plan, (end - 20, end - 20))
    assert reach(plan, (end - 20, end - 19)) is None


def test_socks_by_different_plans_have_no_leg_in_common() -> None:
    progress = progress_of((planned(), planned(leg={"length_cm": 10})), (20, 20))
    assert leg_reach(progress, yarns_left(progress, {})) is None
