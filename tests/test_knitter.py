"""The independent knitter knits what can be knitted and refuses, by the round, what cannot."""

import ast
import copy
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.knitter import KnittingError, knit
from tests.reader import read_words
from tests.shape import shape

Data = dict[str, Any]


def line(words: str, before: int, after: int, kind: str = "plain", side: str = "round") -> Data:
    """A round of the document from its words."""
    work = [{"zone": "leg", "ops": read_words(words)}]
    return {
        "side": side,
        "kind": kind,
        "work": work,
        "before": before,
        "after": after,
        "resting": 0,
        "chart_row": None,
        "note": None,
    }


def part(key: str, *rounds: Data, times: int = 1) -> Data:
    flat = any(data["side"] != "round" for data in rounds)
    steps = [{"times": times, "rounds": list(rounds)}]
    return {"key": key, "title": key.title(), "flat": flat, "length_cm": None, "steps": steps}


def plan(*sections: Data) -> Data:
    return {"schema": 1, "sections": list(sections)}


def cast_on(count: int) -> Data:
    return part("cuff", line(f"cast on {count}", 0, count, "setup"))


def bound_off(count: int) -> Data:
    return part("toe", line(f"bind off {count}", count, 0, "finish"))


def tube() -> Data:
    return plan(cast_on(8), part("leg", line("[k1, p1] x 4", 8, 8), times=5), bound_off(8))


def flap_and_turn() -> tuple[Data, Data]:
    flap = part(
        "heel-flap",
        line("sl1, k7, turn", 16, 16, side="RS"),
        line("sl1, p7, turn", 16, 16, side="WS"),
        times=4,
    )
    turn = part(
        "heel-turn",
        line("k5, ssk, k1, turn", 16, 15, "decrease", "RS"),
        line("sl1, p3, p2tog, p1, turn", 15, 14, "decrease", "WS"),
    )
    return flap, turn


def sock() -> Data:
    """A tiny cuff-down sock: 16 stitches, a flap of 8 by 8, a round heel turn, a gusset and a grafted toe."""
    flap, turn = flap_and_turn()
    gusset_shaping = (
        line("ssk, k12, k2tog, k8", 24, 22, "decrease"),
        line("k22", 22, 22),
        line("ssk, k10, k2tog, k8", 22, 20, "decrease"),
        line("k20", 20, 20),
        line("ssk, k8, k2tog, k8", 20, 18, "decrease"),
        line("k18", 18, 18),
        line("ssk, k6, k2tog, k8", 18, 16, "decrease"),
    )
    gusset = part(
        "gusset",
        line("k6, pick up and knit 5, turn", 14, 19, "pick-up", "RS"),
        line("p11, pick up and purl 5, turn", 19, 24, "pick-up", "WS"),
        *gusset_shaping,
    )
    toe = part(
        "toe",
        line("[k1, ssk, k2, k2tog, k1] x 2", 16, 12, "decrease"),
        line("[k1, ssk, k2tog, k1] x 2", 12, 8, "decrease"),
        line("graft 4", 8, 0, "finish"),
    )
    leg = part("leg", line("k16", 16, 16), times=12)
    foot = part("foot", line("k16", 16, 16), times=10)
    cuff = part("cuff", line("cast on 16", 0, 16, "setup"), *[line("[k1, p1] x 8", 16, 16)] * 4)
    return plan(cuff, leg, flap, turn, gusset, foot, toe)


def short_row_heel() -> Data:
    """A heel over 8 of 16 stitches: down to 4 in the middle and out again, with double stitches."""
    rows = (
        "k8 | ds, p7 | ds, k6 | ds, p5 | ds, k4 | ds, p3"
        " | ds, k2, kds x 2 | ds, p3, pds x 2 | ds, k4, kds x 2 | ds, p5, pds x 2"
    )
    sides = ("RS", "WS") * 5
    lines = [
        line(f"{words}, turn", 16, 16, "short-row", side) for words, side in zip(rows.split(" | "), sides, strict=True)
    ]
    return plan(cast_on(16), part("heel", *lines), part("foot", line("k7, kds, k8", 16, 16)), bound_off(16))


def provisional_toe() -> Data:
    """The loops below a cast-on of 8 wait on a holder until the first eight have been knitted."""
    return plan(
        cast_on(8),
        part(
            "toe",
            line("rest 4, k4", 8, 4, "setup") | {"resting": 4},
            line("k4", 4, 4) | {"resting": 4},
            line("k4, resume 4", 4, 8, "setup"),
            line("k8", 8, 8),
            line("bind off 8", 8, 0, "finish"),
        ),
    )


