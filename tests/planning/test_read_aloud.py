"""What a knitter who reads the pattern aloud relies on: remarks that come where they hold, and words with one sense."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise, product
from typing import Any

import pytest

from companion.planning.brackets import growing
from companion.planning.document import Op, Repeat, Round
from companion.planning.facts import Numbers
from companion.planning.pattern import Size, pattern_of
from companion.planning.work import makes
from tests.planning.asking import planned, section
from tests.planning.requests import CONSTRUCTIONS, FLAPS, TURNS


def before_the_decrease(item: Round) -> int:
    """Stitches that a row of a turn works before it decreases."""
    ops = item.ops
    at = next(number for number, each in enumerate(ops) if isinstance(each, Op) and each.op in {"ssk", "p2tog"})
    return makes(ops[:at])


@pytest.mark.parametrize("turn", TURNS)
def test_a_turn_tells_of_its_gaps_where_the_first_one_is_closed(turn: str) -> None:
    """A row closes a gap when it decreases the last stitch that the row before has made with the one beyond."""
    rows = section(planned(construction={"turn": turn}), "heel-turn").rounds()
    closes = [before_the_decrease(item) == before.made - 1 for before, item in pairwise(rows)]
    first = closes.index(True) + 1
    assert all(closes[first - 1 :])
    assert [number for number, item in enumerate(rows) if item.note and "before a gap" in item.note] == [first]


def told_twice(ops: Sequence[Op | Repeat]) -> list[Op]:
    """Operations that go on with the one before: "k2, k26" is k28."""
    return [
        after
        for before, after in pairwise(ops)
        if isinstance(before, Op) and isinstance(after, Op) and (before.op, before.yarn) == (after.op, after.yarn)
    ]


MADE: list[dict[str, Any]] = [
    *CONSTRUCTIONS,
    *({"flap": flap, "garter_edge": garter} for flap, garter in product(FLAPS, (True, False))),
    *({"direction": "toe-up", "flap": flap} for flap in FLAPS),
]


@pytest.mark.parametrize("construction", MADE, ids=lambda made: ", ".join(map(str, made.values())))
def test_stitches_that_are_worked_alike_are_counted_together(construction: dict[str, Any]) -> None:
    for item in planned(construction=construction).rounds():
        for work in item.work:
            assert not told_twice(work.ops)


def test_a_number_that_grows_within_brackets_cannot_be_taken_for_one_that_grows_with_them() -> None:
    assert growing("[k5, k2tog] x 8", (-1, 0)) == "[k5 and 1 fewer in each such round, k2tog] x 8"
    assert growing("k1, ssk, k24, k2tog, k1", (0, -2, 0)) == "k1, ssk, k24 and 2 fewer each time, k2tog, k1"


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_the_heel_with_a_gusset_tells_apart_what_is_worked_and_what_waits(direction: str) -> None:
    plan = planned(construction={"direction": direction, "heel": "short-row with gusset"})
    rows = section(plan, "heel").rounds()
    note = rows[0].note or ""
    heel, side, instep = map(int, re.findall(r"(\d+) (?:stitches in|on either|of the instep)", note))
    assert heel + 2 * side + instep == rows[0].before
    assert rows[0].made == heel + 2 * side
    assert rows[1].made == heel + side


@pytest.mark.parametrize("toe", ["wedge", "short-row", "round"])
def test_grafting_is_told_with_the_end_that_the_yarn_comes_from(toe: str) -> None:
    """The round ends with the instep's last stitch: with the sole in front that is at the right, behind.

    Common practice: grafting goes from right to left, with the yarn from the back needle.
    """
    last = section(planned(construction={"toe": toe}), "toe").rounds()[-1]
    assert last.note is not None
    assert "the yarn comes from the right end of the back needle" in last.note


def test_a_flap_without_a_free_edge_says_that_it_has_no_garter_edge() -> None:
    made = {"direction": "toe-up", "garter_edge": True}
    assert any("no garter edge" in warning for warning in planned(construction=made).warnings)
    assert not any("garter" in warning for warning in planned(construction={"garter_edge": True}).warnings)


@pytest.mark.parametrize(
    ("construction", "arrangement", "notions"),
    [
        ({}, "double-pointed", set()),
        ({"heel": "afterthought"}, "double-pointed", {"smooth waste yarn"}),
        ({"direction": "toe-up", "toe": "short-row"}, "long circular", {"smooth waste yarn", "crochet hook"}),
        ({}, "short circular", {"double-pointed needles of the same size"}),
    ],
)
def test_the_notions_are_those_that_the_steps_ask_for(
    construction: dict[str, Any], arrangement: str, notions: set[str]
) -> None:
    plan = planned(construction=construction, needles={"arrangement": arrangement})
    listed = dict(pattern_of([Size("one", plan)], "cm").facts)["Notions"].split(", ")
    usual = {"tape measure", "scissors", "stitch markers"}
    assert {each for each in listed if not each.startswith("blunt")} - usual == notions


@pytest.mark.parametrize(
    ("heel", "key"), [("flap", "gusset"), ("short-row with gusset", "gusset-increases"), ("short-row", "heel")]
)
def test_from_the_toe_up_the_foot_is_told_where_its_plain_part_ends(heel: str, key: str) -> None:
    plan = planned(construction={"direction": "toe-up", "heel": heel})
    told = re.match(r"The (gusset|heel) begins ([\d.]+) cm", section(plan, key).rounds()[0].note or "")
    assert told is not None
    so_far = sum(section(plan, part).length_cm for part in ("toe", "foot"))
    # Lengths are told to a millimetre.
    assert float(told[2]) == pytest.approx(so_far, abs=0.06)
    assert told[1] in key


def test_a_leg_by_the_yarn_says_so_where_it_begins() -> None:
    plan = planned(construction={"direction": "toe-up"}, leg={"until": "half the yarn"})
    [told] = [item for item in section(plan, "leg").rounds() if item.note and "Weigh the yarn" in item.note]
    assert told == section(plan, "leg").rounds()[0]
    assert "half of the yarn" not in "".join(item.note or "" for item in planned().rounds())


@pytest.mark.parametrize("heel", ["short-row", "short-row with gusset"])
def test_above_the_heel_no_round_is_told_of_the_sole(heel: str) -> None:
    sections = planned(construction={"direction": "toe-up", "heel": heel}).sections
    turned = next(number for number, each in enumerate(sections) if each.key == "heel")
    above = [work.zone for each in sections[turned:] for item in each.rounds() for work in item.work]
    assert "heel" in above
    assert "sole" not in above


CALF = {"ankle_circumference_cm": 22, "leg_circumference_cm": 36}


@pytest.mark.parametrize("length", [18, 23, 27.5, 31])
@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_a_shaped_leg_changes_its_rhythm_once_and_shapes_most_above_the_ankle(direction: str, length: float) -> None:
    plan = planned(construction={"direction": direction}, foot=CALF, leg={"length_cm": length})
    rounds = section(plan, "leg").rounds()
    shaping = [number for number, item in enumerate(rounds) if item.before != item.after]
    assert len(shaping) > 10
    apart = [after - before for before, after in pairwise(shaping)]
    towards_the_ankle = apart if direction == "cuff-down" else apart[::-1]
    assert towards_the_ankle == sorted(apart, reverse=True)
    assert max(apart) - min(apart) <= 1
    assert rounds[0].kind == rounds[-1].kind == "plain"


@pytest.mark.parametrize(
    ("ankle", "evened"),
    # 10 % of ease leave 63.4, 66.2 and 57.6 stitches round the ankle, and 66 round the foot.
    [(22, False), (23, False), (20, True)],
)
def test_a_leg_that_is_shaped_anyway_goes_on_with_the_stitches_of_the_foot(ankle: float, *, evened: bool) -> None:
    plan = planned(construction={"direction": "toe-up"}, foot=CALF | {"ankle_circumference_cm": ankle})
    first = section(plan, "leg").rounds()[0]
    assert plan.sizes.foot_stitches == 66
    assert ("Evenly spread" in (first.note or "")) == evened
    assert (plan.sizes.leg_stitches == plan.sizes.foot_stitches) != evened


def test_a_sock_as_large_as_the_foot_is_not_so_many_percent_smaller() -> None:
    plan = planned(foot={"ball_circumference_cm": 20}, ease={"circumference_percent": 0}, leg={"length_cm": 10})
    told = {verdict.what: verdict.why for verdict in plan.fit}
    assert told["Round the foot"].endswith("measured: as large.")
    assert "round the ball of the foot, as large, are 20 cm" in Numbers(plan, plan.sizes).foot_asked()


def test_the_stitches_of_an_opened_heel_are_counted_when_both_its_edges_are_taken_up() -> None:
    plan = planned(construction={"heel": "afterthought"})
    [heel] = [each for each in pattern_of([Size("one", plan)], "cm").sections if each.key == "heel"]
    assert heel.lines[0].text.endswith(f"Now {section(plan, 'heel').rounds()[0].after} stitches")


@pytest.mark.parametrize("ball", [22.5, 22.8, 23, 23.4, 24])
def test_decreases_of_which_the_next_round_has_more_are_told_by_themselves(ball: float) -> None:
    # A round toe is brought to a multiple of eight by fewer than eight decreases, and goes on with eight a round.
    plan = planned(foot={"ball_circumference_cm": ball}, construction={"toe": "round"})
    for each in pattern_of([Size("one", plan)], "cm").sections:
        for line in each.lines:
            assert not re.search(r"\] x \d+ and", line.text)


@pytest.mark.parametrize(("direction", "edge"), [("cuff-down", "Cast on"), ("toe-up", "Bind off")])
@pytest.mark.parametrize(
    ("leg_cm", "ease", "told"),
    [
        (23, 10, r" over two needles .*| with a sewn .*, 1\.[4-9] times its width"),
        (40, 0, r" loosely: 40 cm \([^)]*\) must pass through an edge of 40"),
    ],
)
def test_an_edge_is_told_to_stretch_where_it_must(direction: str, edge: str, leg_cm: int, ease: int, told: str) -> None:
    plan = planned(
        construction={"direction": direction},
        foot={"leg_circumference_cm": leg_cm},
        ease={"circumference_percent": ease},
    )
    assert any(re.search(f"{edge}(?:{told})", item.note or "") for item in section(plan, "cuff").rounds())
