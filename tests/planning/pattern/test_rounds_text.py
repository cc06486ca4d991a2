"""The words of every round mean its operations, and the written pattern tells each thing once."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given

from companion.planning import Plan, written_pattern
from companion.planning.pattern.rounds_text import gist, op_words, round_lines, round_words, section_lines
from companion.planning.plan.document import Op, Section
from companion.planning.plan.rounds import op, row
from companion.planning.units import show_length
from tests.planning.asking import document_of, plan_or_leave, planned, section
from tests.planning.requests import DIRECTIONS, HEELS, requests
from tests.reader import read_words, read_zones

PLANS = {
    "usual": planned(),
    "more in the leg": planned(cuff={"rib": "k7 p5"}, foot={"leg_circumference_cm": 22.2}),
    "fewer in the leg": planned(cuff={"rib": "k7 p5"}, foot={"leg_circumference_cm": 19.7}),
    "a child's, twisted ribbing": planned(
        foot={"ball_circumference_cm": 15, "length_cm": 14}, cuff={"rib": "k1tbl p1", "length_cm": 3}
    ),
    "thick": planned(gauge={"stitches_per_10cm": 20, "rounds_per_10cm": None}, cuff={"rib": "k3 p1"}),
}


def check_every_round_reads_back(plan: Plan) -> None:
    document = json.loads(plan.model_dump_json())
    written = [item for each in document["sections"] for step in each["steps"] for item in step["rounds"]]
    planned_ = [item for each in plan.sections for step in each.steps for item in step.rounds]
    for item, data in zip(planned_, written, strict=True):
        zones = read_zones(round_words(item))
        named = [{**zone, "zone": zone["zone"] or data["work"][0]["zone"]} for zone in zones]
        assert named == data["work"]
        assert [read_words(words) for _, words in round_lines(item)] == [part["ops"] for part in data["work"]]


@pytest.mark.parametrize("name", PLANS)
def test_the_words_of_every_round_read_back_to_its_operations(name: str) -> None:
    check_every_round_reads_back(PLANS[name])


@given(requests())
def test_the_words_of_any_plan_read_back(data: dict[str, Any]) -> None:
    check_every_round_reads_back(plan_or_leave(data))


@pytest.mark.parametrize(
    ("item", "words"),
    [
        (Op(op="k", n=12), "k12"),
        (Op(op="ktbl", n=2), "k2tbl"),
        (Op(op="slwyif"), "sl1 wyif"),
        (Op(op="k2tog"), "k2tog"),
        (Op(op="k2tog", n=3), "k2tog x 3"),
        (Op(op="pu", n=17), "pick up and knit 17"),
        (Op(op="co", n=64), "cast on 64"),
        (Op(op="k", n=2, yarn="B"), "k2 in B"),
        (Op(op="turn"), "turn"),
    ],
)
def test_operations_have_the_trades_words(item: Op, words: str) -> None:
    assert op_words(item) == words


def test_a_yarn_that_a_whole_zone_takes_is_named_once() -> None:
    stripes = {"width": 1, "rows": [*"AABB"]}
    plan = planned(leg={"chart": stripes}, yarns=[{"key": "A"}, {"key": "B"}], foot_pattern="instep follows the leg")
    check_every_round_reads_back(plan)
    shaped = [item for item in section(plan, "gusset").rounds() if item.uses("ssk") and "B" in item.drawn]
    assert len(shaped) > 4
    for item in shaped:
        (_, sole), (_, instep) = round_lines(item)
        assert re.fullmatch(r"all in B: k1, ssk, k\d+, k2tog, k1", sole)
        assert re.fullmatch(r"k\d+ in B", instep)


def test_zones_are_named_where_there_is_more_than_one() -> None:
    leg = row(("leg", op("k", 64)), before=64)
    foot = row(("sole", op("k", 32)), ("instep", op("k", 32)), before=64)
    assert round_lines(leg) == [("", "k64")]
    assert round_lines(foot) == [("Sole", "k32"), ("Instep", "k32")]
    assert round_words(foot) == "Sole: k32; Instep: k32"


def test_only_a_round_of_knit_stitches_in_one_yarn_is_written_without_a_count() -> None:
    assert gist(row(("sole", op("k", 32)), ("instep", op("k", 32)), before=64)) == "knit"
    in_b = tuple(replace(each, yarn="B") for each in op("k", 32) if isinstance(each, Op))
    assert gist(row(("sole", in_b), ("instep", in_b), before=64)) == "knit in B"
    assert gist(row(("sole", op("k", 32)), ("instep", in_b), before=64)) is None
    assert gist(row(("leg", op("k", 2) + op("p", 2)), before=4)) is None
    assert gist(row(("heel", op("k", 4)), before=4, side="RS")) is None
    assert gist(row(("leg", op("k", 4)), before=4, kind="setup")) is None


def lines(plan: Plan, key: str) -> list[tuple[str, str]]:
    return [(line.label, line.text) for line in section_lines(section(plan, key))]


def test_rounds_that_are_alike_are_written_on_one_line() -> None:
    plan = planned()
    assert plan.sizes.leg_stitches == 68
    assert lines(plan, "cuff") == [
        ("Round 1", "cast on 68"),
        ("Rounds 2-19", "[k2, p2] x 17 (18 rounds)"),
    ]
    assert lines(plan, "leg") == [("Rounds 1-62", "knit (62 rounds)")]


def test_a_pair_of_rows_that_repeats_is_written_once() -> None:
    assert lines(planned(), "heel-flap") == [
        ("Rows 1-32", "work these two rows 16 times:"),
        ("Row 1 (RS)", "[sl1, k1] x 17, turn"),
        ("Row 2 (WS)", "sl1 wyif, p33, turn"),
    ]


def covered(part: Section) -> list[int]:
    """The rounds that the lines of a section tell, in order; the two rows under "work these" are told by it."""
    found: list[int] = []
    under = 0
    for line in section_lines(part):
        first, last = (int(n) for n in (re.findall(r"\d+", line.label) * 2)[:2])
        if under:
            under -= 1
            continue
        under = 2 if line.text.startswith("work these two") else 0
        found += range(first, last + 1)
    return found


@pytest.mark.parametrize("name", PLANS)
def test_every_round_is_written_once_and_in_order(name: str) -> None:
    for part in PLANS[name].sections:
        assert covered(part) == list(range(1, len(part.rounds()) + 1))


@pytest.mark.parametrize("name", PLANS)
def test_a_round_that_changes_the_count_tells_the_new_one(name: str) -> None:
    for part in PLANS[name].sections:
        told = {int(found) for line in section_lines(part) for found in re.findall(r"\((\d+) stitches\)", line.text)}
        changed = {item.after for item in part.rounds() if 0 < item.before != item.after and item.side == "round"}
        assert told == changed - {0}


@pytest.mark.parametrize("name", PLANS)
def test_every_note_is_in_the_written_pattern_once(name: str) -> None:
    plan = PLANS[name]
    text = written_pattern(plan, "cm")
    notes = [re.sub(r" cm \([\d /]+ in\)", " cm", item.note) for item in plan.rounds() if item.note]
    assert len(notes) >= 6
    for note in notes:
        assert text.count(f"{note}\n") == 1


HEADED = re.compile(r"With yarn ([A-D])(?:\.| where no other is named\.)")


@pytest.mark.parametrize("heel", HEELS)
@pytest.mark.parametrize("direction", DIRECTIONS)
def test_a_part_in_another_yarn_names_it_once_and_is_read_under_its_heading(heel: str, direction: str) -> None:
    """Each line of the text, read with the yarn of its heading, has the yarns of its round."""
    construction = {"direction": direction, "heel": heel}
    parts = {"cuff": "B", "heel": "B", "toe": "C"}
    plan = planned(construction=construction, yarns=[{"key": key} for key in "ABC"], parts=parts)
    blocks = written_pattern(plan, "cm").split("\n\n")
    for each in plan.sections:
        [block] = [block for block in blocks if block.startswith(f"{each.title} (")]
        head = HEADED.search(block)
        unnamed = head[1] if head else "A"
        lines = dict(
            re.findall(r"^(?:Round|Row) (\d+)(?: \(\w+\))?: (.*?)(?: \(\d+ stitches\))?$", block, re.MULTILINE)
        )
        for number, item in enumerate(each.rounds(), start=1):
            words = lines.get(str(number))
            if words is None or words.startswith("knit"):
                continue
            read = [drawn(zone["ops"], unnamed) for zone in read_zones(words)]
            assert read == [drawn(work["ops"], "A") for work in document_of(item)["work"]]


def drawn(ops: list[dict[str, Any]], unnamed: str) -> list[tuple[str, str]]:
    """The ops that draw a loop, each with its yarn."""
    found = []
    for each in ops:
        if "ops" in each:
            found += drawn(each["ops"], unnamed) * each["times"]
        elif each["op"] not in {"sl", "slwyif", "ds", "wrap", "turn", "rest", "draw"}:
            found += [(each["op"], each.get("yarn", unnamed))] * each.get("n", 1)
    return found


@pytest.mark.parametrize("name", PLANS)
def test_the_words_can_be_read_aloud(name: str) -> None:
    """A screen reader or a friend reads them: only signs that are spoken or pause, and sentences that end."""
    for item in PLANS[name].rounds():
        assert re.fullmatch(r"[A-Za-z0-9 ,;:\[\]]+", round_words(item))
        if item.note:
            assert item.note[0].isupper() or item.note[0].isdigit()
            assert item.note.endswith(".")
            assert "  " not in item.note


@pytest.mark.parametrize("name", PLANS)
def test_the_pattern_tells_sizes_gauge_and_yarn_in_the_unit_asked_for(name: str) -> None:
    plan = PLANS[name]
    in_cm, in_inches = written_pattern(plan, "cm"), written_pattern(plan, "in")
    assert f"Finished size: {show_length(plan.sizes.foot_circumference_cm, 'cm')} round" in in_cm
    assert re.search(r"Finished size: \d+( \d/\d)? in round the foot", in_inches)
    assert f"Gauge: {plan.request.gauge.stitches_per_10cm:g} stitches" in in_cm
    assert "over 4 in, plain knitting" in in_inches
    assert f"{plan.yarn[0].grams_a_pair:.0f} g for the pair" in in_cm
    assert "Weave in the ends, wash, and dry flat." in in_cm
    for part in plan.sections:
        assert f"\n\n{part.title} (" in in_cm


@pytest.mark.parametrize("name", PLANS)
def test_a_pattern_has_its_lengths_in_one_unit(name: str) -> None:
    assert not re.search(r"\d in\b", written_pattern(PLANS[name], "cm"))
    in_inches = written_pattern(PLANS[name], "in")
    assert not re.search(r"\d cm\b", in_inches)
    assert re.search(r"stretch to \d+ \d/\d in, |stretch to \d+ in, ", in_inches)


def test_a_shaped_leg_is_described_at_both_its_ends() -> None:
    plan = planned(foot={"leg_circumference_cm": 31})
    leg = section(plan, "leg").rounds()
    top, above_the_heel = (show_length(each.after / 3.2, "cm") for each in (leg[0], leg[-1]))
    assert top != above_the_heel
    assert f"{top} round the top of the leg and {above_the_heel} above the heel" in written_pattern(plan, "cm")


@pytest.mark.parametrize("rounds", [40.4, 41.1, 41.9, 44, 48.3])
def test_a_length_in_a_note_is_that_of_the_heading(rounds: float) -> None:
    """Both are the same rounds at the same gauge, rounded once: 22 of them at 48.3 are 4.5549 cm."""
    told = written_pattern(
        planned(gauge={"stitches_per_10cm": 30, "rounds_per_10cm": rounds}, construction={"heel": "afterthought"}), "cm"
    )
    [adds] = re.findall(r"behind it the heel adds ([\d.]+) cm", told)
    assert f"\n\nHeel ({adds} cm)\n" in told


def test_gauge_over_four_inches() -> None:
    # 4 in are 10.16 cm: 32 over 10 cm are 32.5 over 4 in.
    assert "Gauge: 32.5 stitches and 44.7 rounds over 4 in" in written_pattern(planned(), "in")
    assert "Gauge: 32 stitches and 44 rounds over 10 cm" in written_pattern(planned(), "cm")


def test_a_yarn_that_runs_short_and_a_warning_are_reported() -> None:
    text = written_pattern(planned(yarns=[{"name": "four-ply", "grams": 20, "nylon_percent": 0}]), "cm")
    assert "only 20 g are at hand" in text
    assert "Note: four-ply has 0 % nylon" in text
    assert "at hand" not in written_pattern(planned(), "cm")


@pytest.mark.parametrize("name", PLANS)
def test_a_pattern_is_as_short_as_its_repeats_allow(name: str) -> None:
    text = written_pattern(PLANS[name], "cm")
    assert len(text.splitlines()) < len(PLANS[name].rounds()) / 2 + 45
    assert text.endswith("\n")
    assert not re.search(r"[ \t]\n", text)


def test_the_rounds_of_a_chart_are_written_once_with_their_rows() -> None:
    chart = {"width": 4, "rows": ["AAAB", "AABB", "ABBB"]}
    plan = planned(leg={"length_cm": 12, "chart": chart}, yarns=[{"key": "A"}, {"key": "B"}])
    lines = section_lines(section(plan, "leg"))
    heading = next(line for line in lines if "work these" in line.text)
    times = len([item for item in section(plan, "leg").rounds() if item.chart_row]) // 3
    assert heading.text == f"work these 3 rounds {times} times:"
    rows = lines[lines.index(heading) + 1 :][:3]
    assert [line.label.partition(" (")[2] for line in rows] == ["chart row 1)", "chart row 2)", "chart row 3)"]
    # The middle repeat of the 34 stitches in front begins at their 16th, so a round begins with a repeat's last stitch.
    assert plan.sizes.leg_stitches == 68
    assert [line.text for line in rows] == [
        "[k1 in A, k1 in B, k2 in A] x 17",
        "[k1 in A, k2 in B, k1 in A] x 17",
        "[k1 in A, k3 in B] x 17",
    ]


def test_rounds_alike_where_a_chart_begins_again_name_the_rows_at_both_its_ends() -> None:
    stripes = {"width": 1, "rows": [*"ABBA"]}
    plan = planned(leg={"length_cm": 12, "chart": stripes}, yarns=[{"key": "A"}, {"key": "B"}])
    assert ("Rounds 4-5 (chart rows 4 and 1)", "knit (2 rounds)") in lines(plan, "leg")


def test_stripes_are_written_once_with_their_rounds() -> None:
    stripes = {"width": 1, "rows": [*"AAAABB"]}
    plan = planned(leg={"length_cm": 12, "chart": stripes}, yarns=[{"key": "A"}, {"key": "B"}])
    lines = section_lines(section(plan, "leg"))
    times = (len(section(plan, "leg").rounds()) - 4) // 6
    assert [(line.label, line.text) for line in lines[:4]] == [
        ("Rounds 1-4 (chart rows 1-4)", "knit (4 rounds)"),
        (f"Rounds 5-{4 + 6 * times}", f"work these 6 rounds {times} times:"),
        ("Rounds 5-6 (chart rows 5-6)", "knit in B (2 rounds)"),
        ("Rounds 7-10 (chart rows 1-4)", "knit (4 rounds)"),
    ]
    # What is done once is said before the rounds that are repeated, and not among them.
    assert [number for number, line in enumerate(lines) if "Join yarn B" in (line.note or "")] == [1]


def test_the_rows_of_an_offset_flap_are_written_once() -> None:
    plan = planned(construction={"flap": "offset slipped"})
    rows = len(section(plan, "heel-flap").rounds())
    told = lines(plan, "heel-flap")
    assert told[0] == (f"Rows 1-{rows // 4 * 4}", f"work these 4 rows {rows // 4} times:")
    assert told[3] == ("Row 3 (RS)", "sl1, k2, [sl1, k1] x 15, k1, turn")