def round_turn(heel: int) -> Data:
    """The round heel turn as the trade words it: past the middle, then to the gap row by row."""
    half = heel // 2
    past = 1 if (half - 4) % 2 == 0 else 2
    live = heel
    rows = []
    for number in range(2 + half - 3 - past):
        side = "WS" if number % 2 else "RS"
        knit_or_purl, together = ("p", "p2tog") if number % 2 else ("k", "ssk")
        start = f"sl1, {knit_or_purl}{2 * past + number}" if number else f"k{half + past}"
        rows.append(line(f"{start}, {together}, {knit_or_purl}1, turn", live, live - 1, "decrease", side))
        live -= 1
    return plan(cast_on(heel), part("heel-turn", *rows), part("foot", line(f"k{live}", live, live)), bound_off(live))


def at(document: Data, number: int) -> Data:
    """Round `number` (from 1) of a document whose repeats are first written out as single steps."""
    for section in document["sections"]:
        rounds = [copy.deepcopy(r) for step in section["steps"] for _ in range(step["times"]) for r in step["rounds"]]
        section["steps"] = [{"times": 1, "rounds": rounds}]
    flat: list[Data] = [r for section in document["sections"] for r in section["steps"][0]["rounds"]]
    return flat[number - 1]


def test_a_tube_keeps_its_stitches_and_counts_every_op() -> None:
    knitted = knit(tube())
    assert knitted.ops == {"co": 8, "k": 20, "p": 20, "bo": 8}
    assert knitted.max_stitches == 8
    assert [len(worked.live) for worked in knitted.rounds] == [8] * 6 + [0]


def test_a_round_of_a_tube_is_worked_into_the_stitches_below_in_order() -> None:
    below, above = knit(tube()).section("leg")[:2]
    assert [stitch.parents for stitch in above.made] == [(stitch,) for stitch in below.made]


def test_a_row_comes_back_over_the_stitches_of_the_row_before() -> None:
    there, back = knit(sock()).section("heel-flap")[:2]
    assert [stitch.parents for stitch in back.made] == [(stitch,) for stitch in reversed(there.made)]


def test_a_sock_with_flap_gusset_and_grafted_toe_has_the_shape_of_its_stitches() -> None:
    measured = shape(knit(sock()), stitches_per_cm=2.0, rounds_per_cm=4.0)
    assert measured.cuff_length_cm == 1.0  # 4 rounds, the cast-on without height
    assert measured.leg_length_cm == 3.0
    assert measured.leg_cm == measured.foot_cm == 8.0
    assert measured.heel_pass_cm == 8 / 2 + 6 / 2 + 2 * 8 / 4  # instep, turned heel, two edges of the flap
    assert measured.foot_length_cm == (2 + 9 + 10 + 2) / 4  # turn, gusset, foot, toe without its graft
    assert measured.gusset_mirrored
    assert measured.toe_mirrored


def test_a_graft_joins_the_first_of_the_front_with_the_last_of_the_back() -> None:
    *_, before, graft = knit(sock()).rounds
    assert graft.grafted == tuple(zip(before.live[:4], reversed(before.live[4:]), strict=True))


@pytest.mark.parametrize(
    "words", ["[k2, ssk, k1, k2tog, k1] x 2", "[k1, k2tog, k2, k2tog, k1] x 2", "k1, ssk x 2, k6, k2tog x 2, k1"]
)
def test_a_toe_that_leans_to_one_side_is_not_mirrored(words: str) -> None:
    document = sock()
    at(document, 47)["work"][0]["ops"] = read_words(words)
    measured = shape(knit(document), 2.0, 4.0)
    assert not measured.toe_mirrored
    assert measured.gusset_mirrored


def test_a_round_only_slipped_adds_no_height() -> None:
    document = sock()
    at(document, 10)["work"][0]["ops"] = read_words("sl16")
    assert shape(knit(document), 2.0, 4.0).leg_length_cm == 11 / 4


def test_a_foot_without_rounds_is_as_wide_as_the_end_of_the_gusset() -> None:
    document = sock()
    document["sections"][5]["steps"] = []
    measured = shape(knit(document), 2.0, 4.0)
    assert measured.foot_cm == 8.0
    assert measured.foot_length_cm == (2 + 9 + 2) / 4


