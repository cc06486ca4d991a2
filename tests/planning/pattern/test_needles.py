"""Where the stitches lie on the needles when a section begins, and what is moved before it."""

from __future__ import annotations

import re
from itertools import accumulate, pairwise
from typing import Any, get_args

import pytest
from hypothesis import given

from companion.planning import Plan, pattern_of, written_pattern
from companion.planning.fit.halves import heel_stitches
from companion.planning.pattern.needles import needle_notes
from companion.planning.pattern.pattern import Size
from companion.planning.pattern.render import as_markdown_text, as_text
from companion.planning.plan.document import Zone
from companion.planning.plan.rounds import makes, one_by_one, takes, zone_stitches
from companion.planning.request.plan_request import Arrangement
from tests.planning.asking import LOZENGE, TWO, plan_or_leave, planned, section
from tests.planning.requests import each_with, requests

ARRANGEMENTS = get_args(Arrangement)
HALVES: tuple[Zone, Zone] = ("sole", "instep")
NO_COUNTS = re.compile(r"(?i)needles? \d( to \d| and \d)?|First move [^.]+\.|join the \d+|another after \d+")
"""Numbers in a note that name a needle, or count stitches that are counted in it already."""


def counted(note: str) -> int:
    return sum(map(int, re.findall(r"\d+", NO_COUNTS.sub("", note))))


def check_all_stitches_are_on_some_needle(plan: Plan) -> None:
    notes = needle_notes(plan)
    assert list(notes) == [section.key for section in plan.sections]
    for part in plan.sections:
        first = part.rounds()[0]
        assert counted(notes[part.key]) == (first.before or first.after), notes[part.key]


@pytest.mark.parametrize(("construction", "arrangement"), each_with(ARRANGEMENTS))
def test_all_stitches_are_on_some_needle(construction: dict[str, str], arrangement: Arrangement) -> None:
    check_all_stitches_are_on_some_needle(planned(construction=construction, needles={"arrangement": arrangement}))


@given(requests())
def test_all_stitches_of_any_sock_are_on_some_needle(data: dict[str, Any]) -> None:
    for arrangement in ARRANGEMENTS:
        check_all_stitches_are_on_some_needle(plan_or_leave(data | {"needles": {"arrangement": arrangement}}))


def test_a_heel_flap_on_double_pointed_needles_is_written_from_needle_to_needle() -> None:
    # Common practice: the heel on one needle, the sole shared between two again when its edges are picked up.
    assert needle_notes(planned()) == {
        "cuff": "16, 18, 18 and 16 stitches on needles 1 to 4. The round begins with needle 1. "
        "Needles 1 and 2 will be the heel, needles 3 and 4 the instep.",
        "leg": "16, 18, 18 and 16 stitches on needles 1 to 4. The round begins with needle 1.",
        "heel-flap": "Slip the stitches of needle 2 onto needle 1, where the rows are worked: it has 34, while 18 and "
        "16 wait on needles 3 and 4.",
        "heel-turn": "The rows go on there: 34 stitches on needle 1, while 18 and 16 wait on needles 3 and 4.",
        "gusset": "20 stitches of the heel on needle 1; 18 and 16 on needles 3 and 4. When both edges are picked up, "
        "share the sole between needles 1 and 2; the round begins with needle 1.",
        "foot": "17, 17, 18 and 16 stitches on needles 1 to 4. The round begins with needle 1.",
        "toe": "17, 17, 18 and 16 stitches on needles 1 to 4. The round begins with needle 1. For the grafting, each "
        "half goes on one needle.",
    }  # fmt: skip


def test_a_pattern_does_not_say_again_how_the_stitches_lie() -> None:
    pattern = pattern_of([Size("one", planned())], "cm")
    said = {section.key: section.opening for section in pattern.sections}
    assert said["leg"] == ""
    assert said["foot"].startswith("17, 17, 18 and 16 stitches")
    assert said["toe"] == "For the grafting, each half goes on one needle."
    for text in (as_text(pattern), as_markdown_text(pattern), written_pattern(planned(), "cm")):
        assert text.count("16, 18, 18 and 16 stitches on needles 1 to 4") == 1
        assert text.count("17, 17, 18 and 16 stitches on needles 1 to 4") == 1
        assert "\n\n\n" not in text


@pytest.mark.parametrize(("construction", "arrangement"), each_with(ARRANGEMENTS))
def test_a_pattern_counts_the_stitches_again_only_where_they_lie_otherwise(
    construction: dict[str, str], arrangement: Arrangement
) -> None:
    plan = planned(construction=construction, needles={"arrangement": arrangement})
    pattern = pattern_of([Size("one", plan)], "cm")
    counts = [re.sub(r"The round begins.*", "", part.opening) for part in pattern.sections]
    lies = [re.findall(r"\d+[^.;:]*", words) for words in counts]
    for before, after in pairwise(filter(None, lies)):
        assert before[-1] != after[-1]


