"""Ribbing as it is written in a pattern."""

from __future__ import annotations

import pytest

from companion.planning.request.rib import WIDEST_REPEAT, parse_rib, rib_width


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("k1 p1", (("k", 1), ("p", 1))),
        ("k2, p2", (("k", 2), ("p", 2))),
        ("K3 P1", (("k", 3), ("p", 1))),
        ("  k2   p1 ", (("k", 2), ("p", 1))),
        ("k1tbl p1", (("ktbl", 1), ("p", 1))),
        ("k1 p1tbl", (("k", 1), ("ptbl", 1))),
        ("k2p2", (("k", 2), ("p", 2))),
        ("k1tblp1", (("ktbl", 1), ("p", 1))),
        ("p1 k4 p1", (("p", 1), ("k", 4), ("p", 1))),
        ("k10 p2", (("k", 10), ("p", 2))),
    ],
)
def test_ribbing_is_read_as_it_is_written(text: str, parts: tuple[tuple[str, int], ...]) -> None:
    assert parse_rib(text) == parts
    assert rib_width(text) == sum(n for _, n in parts)


@pytest.mark.parametrize(
    "text", ["k2 z2", "k p", "2 2", "k0 p2", "k2tog p2", "k-1 p1", "k2 p2 turn", "k2\x00 p2", "k100 p1"]
)
def test_other_words_are_refused_with_an_example(text: str) -> None:
    with pytest.raises(ValueError, match="as knit and purl stitches with their number, like k2 p2"):
        parse_rib(text)


@pytest.mark.parametrize("text", ["", "k2", "p4", "k1tbl k1", ","])
def test_ribbing_needs_both_kinds(text: str) -> None:
    with pytest.raises(ValueError, match="both knit and purl stitches, like k2 p2"):
        parse_rib(text)


def test_the_widest_repeat_is_allowed_and_no_wider_one() -> None:
    assert rib_width("k7 p5") == WIDEST_REPEAT
    with pytest.raises(ValueError, match=f"at most {WIDEST_REPEAT} stitches"):
        parse_rib("k7 p6")
