"""The yarn of a plan: each counted from what is knitted with it, and a leg as long as it lasts."""

from __future__ import annotations

import pytest

from companion.planning import CannotKnitError, pattern_of
from companion.planning.fit.targets import Fabric
from companion.planning.pattern.pattern import Size
from companion.planning.yarn.requirement import YarnTaken
from tests.planning.asking import LOZENGE, charted, colourful, knit_plan, planned


def test_each_yarn_is_counted_from_its_stitches_and_its_floats() -> None:
    # Half the stitches of a round each, so by symmetry both yarns take the same on the leg.
    plan = colourful({"width": 2, "rows": ["AB"]})
    one = colourful({"width": 1, "rows": ["A"]})
    contrast = next(need for need in plan.yarn if need.key == "B").metres_a_sock
    rounds = len(charted(plan, "leg"))
    around = plan.sizes.leg_stitches
    loop = (21.6 / (3.2 * 4.4)) ** 0.5  # Munden's relation, wet-relaxed
    by_hand = rounds * (around / 2 * loop + around / 2 / 3.2) / 100 + 0.3
    assert contrast == pytest.approx(by_hand, abs=0.1)
    assert next(need for need in one.yarn if need.key == "B").metres_a_sock == 0


def test_an_edge_takes_three_times_its_width() -> None:
    # Common practice: the tail of a long-tail cast-on is about three times as long as the edge is wide.
    plan = planned()
    cast_on = plan.rounds()[0]
    assert YarnTaken(Fabric(3.2, 4.4), "A").cm(cast_on) == {"A": pytest.approx(3 * cast_on.after / 3.2)}


def test_with_exchanged_colours_a_pair_takes_as_much_of_both() -> None:
    plan = colourful(LOZENGE | {"swap": True})
    first, second = plan.yarn
    assert first.metres_a_sock > second.metres_a_sock
    assert first.grams_a_pair == pytest.approx(second.grams_a_pair, abs=0.2)
    both = f"{first.metres_a_sock + second.metres_a_sock:.0f} m for the pair"
    facts = dict(pattern_of([Size("one", plan)], "cm").facts)
    assert both in facts["Yarn A"]
    assert both in facts["Yarn B"]


def test_parts_in_another_yarn_take_it_from_the_main_one() -> None:
    """No yarn floats behind a slipped stitch, and an edge takes as much in any yarn."""
    yarns = [{"key": "A"}, {"key": "B"}]
    parts = {"cuff": "B", "heel": "B", "toe": "B"}
    one, two = planned(yarns=yarns), planned(yarns=yarns, parts=parts)
    assert knit_plan(one).ops == knit_plan(two).ops
    whole = next(need for need in one.yarn if need.key == "A").metres_a_sock
    tails = 0.3  # a second yarn has two ends more
    assert sum(need.metres_a_sock for need in two.yarn) == pytest.approx(whole + tails, abs=0.11)
    cast_on = two.rounds()[0]
    assert YarnTaken(Fabric(3.2, 4.4), "A").cm(cast_on) == {"B": pytest.approx(3 * cast_on.after / 3.2)}


def test_half_the_yarn_ends_with_the_yarn_of_the_cuff_where_that_is_short() -> None:
    up, cuff = {"direction": "toe-up"}, {"length_cm": 6}
    ample = [{"key": "A", "grams": 100}, {"key": "B", "grams": 50}]
    leg = {"until": "half the yarn"}
    plan = planned(construction=up, leg=leg, cuff=cuff, yarns=ample, parts={"cuff": "B"})
    assert next(need for need in plan.yarn if need.key == "A").grams_a_pair == pytest.approx(100, abs=0.7)
    assert plan.count > planned(construction=up, leg=leg, cuff=cuff, yarns=ample).count
    scarce = [{"key": "A", "grams": 100}, {"key": "B", "grams": 5}]
    with pytest.raises(CannotKnitError, match=r"half of 100 g .* of yarn A, 5 g .* of yarn B does not reach"):
        planned(construction=up, leg=leg, cuff=cuff, yarns=scarce, parts={"cuff": "B"})


def test_yarn_that_runs_out_is_named_with_what_is_missing() -> None:
    plan = colourful(LOZENGE, yarns=[{"key": "A", "name": "moss"}, {"key": "B", "name": "chalk", "grams": 5}])
    need = next(need for need in plan.yarn if need.key == "B")
    assert not need.enough
    told = next(warning for warning in plan.warnings if "runs out" in warning)
    assert "Yarn B, chalk" in told
    assert f"{need.grams_a_pair - 5:.0f} g" in told
    assert not any("moss" in warning for warning in plan.warnings)


def test_a_leg_from_the_toe_up_goes_on_until_half_the_yarn_is_gone() -> None:
    yarns = [{"grams": 80, "metres_per_100g": 400}]
    up = {"direction": "toe-up"}
    plan = planned(construction=up, leg={"until": "half the yarn"}, yarns=yarns)
    (need,) = plan.yarn
    assert need.enough
    # One round more would take more than the 80 g: a round is about half a gram of the pair.
    assert need.grams_a_pair == pytest.approx(80, abs=0.6)
    knit_plan(plan)
    with pytest.raises(CannotKnitError, match=r"half of 20 g \(0.71 oz\) of yarn A does not reach"):
        planned(construction=up, leg={"until": "half the yarn"}, yarns=[{"grams": 20}])