@pytest.mark.parametrize("heel", ["short-row", "afterthought"])
@pytest.mark.parametrize("toe", ["wedge", "short-row", "round"])
@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_what_is_left_of_a_note_says_what_it_is_about(direction: str, toe: str, heel: str) -> None:
    """A short circular needle: its stitches may lie as before, and nothing of them be left to refer to."""
    made = {"direction": direction, "toe": toe, "heel": heel}
    plan = planned(construction=made, needles={"arrangement": "short circular"})
    for part in pattern_of([Size("one", plan)], "cm").sections:
        assert not re.search(r"\bthey\b(?! crowd)", part.opening), part.opening
    # The tip of a toe that is cast on was never on the long needle, so that nothing goes back there.
    assert not any("Back on" in note for note in needle_notes(plan).values())


def test_an_opening_is_counted_when_its_stitches_are_on_the_needles() -> None:
    for arrangement in ARRANGEMENTS:
        note = needle_notes(planned(construction={"heel": "afterthought"}, needles={"arrangement": arrangement}))[
            "heel"
        ]
        assert re.search(r"When all are picked up: \d+", note)


def test_ribbing_is_divided_between_its_repeats() -> None:
    cuff = needle_notes(planned(cuff={"rib": "k3 p1"}))["cuff"]
    one, two, three, four = map(int, re.findall(r"\d+", cuff)[:4])
    assert one % 4 == (one + two + three) % 4 == four % 4 == 0


@pytest.mark.parametrize(
    ("construction", "arrangement"), each_with([each for each in ARRANGEMENTS if each != "short circular"])
)
def test_rows_leave_the_other_half_waiting(construction: dict[str, str], arrangement: Arrangement) -> None:
    plan = planned(construction=construction, needles={"arrangement": arrangement})
    notes = needle_notes(plan)
    for part in plan.sections:
        first = part.rounds()[0]
        assert ("wait" in notes[part.key]) == (first.side != "round"), part.key
        assert ("begins" in notes[part.key]) == (first.side == "round" and not first.resting * (first.before == 0))


def test_stitches_that_an_even_spread_put_in_the_wrong_half_are_moved_before_the_heel() -> None:
    asked: dict[str, Any] = {"foot": {"leg_circumference_cm": 20}, "cuff": {"rib": "k7 p5"}}
    plan = planned(**asked)
    # 60 stitches are halved to 30; one decrease in each half leaves 29 of 58, and the heel is the even half, 28.
    assert (plan.sections[0].rounds()[0].after, plan.sizes.leg_stitches) == (60, 58)
    told = needle_notes(plan)["heel-flap"]
    assert told.startswith("First move 1 from the end of needle 2 to the beginning of needle 3. Slip the stitches of")
    marked = needle_notes(planned(**asked, needles={"arrangement": "short circular"}))
    assert marked["heel-flap"].startswith("First move the second marker 1 back. Take the 28 stitches up to the second")


@pytest.mark.parametrize("leg", [18.5, 20, 21.5])
@pytest.mark.parametrize("arrangement", ["double-pointed", "long circular"])
def test_a_round_toe_under_a_charted_instep_has_no_decrease_across_two_needles(arrangement: str, leg: float) -> None:
    # Common practice: what lies on two needles is not knitted together.
    plan = planned(
        foot={"leg_circumference_cm": leg},
        leg={"length_cm": 12, "chart": LOZENGE},
        foot_pattern="instep follows the leg",
        yarns=TWO,
        construction={"toe": "round"},
        needles={"arrangement": arrangement},
    )
    sole, instep = (zone_stitches(section(plan, "foot").rounds()[-1], zone) for zone in HALVES)
    assert sole != instep
    note = needle_notes(plan)["toe"]
    assert note.startswith(
        f"First move {abs(sole - instep) // 2} from the {'end' if sole > instep else 'beginning'} of"
    )
    for item in section(plan, "toe").rounds():
        half = item.before // 2
        assert any(taken == half for taken in accumulate(takes((each,)) for each in one_by_one(item.ops))), item


def test_a_short_circular_needle_gives_way_to_others_where_it_is_too_wide() -> None:
    # Common practice: the small rounds at the tip of the toe do not reach round it.
    down = needle_notes(planned(needles={"arrangement": "short circular"}))
    assert "double-pointed" in down["toe"]
    assert "double-pointed" not in down["leg"]
    up = needle_notes(planned(needles={"arrangement": "short circular"}, construction={"direction": "toe-up"}))
    assert up["toe"].startswith("Begin on double-pointed needles.")


