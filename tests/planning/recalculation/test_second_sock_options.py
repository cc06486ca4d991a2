"""What sock two can be knitted by once sock one was changed."""

from __future__ import annotations

import pytest

from companion.planning import Plan, recalculate
from companion.planning.construction.mirrored import mirrored
from companion.planning.fabric.second_sock import as_second_sock, main_yarn
from companion.planning.fit.targets import fit_of
from companion.planning.gauge.estimate import gauges_of
from companion.planning.gauge.observations import assumed
from companion.planning.gauge.parts import Fabrics
from companion.planning.recalculation.second_sock_options import Match, matches_for
from companion.planning.units import in_one_unit
from companion.planning.yarn.requirement import IN_HAND, metres_by_yarn
from tests.planning.asking import knit_plan, planned
from tests.planning.recalculation.test_adapting import checked, counted, in_section
from tests.planning.requests import HEELS_AND_TOES, names
from tests.shape import shape


def changed(plan: Plan, key: str, off: float, part: str = "leg", rounds: int = 20) -> Plan:
    """The plan of sock one after the change with this key was accepted there."""
    found = checked(plan, in_section(plan, part, rounds), off)
    return next(option.plan for option in found.options if option.key == key)


def choices(plan: Plan, one: Plan) -> tuple[Match, ...]:
    gauges = gauges_of([assumed(one.request)])
    return matches_for(plan, one, Fabrics(ahead=gauges, leg=gauges, foot=gauges))


def by_key(found: tuple[Match, ...]) -> dict[str, Match]:
    return {match.key: match for match in found}


@pytest.mark.parametrize("construction", HEELS_AND_TOES, ids=names)
def test_the_three_plans_of_sock_two(construction: dict[str, str]) -> None:
    plan = planned(construction=construction)
    part = "foot" if construction["direction"] == "toe-up" else "leg"
    one = changed(plan, "here", 0.92, part)
    found = by_key(choices(plan, one))
    assert list(found) == ["knitted", "measured", "planned"]
    if one.request.two_feet:
        assert found["knitted"].plan.request.construction.toe == "right foot"
        assert mirrored(found["knitted"].plan).rounds() == one.rounds()
    else:
        assert found["knitted"].plan.rounds() == one.rounds()
    assert [match.key for match in found.values() if match.matches] == ["knitted"]
    assert found["knitted"].changes == ()
    assert found["planned"].plan.rounds() == mirrored(plan).rounds()
    fit = fit_of(one.request)
    for match in found.values():
        sock = shape(knit_plan(match.plan), fit.fabric.stitches, fit.fabric.rounds)
        assert match.sizes.foot_circumference_cm == pytest.approx(sock.foot_cm, abs=0.006)
        assert match.sizes.foot_length_cm == pytest.approx(sock.foot_length_cm, abs=0.006)
    best = found["measured"].sizes
    assert abs(best.foot_circumference_cm - fit.foot_target) <= fit.fabric.width(1)
    assert abs(best.foot_length_cm - fit.length_target) <= fit.fabric.height(1)
    assert best.leg_cm == pytest.approx(fit.leg_target, abs=2 * fit.fabric.width(1))


def test_each_choice_tells_what_is_different_from_sock_one() -> None:
    plan = planned()
    found = by_key(choices(plan, changed(plan, "rest", 1.08)))
    told = {change.what: (change.before, change.after) for change in found["measured"].changes}
    # 20.7 cm at 3.456 stitches a cm: 71.5, so 72 with two-by-two ribbing. Sock one kept the 68 it was cast on with.
    assert told["Leg stitches"] == told["Stitches cast on"] == ("68", "72")
    assert "Foot stitches" not in told
    back = {change.what: (change.before, change.after) for change in found["planned"].changes}
    assert back["Foot stitches"] == ("72", "68")
    assert "Leg stitches" not in back


def test_there_is_nothing_to_choose_where_nothing_was_changed() -> None:
    plan = planned()
    assert choices(plan, plan) == ()


def test_another_needle_alone_is_a_change_too() -> None:
    plan = planned()
    found = choices(plan, changed(plan, "needle", 0.92))
    assert [match.key for match in found] == ["knitted", "planned"]
    assert {"Needle"} <= {change.what for change in found[1].changes}


def test_a_sock_ripped_back_to_its_cast_on_is_already_as_it_should_have_been() -> None:
    plan = planned()
    done = in_section(plan, "leg", 10)
    whole = next(one.plan for one in recalculate(plan, done, [counted(0.92)]).options if one.key == "rip")
    assert [match.key for match in choices(plan, whole)] == ["knitted", "planned"]


@pytest.mark.parametrize("swap", [False, True])
def test_yarn_is_listed_for_the_sock_of_each_column(swap: bool) -> None:
    """Weighed by the stitches of the second sock itself, whose colours may be exchanged."""
    rows = ["AAAB"] * 2 + ["AAAA"] * 4
    plan = planned(
        leg={"length_cm": 16, "chart": {"width": 4, "rows": rows, "swap": swap}}, yarns=[{"key": "A"}, {"key": "B"}]
    )
    found = by_key(choices(plan, changed(plan, "here", 0.9)))["measured"]
    told = {change.what: change for change in found.changes}
    assert not any("pair" in what for what in told)
    two = as_second_sock(found.plan)
    metres = metres_by_yarn(
        found.plan.request, two.rounds(), fit_of(found.plan.request).fabric, main_yarn(found.plan.request, 2)
    )
    for yarn in found.plan.request.yarns:
        if change := told.get(f"Yarn {yarn.key} for the sock"):
            grams = metres[yarn.key] * IN_HAND / yarn.metres_per_100g * 100
            assert in_one_unit(change.after, "cm") == f"{grams:.0f} g"
            assert f"together {metres[yarn.key]:.0f} m" in change.sums[1]
    assert any(what.startswith("Yarn A") for what in told)