def test_a_gusset_that_decreases_twice_to_the_same_side_is_not_mirrored() -> None:
    document = sock()
    at(document, 30)["work"][0]["ops"] = read_words("ssk, k12, ssk, k8")
    assert not shape(knit(document), 2.0, 4.0).gusset_mirrored


def test_a_tube_cannot_be_measured_as_a_sock() -> None:
    with pytest.raises(ValueError, match="without gusset, heel-flap, heel-turn"):
        shape(knit(tube()), 2.0, 4.0)


@pytest.mark.parametrize(
    ("heel", "left", "rows"),
    [
        (8, 6, 2),  # by hand
        (28, 16, 12),  # by hand, with the same start
        (30, 18, 12),  # colourchoices.blogspot.com, basic sock pattern 1: "full twelve rows"
        (32, 18, 14),  # knittingunplugged.com, 2015/04/29: 32 leave 18
        (34, 20, 14),  # joyfulintribulation.wordpress.com, 2021/03/13: 34 leave 20
    ],
)
def test_a_round_heel_turn_leaves_what_knitters_report(heel: int, left: int, rows: int) -> None:
    turn = knit(round_turn(heel)).section("heel-turn")
    assert (len(turn[-1].live), len(turn)) == (left, rows)


def test_a_short_row_heel_works_every_double_stitch_once() -> None:
    knitted = knit(short_row_heel())
    assert knitted.ops["ds"] == knitted.ops["kds"] + knitted.ops["pds"] == 9
    assert {len(worked.live) for worked in knitted.section("heel")} == {16}
    assert min(len(worked.made) for worked in knitted.section("heel")) == 4


def test_stitches_come_back_from_the_holder_in_the_order_of_the_fabric() -> None:
    knitted = knit(provisional_toe())
    toe = knitted.section("toe")
    waiting = knitted.rounds[0].made[:4]
    assert toe[2].live == (*toe[2].made, *waiting)
    assert [stitch.parents[0] for stitch in toe[3].made[4:]] == list(waiting)


def test_stitches_rested_on_the_wrong_side_also_come_back_in_order() -> None:
    knitted = knit(
        plan(
            cast_on(8),
            part(
                "heel",
                line("k8, turn", 8, 8, side="RS"),
                line("rest 4, p4, turn", 8, 4, "setup", "WS") | {"resting": 4},
            ),
            part("foot", line("k4, resume 4", 4, 8, "setup"), line("k8", 8, 8)),
            bound_off(8),
        )
    )
    waiting = knitted.section("heel")[0].made[4:]
    assert knitted.section("foot")[0].live[4:] == waiting


def test_slips_inside_short_rows_make_no_edge_to_pick_up() -> None:
    rows = (
        line("k7, turn", 8, 8, "short-row", "RS"),
        line("sl1, p5, turn", 8, 8, "short-row", "WS"),
        line("sl1, k5, turn", 8, 8, "short-row", "RS"),
        line("p7, pick up and purl 2, turn", 8, 10, "pick-up", "WS"),
    )
    with pytest.raises(KnittingError, match=r"round 5 \(heel\): no edge loop"):
        knit(plan(cast_on(8), part("heel", *rows), bound_off(10)))


def test_the_edges_of_a_flap_are_out_of_reach_once_another_flat_part_has_begun() -> None:
    flap = part("heel-flap", line("sl1, k7, turn", 8, 8, side="RS"), line("sl1, p7, turn", 8, 8, side="WS"))
    later = part(
        "toe",
        line("k8, turn", 8, 8, side="RS"),
        line("p8, pick up and purl 2, turn", 8, 10, "pick-up", "WS"),
    )
    with pytest.raises(KnittingError, match=r"round 6 \(toe\): no edge loop"):
        knit(plan(cast_on(8), flap, part("foot", line("k8", 8, 8)), later, bound_off(10)))


def test_an_edge_cast_on_inside_the_fabric_can_be_picked_up_with_its_two_gaps() -> None:
    opening = part(
        "leg", line("rest 4, cast on 4, k4", 8, 8, "setup") | {"resting": 4}, line("k8", 8, 8) | {"resting": 4}
    )
    leg_end = part("toe", line("bind off 8", 8, 0, "finish") | {"resting": 4})
    heel = part(
        "heel",
        line("resume 4, pick up and knit 6", 0, 10, "pick-up"),
        line("graft 5", 10, 0, "finish"),
    )
    assert knit(plan(cast_on(8), opening, leg_end, heel)).ops["pu"] == 6


