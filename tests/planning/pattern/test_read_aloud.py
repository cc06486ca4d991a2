"""What a knitter who reads the pattern aloud relies on: remarks that come where they hold, and words with one sense."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise, product
from typing import Any

import pytest

from companion.planning import pattern_of
from companion.planning.pattern.grading.brackets import growing
from companion.planning.pattern.pattern import Size
from companion.planning.pattern.render import as_markdown_text, as_text
from companion.planning.pattern.rounds_text import abbreviations, round_words
from companion.planning.plan.document import Op, Repeat, Round
from companion.planning.plan.rounds import makes
from companion.planning.recalculation.figures import PlanFigures
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


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
def test_a_remark_before_a_round_does_not_speak_of_this_one(construction: dict[str, str]) -> None:
    """In a list of rounds it stands between two: "after this row" is taken for the row above it."""
    for item in planned(construction=construction).rounds():
        assert not re.search(r"\b(after|at the end of) this (row|round)\b", item.note or "")


@pytest.mark.parametrize("turn", TURNS)
def test_a_turn_says_with_its_last_row_how_many_stitches_it_leaves(turn: str) -> None:
    last = section(planned(construction={"turn": turn}), "heel-turn").rounds()[-1]
    assert last.note == f"The last row of the turn leaves {last.made} heel stitches."


def said_twice(ops: Sequence[Op | Repeat]) -> list[Op]:
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
            assert not said_twice(work.ops)


def test_a_number_that_grows_within_brackets_cannot_be_taken_for_one_that_grows_with_them() -> None:
    assert growing("[k5, k2tog] x 8", (-1, 0)) == "[k5 and 1 fewer in each such round, k2tog] x 8"
    assert growing("k1, ssk, k24, k2tog, k1", (0, -2, 0)) == "k1, ssk, k24 and 2 fewer each time, k2tog, k1"


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_the_heel_with_a_gusset_tells_apart_what_is_worked_and_what_waits(direction: str) -> None:
    plan = planned(construction={"direction": direction, "heel": "short-row with gusset"})
    rows = section(plan, "heel").rounds()
    note = rows[0].note or ""
    worked = r"(\d+) (?:stitches in the middle|gusset stitches on either side|that it begins with|of the instep)"
    heel, side, first_side, instep = map(int, re.findall(worked, note))
    assert heel + 2 * side + instep == rows[0].before
    assert rows[0].made == heel + 2 * side
    assert rows[1].made == first_side + heel


@pytest.mark.parametrize("toe", ["wedge", "short-row"])
def test_grafting_names_the_end_that_the_yarn_comes_from(toe: str) -> None:
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
def test_from_the_toe_up_the_foot_says_where_its_plain_part_ends(heel: str, key: str) -> None:
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
def test_above_the_heel_no_round_names_the_sole(heel: str) -> None:
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


@pytest.mark.parametrize("ankle", [20, 22, 23])
def test_a_leg_that_is_shaped_goes_on_with_the_stitches_of_the_foot(ankle: float) -> None:
    plan = planned(construction={"direction": "toe-up"}, foot=CALF | {"ankle_circumference_cm": ankle})
    assert plan.sizes.foot_stitches == plan.sizes.leg_stitches == 68
    assert "Evenly spread" not in (section(plan, "leg").rounds()[0].note or "")


def test_a_sock_as_large_as_the_foot_is_not_so_many_percent_smaller() -> None:
    plan = planned(foot={"ball_circumference_cm": 20}, ease={"circumference_percent": 0}, leg={"length_cm": 10})
    told = {verdict.what: verdict.why for verdict in plan.fit}
    assert told["Round the foot"].endswith("measured: as large.")
    assert "round the ball of the foot, as large, are 20 cm" in PlanFigures(plan, plan.sizes).foot_asked()


def test_the_stitches_of_an_opened_heel_are_counted_when_both_its_edges_are_taken_up() -> None:
    plan = planned(construction={"heel": "afterthought"})
    [heel] = [each for each in pattern_of([Size("one", plan)], "cm").sections if each.key == "heel"]
    assert heel.lines[0].text.endswith(f"Now {section(plan, 'heel').rounds()[0].after} stitches")


@pytest.mark.parametrize("ball", [22.5, 22.8, 23, 23.4, 24])
def test_decreases_of_which_the_next_round_has_more_are_written_by_themselves(ball: float) -> None:
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
        leg={"length_cm": 25},
        ease={"circumference_percent": ease},
    )
    assert any(re.search(f"{edge}(?:{told})", item.note or "") for item in section(plan, "cuff").rounds())


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
@pytest.mark.parametrize(
    ("made", "key"),
    [({"heel": "short-row"}, "heel"), ({"heel": "short-row with gusset"}, "heel"), ({"toe": "short-row"}, "toe")],
)
def test_the_corners_of_short_rows_are_closed_in_the_first_round_over_all_stitches(
    made: dict[str, str], key: str, direction: str
) -> None:
    """Common practice: a strand or two at each corner, knitted together with its neighbour."""
    rounds = section(planned(construction={"direction": direction, **made}), key).rounds()
    told = [number for number, item in enumerate(rounds) if item.note and "pick up one or two strands" in item.note]
    last_row = max(number for number, item in enumerate(rounds) if item.uses("turn"))
    assert told == [last_row + 1]
    assert "in this round" in (rounds[told[0]].note or "")


def test_the_top_of_a_flap_from_the_toe_up_is_closed_on_the_first_round_of_the_leg() -> None:
    plan = planned(construction={"direction": "toe-up"})
    told = [item for item in plan.rounds() if item.note and "close the gap" in item.note]
    assert told == [section(plan, "leg").rounds()[0]]


@pytest.mark.parametrize("toe", ["wedge", "round"])
def test_a_closed_cast_on_tells_how_it_is_made_and_its_loops_are_shared_between_two_needles(toe: str) -> None:
    first = section(planned(construction={"direction": "toe-up", "toe": toe}), "toe").rounds()[0]
    assert first.note
    assert f"{first.after // 2} on each" in first.note
    assert "figure of eight" in first.note


def test_the_last_loop_of_a_provisional_cast_on_is_described_as_half_a_loop() -> None:
    last = section(planned(construction={"direction": "toe-up", "toe": "short-row"}), "toe").rounds()[-1]
    assert "half loop at the edge" in (last.note or "")


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_an_opened_heel_tells_which_of_its_stitches_are_live_loops(direction: str) -> None:
    plan = planned(construction={"direction": direction, "heel": "afterthought"})
    first = section(plan, "heel").rounds()[0]
    upper = section(plan, "heel-opening").rounds()[0].resting
    assert f"{upper} are the live loops on the other needle" in (first.note or "")
    assert first.uses("pu") == upper + 2


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
def test_no_word_of_a_round_is_one_that_only_this_program_has(construction: dict[str, str]) -> None:
    told = " ".join(round_words(item) for item in planned(construction=construction).rounds())
    assert not re.search(r"rest|resume", told)


@pytest.mark.parametrize(("direction", "heel"), [("cuff-down", "short-row"), ("toe-up", "flap")])
def test_a_double_stitch_says_where_the_yarn_goes_before_a_purl(direction: str, heel: str) -> None:
    """The yarn is pulled over to the back; to purl it has to come to the front again (common practice)."""
    plan = planned(construction={"direction": direction, "heel": heel})
    assert "before a purl bring the yarn to the front" in abbreviations(plan)["ds"]


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
def test_the_sides_of_the_fabric_are_explained_where_rows_are_named_by_them(construction: dict[str, str]) -> None:
    plan = planned(construction=construction)
    used = {item.side for item in plan.rounds()} - {"round"}
    assert set(abbreviations(plan)) & {"RS", "WS"} == used
    directions = as_text(pattern_of([Size("one", plan)], "cm")).partition("\nAbbreviations\n")[2].partition("\n\n")[2]
    assert set(re.findall(r"\b[RW]S\b", directions)) == used


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_the_pattern_of_an_instep_goes_on_only_where_it_was_before(direction: str) -> None:
    """From the toe up the instep is the first to have it, and the leg comes later."""
    plan = planned(
        leg={"stitch_pattern": {"name": "lace rib"}},
        foot_pattern="instep follows the leg",
        construction={"direction": direction},
    )
    seen = False
    for item in plan.rounds():
        note = item.note or ""
        if "stitches of the instep" in note:
            assert "sole is plain" in note
            assert seen or "goes on" not in note
        seen = seen or bool(item.chart_row)


def test_a_double_stitch_is_described_once_in_a_pattern() -> None:
    pattern = pattern_of([Size("one", planned(construction={"heel": "short-row", "toe": "short-row"}))], "cm")
    for text in (as_text(pattern), as_markdown_text(pattern)):
        assert text.count("until both legs of the stitch lie on top") == 1


def test_each_edge_of_a_flap_is_picked_up_in_the_order_in_which_it_is_reached() -> None:
    """The round goes down one edge to the gap at the instep, and from the other gap up the other edge."""
    first, second, *_ = section(planned(), "gusset").rounds()
    assert re.search(r"edge chains, then one in the gap\.", first.note or "")
    assert re.search(r"one in the gap, then one in each of the \d+ edge chains\.", second.note or "")


def test_the_edges_of_an_opened_heel_are_named_after_what_lies_beyond_them() -> None:
    for direction, edges in (("cuff-down", ["heel", "sole"]), ("toe-up", ["sole", "heel"])):
        plan = planned(construction={"direction": direction, "heel": "afterthought"})
        *shaped, closing = section(plan, "heel").rounds()
        assert all([work.zone for work in item.work] == edges for item in shaped)
        assert [work.zone for work in closing.work] == ["heel"]


def test_a_heel_put_in_last_names_its_yarn_where_there_are_several() -> None:
    for yarns, joined in ((1, "Join your yarn: "), (2, "Join yarn A: ")):
        plan = planned(yarns=[{"key": key} for key in "AB"[:yarns]], construction={"heel": "afterthought"})
        assert joined in (section(plan, "heel").rounds()[0].note or "")
