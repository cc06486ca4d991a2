"""A swatch of a stitch pattern, knitted flat: whole repeats between two edge stitches, in rows from both sides."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from ..fit.targets import fit_of, nearest
from ..gauge.observations import listed
from ..request.plan_request import PlanRequest
from ..stitches.operations import Names, Rounds, taken
from ..stitches.sides import FROM_BEHIND, from_behind
from ..units import Unit, counted, show_length
from .abbreviations import meanings_of
from .stitch_pattern_text import names_words

ABOUT_CM, MEASURED_CM = 12.0, 10.0
"""How wide a swatch is, and how much of it is counted (common practice)."""

SWATCH = "A swatch in pattern, knitted flat"
"""What it is called."""

EDGE: Names = ("k",)
"""The stitch on either side, knitted in every row."""

FROM_BOTH_SIDES = FROM_BEHIND.keys() - {"m1r"}
"""What rows of the wrong side can have so that it looks the same; a purled strand has only one lean here."""

NOT_FLAT = (
    "Some of its rounds cannot be worked from the wrong side. Work all of them from the right side: after each "
    "slide the stitches back to the right end of the needle, and lay the yarn loosely across the back."
)
FINISH = (
    "Work these rows over and over until it is as high as it is wide, and bind off. Wash and dry it like the socks, "
    "and count between the edge stitches. In the round it may come out different: count again on the sock."
)


@dataclass(frozen=True)
class Swatch:
    """A swatch of so many `repeats`, `width_cm` wide with its edge stitches.

    `rounds` are those of the pattern as the right side shows them, in the order in which rows have them; every other
    row is from the wrong side where it `is_flat`. The first row has the round `begins` (from 0).
    """

    rounds: Rounds
    begins: int
    is_flat: bool
    repeats: int
    width_cm: float

    @property
    def stitches(self) -> int:
        """Stitches to cast on."""
        return self.repeats * taken(self.rounds[0]) + 2

    def side(self, number: int) -> str:
        """The side from which a row (from 1) is worked."""
        return "WS" if self.is_flat and number % 2 == 0 else "RS"

    def row_words(self, number: int) -> str:
        """The words of a row (from 1), which are read back to its operations in the order of working."""
        names = self.rounds[number - 1]
        if self.side(number) == "WS":
            names = from_behind(names)
        return f"{names_words(EDGE)}, {names_words(names, self.repeats)}, {names_words(EDGE)}"


@dataclass(frozen=True)
class WrittenSwatch:
    """A swatch, how it is knitted, and its rows in words."""

    swatch: Swatch
    how: str
    rows: tuple[str, ...]


def swatch_of(request: PlanRequest) -> Swatch | None:
    """The swatch of a leg's stitch pattern, at the gauge of the plan; None where it has none."""
    pattern = request.leg.stitch_pattern
    if pattern is None:
        return None
    across = fit_of(request).leg.fabric.stitches
    repeats = max(nearest(ABOUT_CM * across / pattern.width), math.ceil(MEASURED_CM * across / pattern.width))
    wide = (repeats * pattern.width + 2) / across
    pairs = pattern.rounds * (1 + len(pattern.rounds) % 2)
    for begins in (0, 1):
        rounds = pairs[begins:] + pairs[:begins]
        if all(FROM_BOTH_SIDES.issuperset(names) for names in rounds[1::2]):
            return Swatch(rounds, begins, True, repeats, wide)
    return Swatch(pattern.rounds, 0, False, repeats, wide)


def written_swatch(swatch: Swatch, unit: Unit) -> WrittenSwatch:
    """The swatch in words."""
    return WrittenSwatch(swatch, _how(swatch, unit), tuple(_row_lines(swatch)))


def swatch_meanings(swatch: Swatch) -> dict[str, str]:
    """The abbreviations that its rows use, and what they mean."""
    numbers = range(1, len(swatch.rounds) + 1)
    return meanings_of(map(swatch.row_words, numbers), map(swatch.side, numbers))


def _how(swatch: Swatch, unit: Unit) -> str:
    """How many stitches are cast on, and what is done with them."""
    return " ".join(
        [
            f"Cast on {swatch.stitches} stitches for about {show_length(swatch.width_cm, unit)}: "
            f"{counted(swatch.repeats, 'repeat')} and an edge stitch on either side.",
            *([] if swatch.is_flat else [NOT_FLAT]),
            *([f"Its first row is round {swatch.begins + 1} of the pattern."] if swatch.begins else []),
            FINISH,
        ]
    )


def _row_lines(swatch: Swatch) -> Iterator[str]:
    """The words of its rows, those alike on one line, each with the end of the chart from which it is read."""
    alike: dict[tuple[str, str], list[int]] = {}
    for number in range(1, len(swatch.rounds) + 1):
        alike.setdefault((swatch.side(number), swatch.row_words(number)), []).append(number)
    for (side, words), numbers in alike.items():
        end = "right" if side == "RS" else "left"
        yield f"Row{'s' * (len(numbers) > 1)} {listed([*map(str, numbers)])} ({side}), read from the {end}: {words}"