Change = Callable[[Data], object]


def set_ops(words: str) -> Change:
    return lambda data: data["work"][0].update(ops=read_words(words))


def set_op(**op: Any) -> Change:
    return lambda data: data["work"][0].update(ops=[op])


# Which document, which round, what is changed in it, and what the knitter says.
BROKEN: dict[str, tuple[Callable[[], Data], int, Change, str]] = {
    "before": (tube, 3, lambda r: r.update(before=9), "begins with 9 stitches, but 8"),
    "first before": (tube, 1, lambda r: r.update(before=1), "begins with 1 stitches, but 0"),
    "after": (tube, 3, lambda r: r.update(after=9), "ends with 9 stitches, but 8"),
    "resting": (tube, 3, lambda r: r.update(resting=1), "1 stitches rest, but 0"),
    "stitches left in a round": (tube, 3, set_ops("k7"), "1 stitches not worked"),
    "stitches lacking in a round": (tube, 3, set_ops("k7, k2tog"), "k2tog takes 2 .* holds 1"),
    "unknown op": (tube, 3, set_op(op="yarn bomb", n=8), "nobody knows how to work 'yarn bomb'"),
    "no stitches": (tube, 3, set_op(op="k", n=0), "k 0 times"),
    "half a stitch": (tube, 3, set_op(op="k", n=7.5), "k 7.5 times"),
    "unknown key in an op": (tube, 3, set_op(op="k", n=8, colour="A"), "unknown key colour"),
    "no yarn key": (tube, 3, set_op(op="k", n=8, yarn=""), "not the key of a yarn"),
    "unknown key in a repeat": (tube, 3, set_op(times=1, ops=[{"op": "k"}], n=2), "unknown key n"),
    "a repeat of nothing": (tube, 3, set_op(times=8, ops=[]), r"ops is \[\], not a list"),
    "unknown key in a round": (tube, 3, lambda r: r.update(colour="A"), "unknown key colour"),
    "key missing in a round": (tube, 3, lambda r: r.pop("resting"), "resting missing"),
    "unknown zone": (tube, 3, lambda r: r["work"][0].update(zone="ear"), "zone 'ear' is none of"),
    "unknown side": (tube, 3, lambda r: r.update(side="left"), "side 'left' is none of"),
    "unknown kind": (tube, 3, lambda r: r.update(kind="fancy"), "kind 'fancy' is none of"),
    "chart row": (tube, 3, lambda r: r.update(chart_row="first"), "chart_row 'first' is not a whole number"),
    "chart row true": (tube, 3, lambda r: r.update(chart_row=True), "chart_row True is not a whole number"),
    "note": (tube, 3, lambda r: r.update(note=5), "note 5 is not text"),
    "negative count": (tube, 3, lambda r: r.update(after=-1), "after is -1, not a number"),
    "plain that changes": (sock, 30, lambda r: r.update(kind="plain"), "kind plain .* 24 to 22"),
    "increase that does not": (tube, 3, lambda r: r.update(kind="increase"), "kind increase does not fit"),
    "decrease that does not": (tube, 3, lambda r: r.update(kind="decrease"), "kind decrease does not fit"),
    "pick-up that does not": (tube, 3, lambda r: r.update(kind="pick-up"), "kind pick-up does not fit"),
    "finish that knits on": (sock, 30, lambda r: r.update(kind="finish"), "kind finish does not fit"),
    "a strand from nothing": (tube, 1, set_ops("m1l, cast on 7"), "m1l raises a strand"),
    "turn in a round": (tube, 3, set_ops("k8, turn"), "a round has no turn"),
    "row without turn": (sock, 18, set_ops("sl1, k7"), "ends with its only turn"),
    "turn before the end of a row": (sock, 18, set_ops("sl1, turn, k7"), "ends with its only turn"),
    "RS after RS": (sock, 19, lambda r: r.update(side="RS"), "side RS cannot follow RS"),
    "WS after a round": (sock, 18, lambda r: r.update(side="WS"), "side WS cannot follow round"),
    "round after RS": (sock, 19, lambda r: r.update(side="round"), "side round cannot follow RS"),
    "row beyond what was worked": (sock, 19, set_ops("sl1, p8, turn"), "p takes 1 .* holds 0"),
    "a double stitch knitted plainly": (
        short_row_heel,
        12,
        set_ops("k16"),
        "k meets what is a double stitch",
    ),
    "round before a row came back": (
        sock,
        29,
        set_ops("p10, pick up and purl 5, turn"),
        "1 stitches are on the right",
    ),
    "double stitch from a plain one": (tube, 3, set_ops("k7, kds"), "kds meets what is not a double stitch"),
    "more loops than the left edge": (sock, 28, set_ops("k6, pick up and knit 6, turn"), "no edge loop"),
    "more loops than the right edge": (sock, 29, set_ops("p11, pick up and purl 6, turn"), "no edge loop"),
    "an edge not slipped": (sock, 20, set_ops("k8, turn"), "no edge loop"),
    "no edge at all": (tube, 3, set_ops("k8, pick up and knit 1"), "no edge loop"),
    "a graft in passing": (sock, 49, set_ops("k2, graft 3"), "nothing else"),
    "half a graft": (sock, 49, set_ops("graft 3"), "2 stitches not worked"),
    "a row grafted": (sock, 18, set_ops("graft 8, turn"), "halves of a round are grafted"),
    "resume from an empty holder": (tube, 3, set_ops("k8, resume 1"), "nothing is left on a holder"),
}

