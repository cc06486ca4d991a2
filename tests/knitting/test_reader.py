"""The independent reader turns the words of a round back into the very ops that they were written from."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.reader import NAMED, Op, ReadingError, read_words, read_zones

WRITTEN = {
    "k": "k{}",
    "p": "p{}",
    "ktbl": "k{}tbl",
    "ptbl": "p{}tbl",
    "sl": "sl{}",
    "slwyif": "sl{} wyif",
    "co": "cast on {}",
    "bo": "bind off {}",
    "sew": "sew down {}",
    "join": "k{} with the cast-on edge",
    "pu": "pick up and knit {}",
    "pup": "pick up and purl {}",
    "graft": "graft {} pairs",
    "draw": "draw together {}",
    "rest": "k{} with waste yarn",
    "resume": "k{} from waste yarn",
}


def write(ops: list[Op]) -> str:
    return ", ".join(map(write_one, ops))


def write_one(op: Op) -> str:
    if "times" in op:
        return f"[{write(op['ops'])}] x {op['times']}"
    name, count = op["op"], op.get("n", 1)
    form = WRITTEN.get(name, name if count == 1 else f"{name} x {{}}")
    words = form.format(count)
    return f"{words} in {op['yarn']}" if "yarn" in op else words


@st.composite
def single_ops(draw: st.DrawFn) -> Op:
    op: dict[str, Any] = {"op": draw(st.sampled_from([*WRITTEN, *NAMED.split("|"), "turn"]))}
    count = draw(st.integers(1, 200))
    if count > 1 and op["op"] != "turn":
        op["n"] = count
    if draw(st.booleans()):
        op["yarn"] = draw(st.sampled_from("ABC"))
    return op


def repeats(inside: st.SearchStrategy[Op]) -> st.SearchStrategy[Op]:
    ops = st.lists(inside, min_size=1, max_size=4)
    return st.builds(lambda times, ops: {"times": times, "ops": ops}, st.integers(1, 50), ops)


ANY_OPS = st.lists(st.recursive(single_ops(), repeats, max_leaves=8), min_size=1, max_size=6)


@settings(deadline=None)
@given(ANY_OPS)
def test_whatever_is_written_reads_back_to_the_same_ops(ops: list[Op]) -> None:
    assert read_words(write(ops)) == ops


@settings(deadline=None)
@given(st.lists(st.tuples(st.sampled_from(["leg", "heel", "instep", "sole", "toe"]), ANY_OPS), min_size=1, max_size=3))
def test_zones_read_back_with_their_ops_in_order(zones: list[tuple[str, list[Op]]]) -> None:
    text = "; ".join(f"{zone.title()}: {write(ops)}" for zone, ops in zones)
    assert read_zones(text) == [{"zone": zone, "ops": ops} for zone, ops in zones]


@pytest.mark.parametrize(
    ("text", "ops"),
    [
        ("k12, p3", [{"op": "k", "n": 12}, {"op": "p", "n": 3}]),
        ("k1", [{"op": "k"}]),
        ("k1tbl, k3tbl", [{"op": "ktbl"}, {"op": "ktbl", "n": 3}]),
        ("sl1, sl3, sl1 wyif", [{"op": "sl"}, {"op": "sl", "n": 3}, {"op": "slwyif"}]),
        ("k2tog x 3, k2", [{"op": "k2tog", "n": 3}, {"op": "k", "n": 2}]),
        ("k2tog x 3 in B", [{"op": "k2tog", "n": 3, "yarn": "B"}]),
        ("cast on 64", [{"op": "co", "n": 64}]),
        ("draw together 8", [{"op": "draw", "n": 8}]),
        ("k8 with waste yarn, k8 again", [{"op": "rest", "n": 8}, {"op": "co", "n": 8}]),
        ("graft 8 pairs", [{"op": "graft", "n": 8}]),
        ("k1, turn", [{"op": "k"}, {"op": "turn"}]),
        ("[k1, p1] x 16", [{"times": 16, "ops": [{"op": "k"}, {"op": "p"}]}]),
        (
            "k1, [[k1 in B] x 2, p1] x 3",
            [
                {"op": "k"},
                {"times": 3, "ops": [{"times": 2, "ops": [{"op": "k", "yarn": "B"}]}, {"op": "p"}]},
            ],
        ),
    ],
)
def test_each_form_of_words_is_read(text: str, ops: list[Op]) -> None:
    assert read_words(text) == ops


def test_a_round_in_two_zones_is_read() -> None:
    assert read_zones("Sole: k1, ssk, k22; Instep: k32") == [
        {"zone": "sole", "ops": [{"op": "k"}, {"op": "ssk"}, {"op": "k", "n": 22}]},
        {"zone": "instep", "ops": [{"op": "k", "n": 32}]},
    ]


def test_a_round_without_named_zones_has_one_without_a_name() -> None:
    assert read_zones("k32") == [{"zone": "", "ops": [{"op": "k", "n": 32}]}]


@pytest.mark.parametrize(
    "text",
    [
        "",
        "k",
        "k0",
        "k1,p1",
        "k1, ",
        "knit 3",
        "k2tog3",
        "turn x 2",
        "[k1] x",
        "[k1",
        "k1] x 2",
        "[k1] x 2 [p1] x 2",
        "[] x 2",
        "k1 in ",
    ],
)
def test_other_words_are_refused(text: str) -> None:
    with pytest.raises(ReadingError):
        read_words(text)


@pytest.mark.parametrize(
    ("words", "written_out"),
    [
        ("all in B: k1, ssk, k22", "k1 in B, ssk in B, k22 in B"),
        ("all in C: [k2, k2tog] x 8, k1", "[k2 in C, k2tog in C] x 8, k1 in C"),
    ],
)
def test_a_yarn_named_before_the_words_is_the_yarn_of_each(words: str, written_out: str) -> None:
    assert read_words(words) == read_words(written_out)
    assert read_zones(f"Sole: {words}; Instep: k2 in B") == read_zones(f"Sole: {written_out}; Instep: k2 in B")
