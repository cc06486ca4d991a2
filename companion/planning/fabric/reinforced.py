"""A reinforcing thread over rounds that are already shaped: where it is held along, and where it is cut."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TypeAlias

from ..plan.document import Round
from ..plan.rounds import map_unique

Holds: TypeAlias = Callable[[Round], bool]
"""Whether a round is knitted with the thread held along with its yarn."""

CUT_IT = "Cut the reinforcing thread and go on with the yarn alone."

WAITS = "Let the reinforcing thread hang while the rounds go over all stitches."
"""Between the halves of a heel, which ends and goes on at the same place."""

AGAIN = "Take up the reinforcing thread again."


def with_thread_notes(
    rounds: tuple[Round, ...], done: int, passes: int, holds: Holds, *, there: bool
) -> tuple[Round, ...]:
    """The rounds, those behind the first `done` saying where the thread is joined and where it is cut.

    It is `there` where the round before them has it. Where they begin with it, the first works so many stitches on
    the way there without. It is cut before anything else that a round is said to begin with, such as closing the toe.
    """
    noted = list(rounds)
    all_held = [*map_unique(rounds, holds)]
    last = max((number for number, held in enumerate(all_held) if held), default=-1)
    for number, (item, held) in enumerate(zip(rounds, all_held, strict=True)):
        if held != there and number >= done:
            again = any(all_held[:number])
            if held:
                said = [item.note, AGAIN if again else _joined(passes if number == 0 else 0)]
            else:
                said = [item.note, WAITS] if number < last else [CUT_IT, item.note]
            noted[number] = replace(item, note=" ".join(filter(None, said)))
        there = held
    return tuple(noted)


def _joined(passes: int) -> str:
    beginning = f"After the first {passes} stitches" if passes else "From here"
    return f"{beginning} hold the reinforcing thread along with the yarn, as one: leave an end of it to weave in."