# Where the flaw shows only later: the round that the knitter must name.
SHOWS_AT = {
    "round before a row came back": 30,
    "an edge not slipped": 29,
}


@pytest.mark.parametrize("name", BROKEN)
def test_what_cannot_be_knitted_is_refused_by_its_round(name: str) -> None:
    make, number, change, sentence = BROKEN[name]
    document = make()
    knit(document)
    change(at(document, number))
    with pytest.raises(KnittingError, match=sentence) as refused:
        knit(document)
    assert refused.value.place.number == SHOWS_AT.get(name, number)
    assert str(refused.value).startswith(f"round {refused.value.place.number} (")


def test_halves_of_unequal_number_are_not_grafted() -> None:
    document = sock()
    at(document, 48).update(work=[{"zone": "toe", "ops": read_words("[k1, ssk] x 3, k3")}], after=9)
    at(document, 49).update(before=9, after=1)
    with pytest.raises(KnittingError, match=r"round 49 \(toe\): two equal halves .* 9 are live"):
        knit(document)


def test_a_sock_does_not_end_with_live_stitches() -> None:
    document = tube()
    document["sections"].pop()
    with pytest.raises(KnittingError, match=r"round 6 \(leg\): .* 8 stitches still live"):
        knit(document)


def test_a_sock_does_not_end_with_stitches_on_a_holder() -> None:
    document = plan(cast_on(4), part("leg", line("rest 4", 4, 0, "setup") | {"resting": 4}))
    with pytest.raises(KnittingError, match=r"round 2 \(leg\): .* 4 stitches still on a holder"):
        knit(document)


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        (lambda section: section.update(colour="A"), "section leg: unknown key colour"),
        (lambda section: section.pop("length_cm"), "section leg: length_cm missing"),
        (lambda section: section.update(length_cm="long"), "length_cm is 'long', not a length"),
        (
            lambda section: section.update(flat=True),
            "section leg: flat is True, but rows are not turned here",
        ),
        (lambda section: section.update(flat="no"), "flat is true or false"),
        (lambda section: section.update(title=None), "key and title are words"),
        (lambda section: section.update(steps=None), "steps is None, not a list"),
        (lambda section: section["steps"][0].update(note="x"), r"round 2 \(leg\): unknown key note"),
        (lambda section: section["steps"][0].update(times=0), r"round 2 \(leg\): a repeat of 0 times"),
        (
            lambda section: section["steps"][0].update(rounds=[None]),
            r"round 2 \(leg\): None is not an object",
        ),
    ],
)
def test_a_section_out_of_form_is_refused(change: Change, sentence: str) -> None:
    document = tube()
    change(document["sections"][1])
    with pytest.raises(KnittingError, match=sentence):
        knit(document)


@pytest.mark.parametrize("sections", [None, [], ["leg"]])
def test_a_document_without_sections_is_refused(sections: Any) -> None:
    with pytest.raises(KnittingError, match="not"):
        knit({"sections": sections})


@pytest.mark.parametrize("name", ["knitter", "reader", "shape", "written_plan"])
def test_the_witnesses_import_nothing_of_the_program(name: str) -> None:
    tree = ast.parse((Path(__file__).parent / f"{name}.py").read_text())
    imported = {node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    imported |= {alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names}
    assert imported
    assert not any(str(module).startswith("companion") for module in imported)
