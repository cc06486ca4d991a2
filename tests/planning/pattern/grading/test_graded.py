"""A graded pattern read back for each of its sizes gives every round of this size's own plan."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.planning import make_plan, pattern_of
from companion.planning.pattern.needles import needle_notes
from companion.planning.pattern.pattern import Size
from companion.planning.pattern.render import as_text
from tests.planning.asking import WHOLE_PLANS, asked, planned
from tests.planning.pattern.pattern_reader import pick
from tests.planning.pattern.read_back import BALLS, check_every_size, document_rounds, sized
from tests.planning.requests import CONSTRUCTIONS, FLAPS, HEELS_AND_TOES, TURNS, names, requests

USUAL = (20.0, 22.0, 24.0, 26.0)
"""Round the ball of the foot, in cm: sizes whose numbers differ evenly, as those of most patterns do."""


@pytest.mark.parametrize("construction", HEELS_AND_TOES, ids=names)
def test_every_size_of_every_construction_reads_back_and_every_bracket_has_a_place_for_each(
    construction: dict[str, str],
) -> None:
    """The bracket form (common practice): one number a size, always in the same order, and no size told apart."""
    sizes = sized(asked(construction=construction), USUAL)
    assert len(sizes) == len(USUAL)
    directions = as_text(check_every_size(sizes)).partition("\nAbbreviations\n")[2]
    assert not re.search(r"\bSizes? \d", directions)
    for inside in re.findall(r"(?<=[\d–] \()[^()]*(?=\))", directions):
        assert inside.count(",") == len(sizes) - 2, inside


@pytest.mark.parametrize("construction", HEELS_AND_TOES, ids=names)
def test_every_size_reads_back_with_cuff_heel_and_toe_in_yarns_of_their_own(construction: dict[str, str]) -> None:
    """Each part names its yarn once, and no round in it does but where it is another."""
    yarns = [{"key": key} for key in "ABC"]
    pattern = check_every_size(
        sized(asked(construction=construction, yarns=yarns, parts={"cuff": "B", "heel": "B", "toe": "C"}))
    )
    heads = {section.key: re.findall("With yarn [A-C]", section.opening) for section in pattern.sections}
    assert (heads["cuff"], heads["toe"]) == (["With yarn B"], ["With yarn C"])
    assert sum(found == ["With yarn B"] for found in heads.values()) == 1 + (2 if "heel-flap" in heads else 1)
    told = " ".join(line.text for section in pattern.sections for line in section.lines)
    assert not re.search(r" in [BC]\b", told)


def test_a_round_in_pattern_among_the_rows_of_a_heel_in_its_own_yarn_names_the_main_one() -> None:
    sizes = sized(
        asked(
            leg={"stitch_pattern": {"name": "lace rib"}},
            construction={"heel": "strong"},
            yarns=[{"key": "A"}, {"key": "B"}],
            parts={"heel": "B"},
            foot_pattern="instep follows the leg",
        )
    )
    parts = [part for part in check_every_size(sizes).sections if part.opening.startswith("With yarn B where no other")]
    told = [line.text for part in parts for line in part.lines if "pattern round" in line.text]
    assert told
    assert all(" in A" in text for text in told)


@pytest.mark.parametrize("turn", TURNS)
@pytest.mark.parametrize("flap", FLAPS)
@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_every_heel_flap_reads_back(turn: str, flap: str, direction: str) -> None:
    check_every_size(
        sized(asked(construction={"direction": direction, "turn": turn, "flap": flap}, cuff={"rib": "k3 p3"}))
    )


CHARTS = {
    "stripes": {"width": 1, "rows": ["A", "A", "B"]},
    "stranded": {"width": 8, "rows": ["AABBAAAA", "ABBBBAAA", "AAAAAAAA", "BABABABA"]},
    "three yarns": {"width": 6, "rows": ["AABBCC", "ABCABC", "CCCAAA"]},
}


@pytest.mark.parametrize("chart", CHARTS)
@pytest.mark.parametrize("foot_pattern", ["plain", "instep follows the leg"])
@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_every_size_of_a_charted_sock_reads_back(chart: str, foot_pattern: str, direction: str) -> None:
    design = asked(
        leg={"chart": CHARTS[chart]},
        foot_pattern=foot_pattern,
        yarns=[{"key": key} for key in "ABC"],
        construction={"direction": direction},
    )
    check_every_size(sized(design))


@WHOLE_PLANS
@given(requests(), st.lists(st.integers(28, 60).map(lambda half: half / 2), min_size=1, max_size=4, unique=True))
def test_every_size_of_any_design_reads_back(data: dict[str, Any], balls: list[float]) -> None:
    sizes = sized(asked(**data), sorted(balls))
    if sizes:
        check_every_size(sizes)


def test_the_sizes_of_one_foot_are_written_without_brackets() -> None:
    pattern = check_every_size(sized(asked(), [22.5]))
    told = [line.text for section in pattern.sections for line in section.lines]
    assert not any("(" in text for text in told)
    assert not any("only" in line.label for section in pattern.sections for line in section.lines)


def test_numbers_that_differ_are_in_brackets_and_others_stand_alone() -> None:
    # The usual form of a graded pattern, "cast on 56 (60, 64)": the smallest size, then the others (common practice).
    sizes = sized(asked())
    [cuff] = [section for section in pattern_of(sizes, "cm").sections if section.key == "cuff"]
    counts = [size.plan.rounds()[0].after for size in sizes]
    assert cuff.lines[0].text == f"cast on {counts[0]} ({', '.join(map(str, counts[1:]))})"
    assert cuff.lines[1].label == "Rounds 2 to 19"
    assert cuff.length == "4.1 cm"


def test_what_only_some_sizes_work_has_a_dash_for_the_others() -> None:
    # With a ribbing over twelve stitches some legs begin with a round that changes the count, and others do not.
    sizes = sized(asked(cuff={"rib": "k7 p5"}))
    [leg] = [section for section in check_every_size(sizes).sections if section.key == "leg"]
    changed = [document_rounds(size.plan, "leg")[0]["kind"] != "plain" for size in sizes]
    assert 0 < sum(changed) < len(sizes)
    labels = [line.label for line in leg.lines if "–" in line.label]
    told = [any("1" in pick(label, number, len(sizes)) for label in labels) for number in range(len(sizes))]
    assert told == changed


def test_the_gauge_of_a_pattern_always_has_rounds_and_says_where_they_are_estimated() -> None:
    for rounds, told in (
        (44, "44 rounds over 10 cm, plain knitting"),
        (None, "43.2 rounds over 10 cm, plain knitting;"),
    ):
        plan = planned(gauge={"stitches_per_10cm": 32, "rounds_per_10cm": rounds})
        words = dict(pattern_of([Size("one", plan)], "cm").facts)["Gauge"]
        assert f"32 stitches and {told}" in words
        assert ("estimated" in words) == (rounds is None)


def test_every_note_of_every_size_is_reported() -> None:
    sizes = sized(asked())
    for section in pattern_of(sizes, "cm").sections:
        told = " ".join(line.note for line in section.lines if line.note)
        for number, size in enumerate(sizes):
            # Lengths in both units are told in one of them: the brackets are for sizes.
            notes = [
                re.sub(r" cm \([\d /]+ in\)", " cm", item["note"] or "")
                for item in document_rounds(size.plan, section.key)
            ]
            own = pick(told, number, len(sizes))
            for note in filter(None, notes):
                for sentence in re.split(r"(?<=[.:]) (?=[A-Z])", note):
                    assert sentence in own


def test_a_leg_that_is_narrowed_is_written_from_its_shaping_rounds_on() -> None:
    """Common practice: a repeat begins with the round that shapes, and the plain ones after it are told on one line."""
    size = Size("one", planned(foot={"leg_circumference_cm": 30, "ankle_circumference_cm": 21}))
    leg = next(part for part in pattern_of([size], "cm").sections if part.key == "leg")
    told = [line.text for line in leg.lines]
    assert len(told) <= 12
    for heading, first in pairwise(told):
        if heading.startswith("work these"):
            assert "ssk" in first


@pytest.mark.parametrize("stripes", ["AB", "AABB", "ABBC"])
@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_a_yarn_is_told_to_be_joined_before_the_rounds_that_are_repeated(stripes: str, direction: str) -> None:
    design = asked(
        leg={"chart": {"width": 1, "rows": [*stripes]}},
        foot_pattern="instep follows the leg",
        yarns=[{"key": key} for key in "ABC"],
        construction={"direction": direction},
    )
    for balls in (BALLS, BALLS[:1]):
        sizes = sized(design, balls)
        for part in pattern_of(sizes, "cm").sections:
            joins = [re.findall("Join [^.]*", item["note"] or "") for item in document_rounds(sizes[0].plan, part.key)]
            told = [found for line in part.lines for found in re.findall("Join [^.]*", line.note or "")]
            assert len(sizes) > 1 or told == [join for found in joins for join in found]
            group: list[int] = []
            for line in part.lines:
                numbers = [int(found) for found in re.findall(r"\d+", pick(line.label, 0, len(balls)))]
                assert not (line.note and numbers[0] in group), line
                group = [*range(numbers[0], numbers[1] + 1)] if "work these" in line.text else group


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
@pytest.mark.parametrize("balls", [USUAL, BALLS], ids=["even", "uneven"])
def test_the_sizes_of_a_round_toe_shape_together_and_the_longer_ones_go_on(
    balls: tuple[float, ...], direction: str
) -> None:
    """Common practice: each shaping round has a number a size, and the sizes that are done drop out of it."""
    sizes = sized(asked(construction={"direction": direction, "toe": "round"}), balls)
    [toe] = [part for part in check_every_size(sizes).sections if part.key == "toe"]
    shaping = [line for line in toe.lines if re.search("k2tog|m1l", line.text)]
    changes = [
        sum(item["before"] > 0 < item["after"] != item["before"] for item in document_rounds(size.plan, "toe"))
        for size in sizes
    ]
    assert len(shaping) <= max(changes)
    assert not re.search(r"\b1 \((?:\d, )*\d\) times", " ".join(line.text for line in toe.lines))


@pytest.mark.parametrize("construction", HEELS_AND_TOES)
def test_the_yarn_that_a_sole_begins_with_is_in_brackets_like_a_number(construction: dict[str, str]) -> None:
    design = asked(
        leg={"chart": {"width": 4, "rows": ["AAAB", "ABBB", "ABAB"]}},
        foot_pattern="instep follows the leg, sole in checks",
        yarns=[{"key": "A"}, {"key": "B"}],
        construction=construction,
    )
    sizes = sized(design, USUAL)
    for part in pattern_of(sizes, "cm").sections:
        told = " ".join(line.note for line in part.lines if line.note)
        wanted = [
            re.findall(r"begins with yarn ([A-D])", " ".join(item["note"] or "" for item in rounds))
            for rounds in (document_rounds(size.plan, part.key) for size in sizes)
        ]
        if all(wanted):
            found = re.findall(r"begins with yarn ([A-D])(?: \(([A-D, ]+)\))?", told)
            read = [[first, *others.split(", ")] if others else [first] * len(sizes) for first, others in found]
            assert [list(each) for each in zip(*read, strict=True)] == wanted
            assert not re.search(r"Sizes? [^:]*: The (sole|heel) begins", told)


def test_what_some_sizes_share_stands_alone_and_says_whose_it_is() -> None:
    """A needle's number is no size's: "onto needle 1", and no bracket."""
    design = asked(
        leg={"chart": CHARTS["stranded"]},
        foot_pattern="instep follows the leg",
        yarns=[{"key": "A"}, {"key": "B"}],
        construction={"toe": "short-row"},
    )
    [toe] = [part for part in pattern_of(sized(design, USUAL), "cm").sections if part.key == "toe"]
    assert "Slip the stitches of needle 2 onto needle 1, where the rows are worked: it has – (32," in toe.opening
    assert re.search(r"Size 20 cm: [^:]* on needles 1 to 4\. The round begins with needle 1\. Slip", toe.opening)


@pytest.mark.parametrize("other_foot", [{"ball_circumference_cm": 24}, {"length_cm": 26}])
def test_the_socks_of_two_feet_are_named_as_socks_and_in_their_order(other_foot: dict[str, float]) -> None:
    """Where sock two works more rounds by itself than sock one, too."""
    gauge = {"stitches_per_10cm": 30, "rounds_per_10cm": 40.5}
    design = asked(construction={"toe": "left foot"}, other_foot=other_foot, gauge=gauge)
    socks = [Size("sock 1", make_plan(design)), Size("sock 2", make_plan(design.for_the_other_foot()))]
    [toe] = [part for part in pattern_of(socks, "cm").sections if part.key == "toe"]
    assert re.findall(r"(\S+ \S+): This sock is for the (\w+) foot", toe.lines[0].note or "") == [
        ("Sock 1", "left"),
        ("Sock 2", "right"),
    ]
    own = [line.label for line in toe.lines if "–" in line.label]
    assert own == sorted(own, key=lambda label: "–" in label.partition("(")[0]), "all of sock one's, then sock two's"


@pytest.mark.parametrize("chart", [None, "stranded"])
@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_a_long_leg_of_several_sizes_repeats_its_shaping(direction: str, chart: str | None) -> None:
    """Each size has a rhythm of its own, so that some work a group of rounds only once."""
    leg_asked = {"length_cm": 30, "chart": CHARTS[chart] if chart else None}
    yarns = [{"key": "A"}, {"key": "B"}]
    sizes = sized(asked(leg=leg_asked, yarns=yarns, construction={"direction": direction}), USUAL)
    [leg] = [part for part in check_every_size(sizes).sections if part.key == "leg"]
    assert len(leg.lines) <= 20


def test_what_all_sizes_are_warned_of_is_said_once_with_their_numbers_in_brackets() -> None:
    sizes = sized(asked(leg={"length_cm": 30}, yarns=[{"key": "A", "grams": 120}]), USUAL)
    own = [[note for note in size.plan.warnings if "reaches the calf" in note] for size in sizes]
    assert all(len(found) == 1 for found in own)
    notes = pattern_of(sizes, "cm").notes
    [told] = [note for note in notes if "reaches the calf" in note]
    for number, [warning] in enumerate(own):
        assert pick(told, number, len(sizes)) == re.sub(r" cm \([\d /]+ in\)", " cm", warning)
    [lacking] = [note for note in notes if "runs out" in note]
    enough = [size.plan.yarn[0].enough for size in sizes]
    assert enough == sorted(enough, reverse=True)
    assert 0 < sum(enough) < len(sizes)
    for number, plenty in enumerate(enough):
        assert ("–" in pick(lacking, number, len(sizes))) == plenty


def test_a_pattern_says_once_that_measures_are_estimated() -> None:
    for balls, says in (((17.0,), 1), ((17.0, 23.0), 2)):
        notes = pattern_of(sized(asked(), balls), "cm").notes
        assert sum("estimated" in note and "What" in note for note in notes) == says


def test_markers_are_moved_in_the_sizes_whose_halves_differ_and_in_no_others() -> None:
    """A sentence may begin with a number, so that what one size does first is not read by another."""
    design = asked(
        leg={"stitch_pattern": {"name": "lace rib", "stitches_per_10cm": 30, "rounds_per_10cm": 42}},
        foot_pattern="instep follows the leg",
        gauge={"stitches_per_10cm": 30, "rounds_per_10cm": 42},
        construction={"toe": "round"},
        needles={"arrangement": "short circular"},
    )
    sizes = sized(design, (19, 21, 23, 25))
    [toe] = [part for part in pattern_of(sizes, "cm").sections if part.key == "toe"]
    moves = ["First move" in needle_notes(size.plan)["toe"] for size in sizes]
    assert 0 < sum(moves) < len(sizes)
    moving = [size.name for size, moved in zip(sizes, moves, strict=True) if moved]
    told = [sentence for sentence in re.split(r"(?<=\.) ", toe.opening) if "First move" in sentence]
    assert told
    for sentence in told:
        assert sentence.startswith("Size")
        assert [size.name for size in sizes if size.name in sentence] == moving


def test_a_sentence_for_all_sizes_behind_one_for_some_says_so() -> None:
    """Read aloud, "Sizes 20 cm and 24 cm" is taken to hold until the next size is named."""
    design = asked(leg={"stitch_pattern": {"name": "lace rib"}}, foot_pattern="instep follows the leg")
    pattern = pattern_of(sized(design, (18, 20, 22, 24, 26)), "cm")
    [flap] = [part for part in pattern.sections if part.key == "heel-flap"]
    assert re.match(r"Sizes 20 cm and 24 cm: First move .*\. All sizes: Slip the stitches of needle 2", flap.opening)
    assert flap.opening.count("izes") == 2


@pytest.mark.parametrize("direction", ["cuff-down", "toe-up"])
def test_the_edge_of_a_long_leg_is_told_of_once_for_all_sizes(direction: str) -> None:
    """Under the cuff the leg is nearly as wide as the calf in each of them, so that a loose edge will do."""
    design = asked(
        leg={"length_cm": 30, "chart": CHARTS["stranded"]},
        yarns=[{"key": "A"}, {"key": "B"}],
        construction={"direction": direction},
        cuff={"rib": "k3 p1"},
    )
    sizes = sized(design, (19, 21, 23, 25))
    [cuff] = [part for part in pattern_of(sizes, "cm").sections if part.key == "cuff"]
    told = " ".join(line.note for line in cuff.lines if line.note)
    assert len(re.findall(r"(?:Cast on|Bind off) loosely", told)) == 1
    assert "Size" not in told
    passes = re.findall(r"([\d., ()]+) cm must pass through an edge of ([\d., ()]+) cm", told)
    assert [len(re.findall(r"[\d.]+", numbers)) for numbers in passes[0]] == [len(sizes)] * 2


@pytest.mark.parametrize("construction", [each for each in CONSTRUCTIONS if each["toe"] == "short-row"])
def test_insteps_in_pattern_whose_rounds_are_out_of_step_are_not_told_round_by_round(
    construction: dict[str, str],
) -> None:
    """Now and then two rounds of them are alike; to wait for that would tell each repeat of the pattern again."""
    as_plain = {"stitches_per_10cm": 34, "rounds_per_10cm": 48}
    design = asked(
        leg={"length_cm": 12, "stitch_pattern": {"rows": ["k2, p2", "k2, p2", "p2, k2", "p2, k2"], **as_plain}},
        gauge={"stitches_per_10cm": 34, "rounds_per_10cm": 48},
        foot_pattern="instep follows the leg",
        construction=construction,
    )
    sizes = sized(design, (19, 21, 23, 25))
    [foot] = [part for part in check_every_size(sizes).sections if part.key == "foot"]
    assert len(foot.lines) <= 12
