"""The data of a pair as a page carries it, in fewer bytes: what rounds have in common stands once. Pure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Any


def packed(data: Mapping[str, Any]) -> dict[str, Any]:
    """The same with each script's instructions by their entries, and each number of its rounds from the one before.

    An entry that is the same in all instructions has one value. `unpacked` of `static/js/pair/instructions.js` is the
    way back; gzip finds little to leave out between entries that stand side by side.
    """
    scripts = [
        {**script, "instructions": _by_entries(script["instructions"]), "rounds": _steps(script["rounds"])}
        for script in data["scripts"]
    ]
    return {**data, "scripts": scripts}


def _by_entries(instructions: Sequence[Mapping[str, Any]]) -> dict[str, list[Any]]:
    found = {entry: [each[entry] for each in instructions] for entry in instructions[0]}
    return {
        entry: values[:1] if all(value == values[0] for value in values) else values for entry, values in found.items()
    }


def _steps(rounds: Sequence[int]) -> list[int]:
    """How much more than one each number is above the one before: most rounds are the next instruction."""
    return [here - before - 1 for before, here in pairwise((-1, *rounds))]