def test_rows_over_heel_and_gusset_that_crowd_a_needle_are_reported() -> None:
    notes = needle_notes(planned(construction={"direction": "toe-up"}))
    assert "it has 66" in notes["heel-turn"]
    assert notes["heel-turn"].endswith("let the outer ones wait on a needle of their own.")
    assert "crowd" not in needle_notes(planned())["heel-flap"]


def test_a_leg_narrowed_along_its_back_begins_with_more_stitches_there_and_moves_none() -> None:
    foot = {"ankle_circumference_cm": 21, "leg_circumference_cm": 27}
    plan = planned(foot=foot, leg={"length_cm": 20}, needles={"arrangement": "two short circulars"})
    notes = needle_notes(plan)
    top, heel = plan.sections[0].rounds()[0].after, plan.sizes.leg_stitches
    instep = heel - heel_stitches(heel)
    assert top >= heel + 8
    assert notes["leg"].startswith(f"{top - instep} stitches on needle 1, {instep} on needle 2.")
    assert notes["heel-flap"].startswith(f"The rows are worked on needle 1, which has {heel_stitches(heel)} stitches")


@pytest.mark.parametrize("ball", [19, 20, 21, 22, 23])
@pytest.mark.parametrize("name", ["lace rib", "cable rib", "basketweave"])
def test_a_pattern_on_a_shaped_leg_moves_no_stitches(name: str, ball: float) -> None:
    """Its decreases and cables may lie across two needles; only the spread round beyond the cuff changes the front."""
    plan = planned(
        foot={"ball_circumference_cm": ball, "length_cm": 25},
        leg={"length_cm": 24, "stitch_pattern": {"name": name}},
        needles={"arrangement": "two short circulars"},
    )
    notes = needle_notes(plan)
    back, front = map(int, re.findall(r"(\d+) (?:stitches )?on needle", notes["leg"]))
    first = section(plan, "leg").rounds()[0]
    assert first.note
    if first.note.startswith("Evenly"):
        places = [*accumulate(takes((each,)) for each in one_by_one(first.ops))]
        made = [makes((each,)) for each in one_by_one(first.ops)]
        front = sum(stitches for place, stitches in zip(places, made, strict=True) if place > back)
    [instep] = map(int, re.findall(r"the (\d+) on needle 2 wait", notes["heel-flap"]))
    moved = [int(number) for number in re.findall(r"First move (\d+)", notes["heel-flap"])]
    assert moved == ([abs(front - instep)] if front != instep else [])


@pytest.mark.parametrize(
    ("arrangement", "says"),
    [
        ("double-pointed", "each sock has its own needles and its own ball"),
        ("long circular", "Knit the first halves of both, turn, then the second halves of both"),
        ("two short circulars", "Knit needle 1 of both, turn, then needle 2 of both"),
    ],
)
def test_two_at_a_time_is_explained_once_where_the_socks_begin(arrangement: Arrangement, says: str) -> None:
    # Common practice: on long needles both socks lie side by side, on short ones each has its own.
    first, *others = needle_notes(planned(needles={"arrangement": arrangement, "two_at_a_time": True})).values()
    assert says in first
    assert not [each for each in others if "Two at a time" in each]
    assert "Two at a time" not in needle_notes(planned(needles={"arrangement": arrangement}))["cuff"]


@pytest.mark.parametrize("ball", [20, 21.5, 23, 25])
@pytest.mark.parametrize("rib", ["k2 p2", "k3 p1", "k1 p1"])
def test_stitches_that_wait_lie_on_the_needles_that_they_were_on(ball: float, rib: str) -> None:
    notes = needle_notes(planned(foot={"ball_circumference_cm": ball, "length_cm": 25}, cuff={"rib": rib}))
    three, four = re.findall(r"\d+", notes["leg"])[2:4]
    assert f"while {three} and {four} wait on needles 3 and 4" in notes["heel-flap"]
    assert f"; {three} and {four} on needles 3 and 4" in notes["gusset"]
    assert f"{three} and {four} stitches on needles 1 to 4" in notes["foot"]


def test_the_edges_of_an_opening_are_shared_out_again_and_not_as_the_cuff_lay() -> None:
    plan = planned(
        construction={"direction": "toe-up", "heel": "afterthought"},
        foot={"ball_circumference_cm": 24.3, "ankle_circumference_cm": 25},
    )
    lie = [int(number) for number in re.findall(r"\d+", needle_notes(plan)["heel"].split(" stitches")[0])]
    assert sum(lie) == plan.sections[-1].rounds()[0].after
    assert max(lie) - min(lie) <= 1
