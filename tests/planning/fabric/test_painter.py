"""Colour: the chart lies on the knitted stitches as it is drawn, and each yarn is counted from what is knitted."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given

from companion.planning import CannotKnitError, read_request
from companion.planning.fabric.chart import floats_of, long_floats
from companion.planning.fabric.second_sock import as_second_sock
from companion.planning.fit.targets import Fabric, fit_of
from companion.planning.request.plan_request import Chart
from companion.planning.units import counted
from companion.planning.yarn.requirement import YarnTaken
from tests.planning.asking import (
    FOLLOWS,
    LOZENGE,
    TWO,
    asked,
    charted,
    colourful,
    knit_plan,
    made_in,
    plan_or_leave,
    planned,
    request_data,
    section,
)
from tests.planning.requests import HEELS, charts, requests


def middle_repeat(cells: str, width: int, leg_stitches: int, direction: str) -> str:
    """What the middle of the front shows, as wide as a repeat, which may go on round the sides, as it is looked at.

    The front is the second half of a round, with a stitch more where an even heel leaves it one. Seen from the right
    side a round runs from right to left, so what is knitted reads backwards.
    """
    front = leg_stitches - (leg_stitches // 2 if direction == "toe-up" else leg_stitches // 4 * 2)
    start = len(cells) - front + (front - width) // 2
    return (cells + cells)[start : start + width][::-1]


@given(requests(chart=charts()))
def test_the_leg_shows_the_chart_with_a_repeat_centred_on_the_front(data: dict[str, Any]) -> None:
    plan = plan_or_leave(data)
    width, rows = data["leg"]["chart"]["width"], data["leg"]["chart"]["rows"]
    before, leg = 0, section(plan, "leg").rounds()
    steps = [number for number, item in enumerate(leg) if (item.note or "").startswith("Evenly spread")]
    for number, item in enumerate(leg):
        if item.chart_row is None:
            continue
        row = rows[item.chart_row - 1]
        cells = made_in(item, "leg")
        assert len(cells) == item.after
        if data["foot_pattern"] == "plain":
            before = before % len(rows) + 1
            assert item.chart_row == before
        # Up to the last step the front is that of the stitches there; a leg that is shaped then has the same all along.
        stitches = plan.sizes.leg_stitches if width == 1 or number >= max(steps, default=0) else item.after
        assert middle_repeat(cells, width, stitches, data["construction"]["direction"]) == row
        if item.after % width == 0:
            assert cells in row[::-1] * (len(cells) // width + 1) or cells in (row[::-1] * (len(cells) // width + 2))


@pytest.mark.parametrize(("width", "ball", "leg"), [(40, 27.8, 80), (60, 20.8, 60)])
def test_a_repeat_wider_than_the_front_has_its_middle_there(width: int, ball: float, leg: int) -> None:
    row = "A" * (width // 4) + "B" * 3 + "A" * (width - width // 4 - 3)
    plan = colourful({"width": width, "rows": [row]}, foot={"ball_circumference_cm": ball, "length_cm": 25})
    assert plan.sizes.leg_stitches == leg
    for item in charted(plan, "leg"):
        assert middle_repeat(made_in(item, "leg"), width, leg, "cuff-down") == row


@pytest.mark.parametrize("width", [3, 11])
def test_columns_run_from_the_instep_into_the_leg_where_both_are_odd_halves(width: int) -> None:
    """From the toe up on 66 stitches: the 33 of the instep, knitted on, have the yarns that they had."""
    plan = colourful(
        {"width": width, "rows": ["A" * (width - 1) + "B"]},
        foot_pattern="instep follows the leg",
        foot={"ball_circumference_cm": 21.7, "length_cm": 24},
        construction={"direction": "toe-up", "heel": "afterthought"},
    )
    assert plan.sizes.leg_stitches == plan.sizes.foot_stitches == 66
    yarns = {}
    above = 0
    for item, worked in zip(plan.rounds(), knit_plan(plan).rounds, strict=True):
        if item.chart_row is None:
            continue
        cells = "".join(made_in(item, part.zone) for part in item.work)
        for stitch, yarn in zip(worked.made, cells, strict=True):
            yarns[stitch] = yarn
            if item.work[0].zone == "leg" and yarn == "B" and (below := stitch.parents[0]) in yarns:
                above += 1
                assert yarns[below] == "B" or below.op == "co", worked.written.place
    assert above > 200


def test_a_pattern_that_follows_down_the_instep_keeps_its_middle_and_its_rows() -> None:
    plan = colourful(LOZENGE, foot_pattern="instep follows the leg")
    rows = [item.chart_row for key in ("leg", "gusset", "foot") for item in charted(plan, key)]
    assert rows == [number % 4 + 1 for number in range(len(rows))]
    # From the pick-up on no round across the instep interrupts the pattern.
    assert len(list(charted(plan, "gusset"))) == len(section(plan, "gusset").rounds())
    for item in (*charted(plan, "gusset"), *charted(plan, "foot")):
        cells = made_in(item, "instep")
        middle = (len(cells) - 6) // 2
        row = LOZENGE["rows"][(item.chart_row or 0) - 1]  # type: ignore[index]
        assert cells[middle : middle + 6][::-1] == row
        sole = "" if item.kind == "pick-up" else made_in(item, "sole")
        # Stitch by stitch, so that no yarn lies behind the sole for long.
        assert not sole or set(sole) == set(row)
        assert not any(len(set(row)) == 2 and pair[0] == pair[1] for pair in pairwise(sole))


def test_a_plain_foot_is_knitted_in_the_main_colour_alone() -> None:
    plan = colourful(LOZENGE)
    assert all(not item.chart_row for key in ("cuff", "heel-flap", "gusset", "foot", "toe") for item in
               section(plan, key).rounds())  # fmt: skip


@pytest.mark.parametrize(
    ("row", "floats"),
    [
        ("AABBAAAA", {"A": 2, "B": 6}),
        ("BAAAAAAA", {"A": 1, "B": 7}),
        ("AAAA", {"A": 0}),
        ("ABC", {"A": 2, "B": 2, "C": 2}),
    ],
)
def test_floats_are_counted_across_the_join_of_the_repeat(row: str, floats: dict[str, int]) -> None:
    assert floats_of(row) == floats


def test_a_float_is_long_beyond_five_stitches_or_two_and_a_half_centimetres() -> None:
    # Two technique guides: never over 5 stitches; others 1 in or 2.5 cm.
    five, six = (Chart(width=n + 1, rows=("B" + "A" * n,)) for n in (5, 6))
    fine, coarse = Fabric(3.2, 4.4), Fabric(1.9, 2.6)
    assert long_floats(five, fine) == ()
    assert [(each.row, each.yarn, each.stitches) for each in long_floats(six, fine)] == [(1, "B", 6)]
    assert [each.stitches for each in long_floats(five, coarse)] == [5]


def test_stranded_knitting_gets_half_the_ease_unless_it_is_set_by_hand() -> None:
    # knittedinswitzerland.ch/?p=2629: 5 % for stranded socks against 10 % for plain ones.
    chart = {"chart": LOZENGE}
    assert asked(leg=chart, yarns=TWO).ease.circumference_percent == 5
    assert asked(leg=chart, yarns=TWO, ease={"circumference_percent": 8}).ease.circumference_percent == 8
    assert asked(leg={"chart": {"width": 1, "rows": ["A", "B"]}}, yarns=TWO).ease.circumference_percent == 10


def test_rib_and_chart_that_disagree_offer_both_ways_out() -> None:
    plan = colourful({"width": 10, "rows": ["AAAAABBBBB"]}, cuff={"rib": "k2 p2"})
    whys = {choice.stitches: choice.why for choice in plan.choices}
    assert any(count % 20 == 0 and "one count for all" in why for count, why in whys.items())
    assert any(count % 20 == 10 and "changed evenly" in why for count, why in whys.items())
    for choice in plan.choices:
        own = colourful(
            {"width": 10, "rows": ["AAAAABBBBB"]},
            cuff={"rib": "k2 p2"},
            ease={"circumference_percent": choice.ease_percent},
        )
        assert own.sizes.leg_stitches == choice.stitches
        # The count that a choice names for the ribbing is the one that is cast on.
        told = re.search(r"the ribbing on (\d+)", choice.why)
        ribbing = section(plan if choice.chosen else own, "cuff").rounds()[0].after
        assert told is None or int(told[1]) == ribbing


@pytest.mark.parametrize("ball", range(19, 26))
def test_one_count_for_all_is_one_count(ball: int) -> None:
    plan = colourful({"width": 10, "rows": ["AAAAABBBBB"]}, cuff={"rib": "k2 p2"}, foot={"ball_circumference_cm": ball})
    [why] = [choice.why for choice in plan.choices if choice.chosen]
    cast_on = section(plan, "cuff").rounds()[0].after
    assert ("one count for all" in why) == (cast_on == plan.sizes.leg_stitches)


def test_the_second_sock_exchanges_the_colours_of_the_chart_and_knits_the_same_stitches() -> None:
    plan = colourful(LOZENGE | {"swap": True})
    second = as_second_sock(plan)
    for one, other in zip(charted(plan, "leg"), charted(second, "leg"), strict=True):
        if len(set(made_in(one, "leg"))) > 1:
            assert made_in(other, "leg") == made_in(one, "leg").translate(str.maketrans("AB", "BA"))
    assert [item.after for item in second.rounds()] == [item.after for item in plan.rounds()]
    assert "its main colour is B" in (second.rounds()[0].note or "")
    assert as_second_sock(colourful(LOZENGE)) == colourful(LOZENGE)


def test_stripes_tell_how_to_hide_the_jog_once() -> None:
    plan = colourful({"width": 1, "rows": ["A", "A", "B", "B"]}, foot_pattern="instep follows the leg")
    noted = [item for item in plan.rounds() if item.note and "step" in item.note and "purlwise" in item.note]
    assert len(noted) == 1
    assert noted[0].chart_row == 1
    leg = charted(plan, "leg")
    assert [set(made_in(item, "leg")) for item in leg[:4]] == [{"A"}, {"A"}, {"B"}, {"B"}]


@pytest.mark.parametrize(
    ("entries", "sentence"),
    [
        ({"leg": {"chart": {"width": 2, "rows": ["AB", "ABA"]}}}, "row 2 has 3 stitches, and the repeat has 2"),
        ({"leg": {"chart": {"width": 2, "rows": ["AC"]}}}, "uses C, which is none of the yarns"),
        ({"leg": {"chart": {"width": 2, "rows": ["ax"]}}}, "letters of yarns, A to D"),
        ({"yarns": [{"key": "A"}, {"key": "A"}]}, "a letter of its own"),
        ({"leg": {"chart": {"width": 1, "rows": ["A"], "swap": True}}, "yarns": [{"key": "A"}]}, "needs both"),
        ({"leg": {"until": "half the yarn"}}, "only from the toe up"),
        ({"yarns": [{"colour": "red"}]}, "#c2452d"),
    ],
)
def test_what_does_not_go_together_is_said_in_a_sentence(entries: dict[str, Any], sentence: str) -> None:
    request, faults = read_request(request_data(**{"yarns": TWO} | entries))
    assert request is None
    assert sentence in " ".join(str(fault) for fault in faults)


def test_a_repeat_that_no_leg_can_have_is_refused_with_the_nearest_count() -> None:
    with pytest.raises(CannotKnitError, match="nearest that the repeat gives is"):
        colourful({"width": 47, "rows": ["A" * 46 + "B"]})


@given(requests(chart=charts()))
def test_no_yarn_lies_behind_more_stitches_than_the_chart_says_on_a_straight_leg(data: dict[str, Any]) -> None:
    chart = data["leg"]["chart"]
    short = {**data["leg"], "length_cm": min(18, data["leg"]["length_cm"]), "until": "length"}
    plan = plan_or_leave({**data, "foot": {**data["foot"], "leg_circumference_cm": None}, "leg": short})
    # A leg that comes to its count in steps has it only after the last of them.
    for item in (each for each in charted(plan, "leg") if each.after == plan.sizes.leg_stitches):
        cells = made_in(item, "leg")
        for yarn, longest in floats_of(chart["rows"][(item.chart_row or 1) - 1]).items():
            around = cells + cells
            assert max(map(len, around[around.index(yarn) :].split(yarn)[:-1])) == longest


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_stripes_go_on_through_the_rounds_that_open_the_heel_and_change_the_count(direction: str) -> None:
    stripes = ["A", "A", "A", "B", "B"]
    plan = planned(
        leg={"length_cm": 10, "chart": {"width": 1, "rows": stripes}},
        foot={"leg_circumference_cm": 21},
        foot_pattern="instep follows the leg",
        yarns=[{"key": "A"}, {"key": "B"}],
        construction={"direction": direction, "heel": "afterthought"},
    )
    striped = [item for each in plan.sections if each.key in {"leg", "heel-opening", "foot"} for item in each.rounds()]
    if direction == "cuff-down":
        assert any(item.kind == "setup" for item in striped)
    assert any(item.before != item.after for item in striped)
    for number, item in enumerate(striped):
        row = number % len(stripes)
        assert item.chart_row == row + 1
        drawn = item.drawn
        assert {yarn or "A" for yarn, loops in drawn.items() if loops} == {stripes[row]}


@pytest.mark.parametrize("heel", HEELS)
def test_no_round_across_the_instep_interrupts_the_pattern_between_cuff_and_toe(heel: str) -> None:
    plan = colourful(LOZENGE, construction={"heel": heel}, **FOLLOWS)
    if heel != "flap":
        assert plan.sizes.leg_stitches != plan.sizes.foot_stitches
    knit_plan(plan)
    across = [
        item
        for each in plan.sections
        if each.key in {"leg", "gusset-increases", "heel", "heel-turn", "heel-opening", "gusset", "foot"}
        for item in each.rounds()
        if item.side == "round" and not (heel == "afterthought" and each.key == "heel")
    ]
    # The leg may change its count before the chart begins.
    rows = [item.chart_row for item in across]
    rows = rows[rows.index(1) :]
    assert len(across) - len(rows) <= 1
    assert rows == [number % 4 + 1 for number in range(len(rows))]


@pytest.mark.parametrize("heel", HEELS)
def test_the_yarns_that_a_part_does_not_take_are_given_a_sentence(heel: str) -> None:
    """A flap ends elsewhere than it began, while short rows come back to where the round begins.

    eweewe.com, 2017/11/14: the flap is worked with one colour, and the other strands are cut before it.
    """

    def yarn_notes(**more: Any) -> list[tuple[str, str]]:
        plan = colourful(LOZENGE, construction={"heel": heel}, **more)
        notes = [(each.key, item.note or "") for each in plan.sections for item in each.rounds()]
        found = [
            (key, re.search(r"(?:The pattern ends here\. )?(?:Cut yarn|Yarn B waits)[^.]*", note))
            for key, note in notes
        ]
        return [(key, words[0]) for key, words in found if words]

    ends = "The pattern ends here. Cut yarn B"
    rows = {
        "flap": [("heel-flap", "Cut yarn B: it is joined again where the pattern goes on")],
        "afterthought": [],
        "strong": [("heel-turn", "Yarn B waits where the round begins")],
    }.get(heel, [("heel", "Yarn B waits where the round begins")])
    assert yarn_notes(**FOLLOWS) == [*rows, ("toe", ends)]
    [(first, words)] = yarn_notes()
    assert words == ends
    assert first in {"heel-flap", "heel", "heel-opening", "gusset-increases"}
    assert yarn_notes(leg={"chart": None}) == []


@pytest.mark.parametrize(
    ("stripes", "jog", "single"),
    [
        ("A", False, False),
        ("AAB", True, True),
        ("AABB", True, False),
        ("ABBA", True, False),
        ("AB", False, False),
    ],
)
def test_stripes_tell_how_their_step_is_hidden_and_where_it_cannot_be(stripes: str, *, jog: bool, single: bool) -> None:
    """Common practice: the first stitch of a stripe's second round is slipped, so that one round alone has none."""
    notes = " ".join(item.note or "" for item in colourful({"width": 1, "rows": [*stripes]}).rounds())
    assert ("slip the first stitch" in notes) == jog
    assert ("no second one, and keeps its step" in notes) == single
    assert ("as a helix" in notes) == (stripes == "AB")


def test_the_words_of_a_chart_that_fits_once_are_in_the_singular() -> None:
    assert [counted(number, "repeat") for number in (1, 2)] == ["1 repeat", "2 repeats"]


def test_stitches_knitted_over_waste_yarn_take_what_others_take() -> None:
    plan = planned(construction={"heel": "afterthought"})
    [opening], plain = section(plan, "heel-opening").rounds(), section(plan, "leg").rounds()[-1]
    taken = YarnTaken(fit_of(plan.request).fabric, "A")
    assert taken.cm(opening) == pytest.approx(taken.cm(plain))
