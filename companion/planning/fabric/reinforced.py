"""A reinforcing thread over rounds that are already shaped: where it is held along, and where it is cut."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TypeAlias

from ..plan.document import Round

Holds: TypeAlias = Callable[[Round], bool]
"""Whether a round is knitted with the thread held along with its yarn."""

CUT_IT = "Cut the reinforcing thread and go on with the yarn alone."


def told(rounds: tuple[Round, ...], done: int, passes: int, holds: Holds, *, there: bool) -> tuple[Round, ...]:
    """The rounds, those behind the first `done` saying where the thread is joined and where it is cut.

    It is `there` where the round before them has it. Where they begin with it, the first works so many stitches on
    the way there without.
    """
    noted = list(rounds)
    for number, item in enumerate(rounds):
        held = holds(item)
        if held != there and number >= done:
            sentence = _joined(passes if number == 0 else 0) if held else CUT_IT
            noted[number] = replace(item, note=" ".join(filter(None, [item.note, sentence])))
        there = held
    return tuple(noted)


def _joined(passes: int) -> str:
    beginning = f"After the first {passes} stitches" if passes else "From here"
    return f"{beginning} hold the reinforcing thread along with the yarn, as one: leave an end of it to weave in."
