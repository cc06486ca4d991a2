"""A pair's data is packed for the page, and comes out of it as it went in."""

from __future__ import annotations

from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from companion.pair.packed import packed


def unpacked(data: dict[str, Any]) -> dict[str, Any]:
    """The data that was packed, as the script of the page unpacks it."""
    scripts = []
    for script in data["scripts"]:
        entries, number, rounds = script["instructions"], -1, []
        for step in script["rounds"]:
            number += step + 1
            rounds.append(number)
        many = max(map(len, entries.values()))
        instructions = [{entry: values[at % len(values)] for entry, values in entries.items()} for at in range(many)]
        scripts.append({**script, "instructions": instructions, "rounds": rounds})
    return {**data, "scripts": scripts}


@st.composite
def scripts(draw: st.DrawFn) -> dict[str, Any]:
    """Instructions with three entries, each of which is among the rounds."""
    entries = st.fixed_dictionaries(
        {
            "kind": st.sampled_from(("plain", "decrease")),
            "note": st.none() | st.text(),
            "lines": st.lists(st.integers()),
        }
    )
    instructions = draw(st.lists(entries, min_size=1, max_size=5, unique_by=str))
    rounds = draw(st.lists(st.integers(0, len(instructions) - 1)))
    return {"total": len(rounds), "instructions": instructions, "rounds": rounds}


PAIRS = st.fixed_dictionaries({"title": st.text(), "scripts": st.lists(scripts(), min_size=1, max_size=2)})


@given(PAIRS)
def test_what_is_packed_comes_out_as_it_went_in(data: dict[str, Any]) -> None:
    assert unpacked(packed(data)) == data
